#include "config/build.h"

#include "config/values.h"

bool
build_judge(struct build *build, const struct item *item, bool good,
    const struct error *error)
{
	if (!good)
		document_complain(build->document, item, error->text);
	return good;
}

const char *
build_text(const struct section *section, const char *name)
{
	const struct item *item = section_item(section, name);
	const struct setting *setting = setting_find(section->place, name);
	return item != NULL ? item->value[0] : setting->fallback;
}

const char *
build_keep(struct build *build, const struct section *section, const char *name)
{
	return arena_string(&build->config->arena, build_text(section, name));
}

const char *
build_words(
    struct build *build, const struct section *section, const char *name)
{
	const char *text = build_keep(build, section, name);
	return text != NULL ? text : "";
}

int64_t
build_date(struct build *build, const struct section *section, const char *name,
    int64_t fallback)
{
	const struct item *item = section_item(section, name);
	struct error error = { 0 };
	int64_t day = fallback;
	if (item != NULL)
		(void)build_judge(build, item,
		    value_date(item->value[0], &day, &error), &error);
	return day;
}

double
build_quantity(
    struct build *build, const struct section *section, const char *name)
{
	const struct item *item = section_item(section, name);
	const struct setting *setting = setting_find(section->place, name);
	const char *text = build_text(section, name);
	struct error error = { 0 };
	double value = 0;
	if (text != NULL && item == NULL)
		(void)value_quantity(setting, text, &value, NULL);
	else if (text != NULL)
		(void)build_judge(build, item,
		    value_quantity(setting, text, &value, &error), &error);
	return value;
}

size_t
build_choice(struct build *build, const struct section *section,
    const char *name, size_t fallback)
{
	const struct item *item = section_item(section, name);
	struct error error = { 0 };
	size_t position = fallback;
	if (item != NULL)
		(void)build_judge(build, item,
		    value_choice(item->setting->words, item->value[0],
			&position, &error),
		    &error);
	return position;
}

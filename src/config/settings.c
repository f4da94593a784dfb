#include "config/settings.h"

#include "config/settings_table.h"

#include <stdio.h>
#include <string.h>

const struct setting *
setting_at(size_t i)
{
	if (i < settings_of_place_count)
		return &settings_of_place[i];
	i -= settings_of_place_count;
	return i < settings_of_card_count ? &settings_of_card[i] : NULL;
}

const struct setting *
setting_find(enum setting_place place, const char *name)
{
	const struct setting *setting;
	for (size_t i = 0; (setting = setting_at(i)) != NULL; i++)
		if (setting->place == place && strcmp(setting->name, name) == 0)
			return setting;
	return NULL;
}

const char *
setting_place_name(enum setting_place place)
{
	static const char *const name[] = { "", "site", "sprayer", "product",
		"package", "practice" };
	return name[place];
}

bool
setting_is_list(const struct setting *setting)
{
	static const bool is_list[SETTING_KINDS] = {
		[SETTING_CLOCK_SPANS] = true,
		[SETTING_SOURCES] = true,
		[SETTING_SOIL] = true,
		[SETTING_TOLD] = true,
		[SETTING_WORDS] = true,
		[SETTING_SIDES] = true,
		[SETTING_DATES] = true,
		[SETTING_PARTNERS] = true,
		[SETTING_ACTIVES] = true,
		[SETTING_ACTIVE_RATES] = true,
		[SETTING_SENTENCES] = true,
		[SETTING_NOTES] = true,
		[SETTING_WEIGHINGS] = true,
		[SETTING_SPOONS] = true,
	};
	return is_list[setting->kind];
}

static void
print_one(const struct setting *setting, struct text *ret)
{
	text_format(ret, ".It Cm %s\n%s\n", setting->name, setting->help);
	if (setting->range != NULL)
		text_format(ret, "Takes %s.\n", setting->range);
	if (setting->fallback != NULL)
		text_format(ret, "Default: %s.\n", setting->fallback);
	if (setting->required)
		text_add(ret, "Required.\n");
}

void
settings_print_mdoc(struct text *ret)
{
	static const enum setting_place order[] = { PLACE_TOP, PLACE_SPRAYER,
		PLACE_SITE, PLACE_PRODUCT, PLACE_PACKAGE, PLACE_PRACTICE };
	for (size_t p = 0; p < PLACES; p++) {
		const char *name = setting_place_name(order[p]);
		if (order[p] == PLACE_TOP)
			text_add(ret, ".Ss Settings outside of any section\n");
		else
			text_format(
			    ret, ".Ss Settings of a %s section\n", name);
		text_add(ret, ".Bl -tag -width Ds\n");
		for (size_t i = 0; setting_at(i) != NULL; i++)
			if (setting_at(i)->place == order[p])
				print_one(setting_at(i), ret);
		text_add(ret, ".El\n");
	}
}

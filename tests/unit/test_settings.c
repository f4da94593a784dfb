/* The table of settings against itself: what it promises, it reads. */
#include "unit/test.h"

#include "config/cards.h"
#include "config/document.h"
#include "config/sentence.h"
#include "config/values.h"
#include "config/zone.h"
#include "weather/format.h"

static void
fail_row(const struct setting *setting, const char *text, const char *why)
{
	fail_msg("%s %s: '%s' %s", setting_place_name(setting->place),
	    setting->name, text == NULL ? "" : text, why);
}

/* The same, for what is told of a place, a day or a source. */
static bool
reads_told(const struct setting *setting, const char *text, struct error *error)
{
	struct zone zone = { 0 };
	struct turf_told told;
	struct soil_reading soil;
	struct clock_span span;
	struct weighing weighing;
	double bearing;
	const char *what;
	int seconds;
	bool is_mass;
	if (setting->kind == SETTING_WEIGHINGS)
		return value_weighing(text, &weighing, &is_mass, error);
	if (setting->kind == SETTING_CLOCK_SPANS)
		return value_clock_span(text, &span, error);
	if (setting->kind == SETTING_TIME_OF_DAY)
		return civil_parse_clock(text, &seconds, error);
	if (setting->kind == SETTING_ZONE)
		return zone_load(text, &zone, error);
	if (setting->kind == SETTING_TOLD)
		return value_told(text, &zone, &told, error);
	if (setting->kind == SETTING_SOIL)
		return value_soil(text, &zone, &soil, error);
	if (setting->kind == SETTING_SIDES)
		return value_side(text, &bearing, &what, error);
	return format_find(text) != NULL; /* one without an address */
}

/* The same, for what is told of a card. */
static bool
reads_card(const struct setting *setting, const char *text, struct error *error)
{
	char name[LIMIT_NAME_BYTES + 1];
	struct active active;
	struct date_span dates;
	struct rule rule;
	enum bound bound = BOUND_AT_MOST;
	double amount, seconds;
	switch (setting->kind) {
	case SETTING_WITHIN:
		return value_within(text, &bound, &amount, &seconds, error);
	case SETTING_DATES:
		return value_dates(text, &dates, error);
	case SETTING_PARTNERS:
		return value_partner(text, error);
	case SETTING_ACTIVES:
		return value_active(text, name, &active, error);
	case SETTING_ACTIVE_RATES:
		return value_active_rate(text, name, &amount, error);
	case SETTING_SENTENCES:
		return sentence_parse(text, &rule, error);
	default:
		return reads_told(setting, text, error);
	}
}

/* Does the text read as the setting's kind says? */
static bool
reads(const struct setting *setting, const char *text, struct error *error)
{
	double value;
	enum bound bound = BOUND_AT_MOST;
	enum quantity_kind kind;
	size_t position;
	bool yes;
	int64_t day;
	switch (setting->kind) {
	case SETTING_QUANTITY:
		return value_quantity(setting, text, &value, error);
	case SETTING_LIMIT:
		return value_limit(setting, text, &bound, &value, error);
	case SETTING_RATE:
		return value_rate(text, &value, &kind, error);
	case SETTING_CHOICE:
	case SETTING_WORDS:
		return value_choice(setting->words, text, &position, error);
	case SETTING_YES_NO:
		return value_yes_no(text, &yes, error);
	case SETTING_NAME:
		return value_name(text, error);
	case SETTING_DATE:
		return value_date(text, &day, error);
	case SETTING_AMOUNT:
		return value_amount(text, &value, &yes, error);
	case SETTING_SPOONS:
		return quantity_parse(text, QUANTITY_VOLUME, &value, error);
	case SETTING_TEXT:
	case SETTING_NOTES:
	case SETTING_PRACTICE_LIMIT: /* as the title says: see test_config */
		return text[0] != '\0';
	default:
		return reads_card(setting, text, error);
	}
}

static void
fallbacks_and_examples_read_as_their_kind(void **state)
{
	(void)state;
	size_t count = 0;
	for (; setting_at(count) != NULL; count++) {
		const struct setting *setting = setting_at(count);
		const char *texts[] = { setting->fallback, setting->example };
		assert_true(texts[0] != NULL || texts[1] != NULL);
		for (size_t t = 0; t < 2; t++) {
			struct error error = { 0 };
			if (texts[t] != NULL &&
			    !reads(setting, texts[t], &error))
				fail_row(setting, texts[t], error.text);
		}
	}
	assert_true(count > 30);
	assert_null(setting_at(count));
	assert_null(setting_at(SIZE_MAX));
}

static void
what_is_required_has_no_fallback(void **state)
{
	(void)state;
	for (size_t i = 0; setting_at(i) != NULL; i++)
		if (setting_at(i)->required && setting_at(i)->fallback != NULL)
			fail_row(setting_at(i), NULL, "has both");
}

static void
names_are_unique_in_their_place(void **state)
{
	(void)state;
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		/* the first of that name is this one */
		if (setting_find(setting->place, setting->name) != setting)
			fail_row(setting, NULL, "is there twice");
		if (!value_name(setting->name, NULL))
			fail_row(setting, NULL, "is no word");
	}
	assert_null(setting_find(PLACE_TOP, "rain-free"));
	assert_null(setting_find(PLACE_PRODUCT, ""));
	assert_null(setting_find(PLACE_PRODUCT, "Label"));
}

static void
settings_of_a_place_are_in_a_row(void **state)
{
	(void)state;
	bool over[PLACES] = { false };
	for (size_t i = 1; setting_at(i) != NULL; i++) {
		enum setting_place before = setting_at(i - 1)->place;
		if (setting_at(i)->place == before)
			continue;
		over[before] = true;
		if (over[setting_at(i)->place])
			fail_row(setting_at(i), NULL, "is out of place");
	}
}

/* "A to B": both ends are read as the bounds, and no more than the bounds. */
static void
check_range(const struct setting *setting)
{
	char least[64], most[64];
	double value = NAN;
	const char *to = strstr(setting->range, " to ");
	if (to == NULL || (size_t)(to - setting->range) >= sizeof least) {
		fail_row(setting, setting->range, "is no range");
		return;
	}
	(void)snprintf(least, sizeof least, "%.*s", (int)(to - setting->range),
	    setting->range);
	(void)snprintf(most, sizeof most, "%s", to + 4);
	const char *const ends[] = { least, most };
	const double wanted[] = { setting->least, setting->most };
	for (size_t e = 0; e < 2; e++) {
		struct error error = { 0 };
		if (!value_quantity(setting, ends[e], &value, &error))
			fail_row(setting, ends[e], error.text);
		assert_close(value, wanted[e], 1e-9 * fabs(wanted[e]));
	}
	struct setting half = *setting;
	half.most = setting->least + (setting->most - setting->least) / 2;
	assert_false(value_quantity(&half, most, &value, NULL));
}

static void
ranges_are_the_bounds_in_words(void **state)
{
	(void)state;
	int ranges = 0;
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		bool number = setting->kind == SETTING_QUANTITY ||
			      setting->kind == SETTING_LIMIT;
		bool bounded = setting->least != 0 || setting->most != 0;
		if (number != bounded)
			fail_row(setting, NULL, "needs bounds, or none");
		if (!bounded)
			continue;
		if (setting->least >= setting->most || setting->range == NULL)
			fail_row(setting, setting->range, "is no range");
		else
			check_range(setting);
		ranges++;
	}
	assert_true(ranges > 20);
}

static void
words_are_there_for_choices_only(void **state)
{
	(void)state;
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		bool wanted = setting->kind == SETTING_CHOICE ||
			      setting->kind == SETTING_WORDS;
		if (wanted != (setting->words != NULL))
			fail_row(setting, setting->words, "as words");
	}
}

/* What a label may replace is a practice limit that there can be. */
static void
label_rules_names_limits(void **state)
{
	(void)state;
	const struct setting *overrides =
	    setting_find(PLACE_PRODUCT, "label-rules");
	char words[1000], *rest = words;
	(void)snprintf(words, sizeof words, "%s", overrides->words);
	int count = 0;
	for (char *word; (word = strtok_r(rest, " ", &rest)) != NULL; count++)
		if (!card_is_practice(word) ||
		    setting_find(PLACE_PRODUCT, word) == NULL)
			fail_row(overrides, word, "is no practice limit");
	assert_int_equal(count, 27);
}

static void
helps_are_sentences(void **state)
{
	(void)state;
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const char *help = setting_at(i)->help;
		size_t length = help == NULL ? 0 : strlen(help);
		if (length < 2 || help[length - 1] != '.' ||
		    !text_is_utf8(help, length))
			fail_row(setting_at(i), help, "is no help");
	}
}

static void
a_list_takes_two_values_and_nothing_else_does(void **state)
{
	(void)state;
	size_t lists = 0;
	for (size_t i = 0; setting_at(i) != NULL; i++) {
		const struct setting *setting = setting_at(i);
		const char *value = setting->example != NULL
					? setting->example
					: setting->fallback;
		const char *place = setting_place_name(setting->place);
		char bytes[600];
		struct document document;
		(void)snprintf(bytes, sizeof bytes,
		    place[0] == '\0' ? "%s%s = { '%s', '%s' }\n"
				     : "%s \"a\" { %s = { '%s', '%s' } }\n",
		    place, setting->name, value, value);
		bool good =
		    document_read_bytes("two", bytes, strlen(bytes), &document);
		document_release(&document);
		if (good != setting_is_list(setting))
			fail_row(setting, bytes,
			    good ? "takes two" : "does not take two");
		lists += good ? 1 : 0;
	}
	assert_true(lists > 10);
}

static void
the_manual_lists_every_setting(void **state)
{
	(void)state;
	struct text text, again;
	text_init(&text, 100000);
	text_init(&again, 100000);
	settings_print_mdoc(&text);
	settings_print_mdoc(&again);
	assert_false(text.failed);
	assert_string_equal(text_string(&text), text_string(&again));
	size_t items = 0, settings = 0;
	for (const char *at = text_string(&text);
	     (at = strstr(at, ".It Cm ")) != NULL; at++)
		items++;
	while (setting_at(settings) != NULL)
		settings++;
	assert_int_equal(items, settings);
	for (size_t i = 0; i < settings; i++) {
		const struct setting *setting = setting_at(i);
		assert_contains(text_string(&text), setting->name);
		if (setting->fallback != NULL)
			assert_contains(text_string(&text), setting->fallback);
	}
	text_release(&text);
	text_release(&again);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(fallbacks_and_examples_read_as_their_kind),
		cmocka_unit_test(what_is_required_has_no_fallback),
		cmocka_unit_test(names_are_unique_in_their_place),
		cmocka_unit_test(settings_of_a_place_are_in_a_row),
		cmocka_unit_test(ranges_are_the_bounds_in_words),
		cmocka_unit_test(words_are_there_for_choices_only),
		cmocka_unit_test(label_rules_names_limits),
		cmocka_unit_test(helps_are_sentences),
		cmocka_unit_test(a_list_takes_two_values_and_nothing_else_does),
		cmocka_unit_test(the_manual_lists_every_setting),
	};
	return RUN_TESTS(tests);
}

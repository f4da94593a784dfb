/* What the calendar says of the water that an application wants. */
#include "unit/compose_fixture.h"

#define INCH 25.4

/* Applied on Tuesday 10 March 2026, which is day 20522, until 10:40. */
enum { ZERO = 20522 };

struct garden {
	struct site site;
	struct product product;
	struct water_ledger ledger;
	struct compose_water facts;
	struct compose_style style;
};

static void
begin_garden(struct garden *garden)
{
	*garden = (struct garden){
		.site = { .name = "front",
		    .latitude = 33,
		    .longitude = -97,
		    .zone = chicago() },
		.product = { .name = "pre-c",
		    .label = "label of pre-c, page 2" },
		.style = { UNITS_US, 19 * HOUR, 4 * HOUR },
	};
	int64_t applied = local_2026(3, 10, 10, 40);
	garden->ledger = (struct water_ledger){ .state = WATER_SHORT,
		.opens = applied + DAY,
		.closes = local_2026(3, 25, 0, 0),
		.task_day = ZERO + 12,
		.last_day = ZERO + 14,
		.needed = 0.5 * INCH,
		.rain = 0.12 * INCH,
		.irrigation = 0.03 * INCH,
		.expected = 0.05 * INCH,
		.missing = 0.3 * INCH };
	garden->facts = (struct compose_water){ "record-5-3", 1, &garden->site,
		&garden->product, applied, &garden->ledger,
		"Forecast: somebody" };
}

static void
compose(struct garden *garden, struct composed *ret)
{
	compose_irrigate(&garden->facts, &garden->style, ret);
	assert_cautions(ret);
	assert_contains(ret->entry.description, "Forecast: somebody");
	assert_contains(ret->entry.description, "label of pre-c, page 2");
}

static void
what_is_missing_is_a_task_until_the_deadline(void **state)
{
	(void)state;
	struct garden garden;
	struct composed composed;
	begin_garden(&garden);
	compose(&garden, &composed);
	const struct entry *entry = &composed.entry;
	assert_entry(
	    &composed, "record-5-3-water-1", "IRRIGATE", ENTRY_CONFIRMED);
	assert_string_equal(
	    entry->summary, "IRRIGATE: front, pre-c: 0.3 in by Tue 24 Mar");
	assert_true(entry->all_day);
	assert_int_equal(entry->from, ZERO + 12);
	assert_int_equal(entry->to, ZERO + 15);
	const char *text = entry->description;
	assert_contains(text, "until Tue 10 Mar 10:40");
	assert_contains(text,
	    "0.5 in of rain or irrigation from Wed 11 Mar 10:40 to the end of "
	    "Tue 24 Mar");
	assert_contains(
	    text, "Received: 0.15 in (rain 0.12 in, irrigation 0.03 in)");
	assert_contains(text, "Expected: 0.05 in");
	assert_contains(text, "Missing: 0.3 in");
	assert_contains(text, "lull observe \"front\" --irrigation \"0.3 in\"");
	assert_null(strstr(text, "Not known"));
	composed_release(&composed);
}

static void
gaps_make_it_look_short(void **state)
{
	(void)state;
	struct garden garden;
	struct composed composed;
	begin_garden(&garden);
	garden.ledger.state = WATER_UNKNOWN;
	garden.ledger.unknown_count = 1;
	garden.ledger.unknown_day = ZERO + 3;
	compose(&garden, &composed);
	assert_entry(
	    &composed, "record-5-3-water-1", "IRRIGATE", ENTRY_TENTATIVE);
	assert_string_equal(composed.entry.summary,
	    "IRRIGATE: front, pre-c: looks short, 0.3 in by Tue 24 Mar");
	assert_contains(composed.entry.description,
	    "what came on 1 day, the first Fri 13 Mar");
	assert_null(strstr(composed.entry.description, "the forecast rain of"));
	composed_release(&composed);
	garden.ledger.unknown_count = 0;
	garden.ledger.blind_count = 3;
	compose(&garden, &composed);
	assert_contains(composed.entry.description,
	    "Not known: the forecast rain of 3 days");
	assert_null(strstr(composed.entry.description, "what came on"));
	composed_release(&composed);
}

static void
water_that_did_not_come_is_told_the_day_after(void **state)
{
	(void)state;
	struct garden garden;
	struct composed composed;
	begin_garden(&garden);
	garden.ledger.state = WATER_FAILED;
	garden.ledger.over = true;
	garden.ledger.expected = 0;
	compose(&garden, &composed);
	assert_entry(
	    &composed, "record-5-3-water-1", "NO-WATER", ENTRY_CONFIRMED);
	assert_string_equal(composed.entry.summary,
	    "NO WATER: front, pre-c: 0.3 in of 0.5 in missing by Tue 24 Mar");
	assert_int_equal(composed.entry.from, ZERO + 15);
	assert_int_equal(composed.entry.to, ZERO + 16);
	assert_int_equal(composed.entry.alarm_count, 0);
	assert_null(strstr(composed.entry.description, "Expected"));
	composed_release(&composed);
	garden.ledger.state = WATER_UNKNOWN;
	compose(&garden, &composed);
	assert_entry(
	    &composed, "record-5-3-water-1", "UNKNOWN", ENTRY_TENTATIVE);
	assert_string_equal(composed.entry.summary,
	    "UNKNOWN: front, pre-c: whether 0.5 in of water came by Tue 24 "
	    "Mar");
	assert_int_equal(composed.entry.from, ZERO + 15);
	composed_release(&composed);
}

static void
a_span_of_hours_closes_at_an_hour(void **state)
{
	(void)state;
	struct garden garden;
	struct composed composed;
	begin_garden(&garden);
	garden.ledger.opens = garden.facts.applied;
	garden.ledger.closes = garden.facts.applied + DAY;
	garden.ledger.task_day = ZERO;
	garden.ledger.last_day = ZERO + 1;
	compose(&garden, &composed);
	assert_string_equal(composed.entry.summary,
	    "IRRIGATE: front, pre-c: 0.3 in by Wed 11 Mar 10:40");
	assert_contains(composed.entry.description, "to Wed 11 Mar 10:40");
	assert_int_equal(composed.entry.from, ZERO);
	assert_int_equal(composed.entry.to, ZERO + 2);
	/* the evening before was before the application */
	assert_int_equal(composed.entry.alarm_count, 0);
	composed_release(&composed);
}

static void
an_alarm_rings_on_the_evening_before(void **state)
{
	(void)state;
	struct garden garden;
	struct composed composed;
	begin_garden(&garden);
	compose(&garden, &composed);
	assert_int_equal(composed.entry.alarm_count, 1);
	assert_int_equal(composed.entry.alarm[0].before, 5 * HOUR);
	assert_string_equal(
	    composed.entry.alarm[0].text, "Tomorrow: irrigate front");
	composed_release(&composed);
	/* the application was over at 10:40 of the day before */
	garden.ledger.task_day = ZERO + 1;
	compose(&garden, &composed);
	assert_int_equal(composed.entry.alarm_count, 1);
	composed_release(&composed);
	garden.style.evening_alarm = 10 * HOUR + 2400;
	compose(&garden, &composed);
	assert_int_equal(composed.entry.alarm_count, 0);
	composed_release(&composed);
	garden.style.evening_alarm += 60;
	compose(&garden, &composed);
	assert_int_equal(composed.entry.alarm_count, 1);
	composed_release(&composed);
}

struct print {
	enum unit_system units;
	double missing;
	const char *wanted;
};

/* Up: less than what is missing would not do. */
static const struct print prints[] = {
	{ UNITS_US, 0.3 * INCH, ": 0.3 in by" },
	{ UNITS_US, 0.3001 * INCH, ": 0.31 in by" },
	{ UNITS_US, 0.30000001 * INCH, ": 0.3 in by" },
	{ UNITS_US, 0.002 * INCH, ": 0.01 in by" },
	{ UNITS_US, 0.1 * INCH + 0.2 * INCH, ": 0.3 in by" },
	{ UNITS_METRIC, 7.61, ": 7.7 mm by" },
	{ UNITS_METRIC, 7.6, ": 7.6 mm by" },
	{ UNITS_METRIC, 0.01, ": 0.1 mm by" },
	{ UNITS_METRIC, 0.00005, ": 0.1 mm by" },
	{ UNITS_METRIC, 12.7, ": 12.7 mm by" },
};

static void
what_is_missing_is_rounded_up(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(prints); i++) {
		struct garden garden;
		struct composed composed;
		begin_garden(&garden);
		garden.style.units = prints[i].units;
		garden.ledger.missing = prints[i].missing;
		compose(&garden, &composed);
		assert_contains(composed.entry.summary, prints[i].wanted);
		composed_release(&composed);
	}
}

static void
an_entry_is_its_facts_as_they_are_printed(void **state)
{
	(void)state;
	struct garden garden;
	struct composed first, second;
	begin_garden(&garden);
	compose(&garden, &first);
	garden.ledger.rain += 0.001 * INCH;
	garden.ledger.expected += 0.001 * INCH;
	garden.ledger.missing -= 0.002 * INCH;
	garden.ledger.day = ZERO + 2;
	garden.ledger.perhaps = 3;
	compose(&garden, &second);
	assert_true(entry_hash(&first.entry) == entry_hash(&second.entry));
	composed_release(&second);
	garden.ledger.missing -= 0.01 * INCH;
	compose(&garden, &second);
	assert_true(entry_hash(&first.entry) != entry_hash(&second.entry));
	composed_release(&second);
	composed_release(&first);
}

/* As long as names may be, and the largest numbers of a record. */
static void
everything_finds_room(void **state)
{
	(void)state;
	struct garden garden;
	struct composed composed;
	char name[LIMIT_NAME_BYTES + 1], label[LIMIT_TEXT_BYTES + 1];
	begin_garden(&garden);
	memset(name, 'n', sizeof name - 1);
	name[sizeof name - 1] = '\0';
	(void)snprintf(label, sizeof label, "label of pre-c, page 2");
	memset(label + strlen(label), 'l', sizeof label - strlen(label) - 1);
	label[sizeof label - 1] = '\0';
	garden.site.name = garden.product.name = name;
	garden.product.label = label;
	garden.facts.uid = "record--9223372036854775807-9223372036854775807";
	garden.facts.place = LIMIT_TANK_PRODUCTS - 1;
	compose(&garden, &composed);
	assert_entry(&composed,
	    "record--9223372036854775807-9223372036854775807-water-7",
	    "IRRIGATE", ENTRY_CONFIRMED);
	composed_release(&composed);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_missing_is_a_task_until_the_deadline),
		cmocka_unit_test(gaps_make_it_look_short),
		cmocka_unit_test(water_that_did_not_come_is_told_the_day_after),
		cmocka_unit_test(a_span_of_hours_closes_at_an_hour),
		cmocka_unit_test(an_alarm_rings_on_the_evening_before),
		cmocka_unit_test(what_is_missing_is_rounded_up),
		cmocka_unit_test(an_entry_is_its_facts_as_they_are_printed),
		cmocka_unit_test(everything_finds_room),
	};
	return RUN_TESTS(tests);
}

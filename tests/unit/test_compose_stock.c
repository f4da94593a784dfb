/* What the calendar says of packages that expire. */
#include "unit/compose_fixture.h"

#define OUNCE 28.349523125 /* g: NIST Handbook 44 Appendix C, from memory */

enum { LAST = 21000, HASH_ROOM = 9 }; /* day 21000 is 2027-07-01 */

static const struct product product = { .name = "post-a" };

/* 1.1 oz of 1.5 oz are left, it was opened on 2026-03-01. */
struct cupboard {
	struct package package;
	struct shelf_item item;
	struct compose_style style;
};

static void
begin_cupboard(struct cupboard *cupboard)
{
	*cupboard = (struct cupboard){
		.package = { .name = "post-a-2026",
		    .product = &product,
		    .size = 1.5 * OUNCE,
		    .is_mass = true,
		    .opened = 20513,
		    .expires = LAST,
		    .price = NAN },
		.item = { &cupboard->package, 1.1 * OUNCE, 0.4 * OUNCE },
		.style = { UNITS_US, 19 * HOUR, 4 * HOUR },
	};
}

static void
a_package_stands_on_its_last_day(void **state)
{
	(void)state;
	struct cupboard cupboard;
	struct composed composed;
	begin_cupboard(&cupboard);
	compose_stock(&cupboard.item, &cupboard.style, &composed);
	assert_cautions(&composed);
	const struct entry *entry = &composed.entry;
	assert_entry(&composed, composed.uid, "EXPIRES", ENTRY_CONFIRMED);
	assert_string_equal(
	    entry->summary, "EXPIRES: post-a-2026 (post-a), 1.1 oz left");
	assert_true(entry->all_day);
	assert_int_equal(entry->from, LAST);
	assert_int_equal(entry->to, LAST + 1);
	assert_int_equal(entry->alarm_count, 0);
	assert_false(entry->has_place);
	assert_contains(entry->description, "opened on 2026-03-01");
	assert_contains(entry->description, "last good day is 2027-07-01");
	assert_contains(entry->description,
	    "by the label and local rules, never into a drain");
	assert_contains(entry->description, "lull stock post-a\n");
	composed_release(&composed);
}

struct amount {
	double left;
	bool is_mass;
	enum unit_system units;
	const char *ends;
};

static const struct amount amounts[] = {
	{ 1.1 * OUNCE, true, UNITS_METRIC, ", 31.2 g left" },
	{ 0.25, false, UNITS_METRIC, ", 250 mL left" },
	{ 0.25, false, UNITS_US, ", 8.45 fl oz left" },
	{ NAN, true, UNITS_US, ", what is left is not known" },
};

static void
what_is_left_is_told_in_the_units_of_the_keeper(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(amounts); i++) {
		struct cupboard cupboard;
		struct composed composed;
		begin_cupboard(&cupboard);
		cupboard.item.left = amounts[i].left;
		cupboard.package.is_mass = amounts[i].is_mass;
		cupboard.style.units = amounts[i].units;
		cupboard.package.opened = INT64_MAX;
		compose_stock(&cupboard.item, &cupboard.style, &composed);
		assert_contains(composed.entry.summary, amounts[i].ends);
		assert_null(strstr(composed.entry.description, "opened on"));
		composed_release(&composed);
	}
}

struct showing {
	int64_t last, today;
	double left;
	bool wanted;
};

static const struct showing showings[] = {
	{ LAST, LAST - 31, 5, false },
	{ LAST, LAST - 30, 5, true },
	{ LAST, LAST, 5, true },
	{ LAST, LAST + 7, 5, true },
	{ LAST, LAST + 8, 5, false },
	{ LAST, LAST, 0, false },
	{ LAST, LAST, NAN, true },
	{ INT64_MAX, LAST, 5, false },
};

static void
it_is_shown_around_that_day(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(showings); i++) {
		struct cupboard cupboard;
		begin_cupboard(&cupboard);
		cupboard.package.expires = showings[i].last;
		cupboard.item.left = showings[i].left;
		assert_int_equal(
		    compose_stock_is_due(&cupboard.item, showings[i].today),
		    showings[i].wanted);
	}
}

/* The name of the package, and of what is in it: neither day nor amount. */
static void
its_uid_stays(void **state)
{
	(void)state;
	const struct product dye = { .name = "dye" };
	struct cupboard cupboard;
	struct composed first, second;
	begin_cupboard(&cupboard);
	compose_stock(&cupboard.item, &cupboard.style, &first);
	assert_begins(first.uid, "package-post-a-2026-expires-");
	cupboard.package.expires++;
	cupboard.package.opened++;
	cupboard.item.left--;
	compose_stock(&cupboard.item, &cupboard.style, &second);
	assert_string_equal(first.uid, second.uid);
	composed_release(&second);
	cupboard.package.product = &dye;
	compose_stock(&cupboard.item, &cupboard.style, &second);
	assert_string_not_equal(first.uid, second.uid);
	composed_release(&second);
	composed_release(&first);
}

static void
an_entry_is_its_facts_as_they_are_printed(void **state)
{
	(void)state;
	struct cupboard cupboard;
	struct composed first, second;
	begin_cupboard(&cupboard);
	compose_stock(&cupboard.item, &cupboard.style, &first);
	cupboard.item.left += 1e-6;
	compose_stock(&cupboard.item, &cupboard.style, &second);
	assert_true(entry_hash(&first.entry) == entry_hash(&second.entry));
	composed_release(&second);
	cupboard.item.left -= 0.2 * OUNCE;
	compose_stock(&cupboard.item, &cupboard.style, &second);
	assert_true(entry_hash(&first.entry) != entry_hash(&second.entry));
	composed_release(&second);
	composed_release(&first);
}

static void
the_longest_names_find_room(void **state)
{
	(void)state;
	char name[LIMIT_NAME_BYTES + 1];
	struct cupboard cupboard;
	struct composed composed;
	begin_cupboard(&cupboard);
	memset(name, 'n', sizeof name - 1);
	name[sizeof name - 1] = '\0';
	const struct product longest = { .name = name };
	cupboard.package.name = name;
	cupboard.package.product = &longest;
	compose_stock(&cupboard.item, &cupboard.style, &composed);
	assert_int_equal(strlen(composed.uid),
	    strlen("package--expires") + LIMIT_NAME_BYTES + HASH_ROOM);
	assert_entry(&composed, composed.uid, "EXPIRES", ENTRY_CONFIRMED);
	composed_release(&composed);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_package_stands_on_its_last_day),
		cmocka_unit_test(
		    what_is_left_is_told_in_the_units_of_the_keeper),
		cmocka_unit_test(it_is_shown_around_that_day),
		cmocka_unit_test(its_uid_stays),
		cmocka_unit_test(an_entry_is_its_facts_as_they_are_printed),
		cmocka_unit_test(the_longest_names_find_room),
	};
	return RUN_TESTS(tests);
}

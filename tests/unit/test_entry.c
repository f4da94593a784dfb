#include "unit/test.h"

#include "calendar/entry.h"

static struct entry
sample(void)
{
	return (struct entry){ .uid = "slot-1",
		.sequence = 2,
		.revised = 1772366400,
		.from = 1772434800,
		.to = 1772443800,
		.summary = "GO",
		.description = "Dry\n",
		.categories = { "GO", "front" },
		.status = ENTRY_CONFIRMED,
		.has_place = true,
		.latitude = 29.5,
		.longitude = -98.25,
		.alarm = { { 3600, "soon" }, { 60, "now" } },
		.alarm_count = 2 };
}

enum { CHANGES = 18 };

/* One change of content each, of the fields that say when and what. */
static void
change_text(struct entry *entry, size_t which)
{
	entry->all_day = which == 0;
	entry->from += which == 1 ? 1 : 0;
	entry->to -= which == 2 ? 1 : 0;
	entry->summary = which == 3 ? "GO." : entry->summary;
	entry->description = which == 4   ? "Dry"
			     : which == 5 ? NULL
					  : entry->description;
	entry->status = which == 6 ? ENTRY_TENTATIVE : entry->status;
	entry->has_place = which != 7;
	entry->latitude = which == 8 ? -29.5 : entry->latitude;
	entry->longitude += which == 9 ? 0.000001 : 0;
}

/* The same for its lists. */
static void
change_lists(struct entry *entry, size_t which)
{
	entry->categories[0] = which == 10 ? "NO" : entry->categories[0];
	entry->categories[1] = which == 11 ? NULL : entry->categories[1];
	entry->categories[2] = which == 12 ? "more" : which == 13 ? "x" : NULL;
	entry->categories[3] = which == 13 ? "fourth" : NULL;
	entry->alarm_count = which == 14 ? 1 : 2;
	entry->alarm[0].before += which == 15 ? 1 : 0;
	entry->alarm[1].text = which == 16 ? "now!" : entry->alarm[1].text;
	entry->alarm[1].before = which == 17 ? 0 : entry->alarm[1].before;
}

static bool
change_content(struct entry *entry, size_t which)
{
	change_text(entry, which);
	change_lists(entry, which);
	return which < CHANGES;
}

static void
changes_with_each_field_of_the_content(void **state)
{
	(void)state;
	uint64_t hash[32];
	struct entry plain = sample();
	hash[0] = entry_hash(&plain);
	size_t count = 1;
	for (struct entry changed = sample();
	     change_content(&changed, count - 1); changed = sample()) {
		hash[count] = entry_hash(&changed);
		for (size_t i = 0; i < count; i++)
			if (hash[i] == hash[count])
				fail_msg("change %zu is like %zu", count, i);
		count++;
	}
	assert_int_equal(count, 19);
}

static void
does_not_depend_on_identity_or_revision(void **state)
{
	(void)state;
	struct entry plain = sample();
	struct entry changed = sample();
	changed.uid = "slot-2";
	assert_true(entry_hash(&plain) == entry_hash(&changed));
	changed.sequence = 9;
	assert_true(entry_hash(&plain) == entry_hash(&changed));
	changed.revised += 60;
	assert_true(entry_hash(&plain) == entry_hash(&changed));
}

static void
does_not_depend_on_what_is_not_in_use(void **state)
{
	(void)state;
	struct entry plain = sample();
	struct entry changed = sample();
	changed.categories[2] = NULL;
	changed.categories[3] = "behind the last";
	changed.alarm[2] = (struct entry_alarm){ 5, "behind the last" };
	assert_true(entry_hash(&plain) == entry_hash(&changed));
	plain.has_place = false;
	changed.has_place = false;
	changed.latitude = 0;
	assert_true(entry_hash(&plain) == entry_hash(&changed));
}

static void
depends_on_the_text_and_not_on_its_address(void **state)
{
	(void)state;
	char summary[] = "GO";
	struct entry plain = sample();
	struct entry copied = sample();
	copied.summary = summary;
	assert_true(entry_hash(&plain) == entry_hash(&copied));
}

static void
keeps_neighbouring_texts_apart(void **state)
{
	(void)state;
	struct entry one = sample();
	struct entry other = sample();
	one.summary = "ab";
	one.description = "c";
	other.summary = "a";
	other.description = "bc";
	assert_true(entry_hash(&one) != entry_hash(&other));
}

/*
 * A stored hash outlives the program: if this changes, every entry of every
 * calendar is revised once more. C: computed apart from this code, by FNV-1a
 * over the bytes that entry.c describes.
 */
static void
stays_the_same_from_release_to_release(void **state)
{
	(void)state;
	struct entry entry = sample();
	assert_true(entry_hash(&entry) == UINT64_C(0x6e17cb68a0897e38));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(changes_with_each_field_of_the_content),
		cmocka_unit_test(does_not_depend_on_identity_or_revision),
		cmocka_unit_test(does_not_depend_on_what_is_not_in_use),
		cmocka_unit_test(depends_on_the_text_and_not_on_its_address),
		cmocka_unit_test(keeps_neighbouring_texts_apart),
		cmocka_unit_test(stays_the_same_from_release_to_release),
	};
	return RUN_TESTS(tests);
}

#include "unit/test.h"

#include "base/arena.h"
#include "base/memory.h"

static void
an_arena_hands_out_zeroed_rooms_that_stay(void **state)
{
	(void)state;
	struct arena arena = { 0 };
	unsigned char *room[100];
	for (size_t i = 0; i < 100; i++) {
		room[i] = arena_array(&arena, i, 3);
		for (size_t b = 0; b < 3 * i; b++)
			assert_int_equal(room[i][b], 0);
		memset(room[i], (int)i, 3 * i);
	}
	for (size_t i = 0; i < 100; i++)
		for (size_t b = 0; b < 3 * i; b++)
			assert_int_equal(room[i][b], i);
	arena_release(&arena);
	assert_int_equal(arena.count, 0);
}

static void
strings_are_copies(void **state)
{
	(void)state;
	struct arena arena = { 0 };
	char text[] = "front";
	char *copy = arena_string(&arena, text);
	text[0] = 'F';
	assert_string_equal(copy, "front");
	assert_null(arena_string(&arena, NULL));
	assert_string_equal(arena_string(&arena, ""), "");
	arena_release(&arena);
}

static void
an_arena_can_be_released_twice_and_filled_again(void **state)
{
	(void)state;
	struct arena arena = { 0 };
	arena_release(&arena);
	assert_string_equal(arena_string(&arena, "a"), "a");
	arena_release(&arena);
	arena_release(&arena);
	assert_string_equal(arena_string(&arena, "b"), "b");
	arena_release(&arena);
}

static void
room_grows_by_doubling(void **state)
{
	(void)state;
	int *items = NULL;
	size_t capacity = 0, moves = 0;
	for (size_t used = 0; used < 1000; used++) {
		size_t before = capacity;
		items = memory_grow(items, used, &capacity, sizeof *items);
		assert_true(capacity > used);
		assert_true(capacity == before || capacity >= 2 * before);
		moves += capacity != before ? 1 : 0;
		items[used] = (int)used;
	}
	for (size_t i = 0; i < 1000; i++)
		assert_int_equal(items[i], i);
	assert_true(moves <= 10);
	free(items);
}

static void
memory_of_no_items_is_still_memory(void **state)
{
	(void)state;
	void *none = memory_array(0, 0);
	assert_non_null(none);
	none = memory_resize(none, 0, 8);
	assert_non_null(none);
	free(none);
	assert_null(memory_string(NULL));
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_arena_hands_out_zeroed_rooms_that_stay),
		cmocka_unit_test(strings_are_copies),
		cmocka_unit_test(
		    an_arena_can_be_released_twice_and_filled_again),
		cmocka_unit_test(room_grows_by_doubling),
		cmocka_unit_test(memory_of_no_items_is_still_memory),
	};
	return RUN_TESTS(tests);
}

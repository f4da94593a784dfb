#include "unit/test.h"

#include "base/pool.h"

/* Small ones and ones that are larger than any chunk. */
static void
rooms_are_apart_and_stay(void **state)
{
	(void)state;
	enum { ROOMS = 300 };
	struct pool pool = { 0 };
	unsigned char *room[ROOMS];
	for (size_t i = 0; i < ROOMS; i++) {
		room[i] = pool_room(&pool, i % 50 == 0 ? 100000 : i, 3);
		assert_int_equal((uintptr_t)room[i] % 64, 0);
		memset(room[i], (int)(i % 251), i % 50 == 0 ? 300000 : 3 * i);
	}
	for (size_t i = 0; i < ROOMS; i++)
		for (size_t b = 0; b < (i % 50 == 0 ? 300000 : 3 * i); b++)
			if (room[i][b] != i % 251)
				fail_msg("room %zu was written over", i);
	pool_release(&pool);
}

static void
a_pool_can_be_released_twice_and_used_again(void **state)
{
	(void)state;
	struct pool pool = { 0 };
	pool_release(NULL);
	pool_release(&pool);
	assert_non_null(pool_room(&pool, 0, 8));
	pool_release(&pool);
	pool_release(&pool);
	assert_null(pool.chunk);
	assert_non_null(pool_room(&pool, 8, 8));
	pool_release(&pool);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rooms_are_apart_and_stay),
		cmocka_unit_test(a_pool_can_be_released_twice_and_used_again),
	};
	return RUN_TESTS(tests);
}

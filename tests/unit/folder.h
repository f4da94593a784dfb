/* A folder of its own for each test, gone afterwards with all that is in it. */
#ifndef TESTS_UNIT_FOLDER_H
#define TESTS_UNIT_FOLDER_H

#include "unit/test.h"

#include <ftw.h>
#include <stdbool.h>
#include <sys/stat.h>
#include <unistd.h>

enum { FOLDER_BYTES = 80, PATH_BYTES = 200 };

static inline int
folder_make(void **state)
{
	char *folder = calloc(1, FOLDER_BYTES);
	const char *parent = getenv("TMPDIR");
	if (folder == NULL)
		return -1;
	(void)snprintf(folder, FOLDER_BYTES, "%.50s/lull-test-XXXXXX",
	    parent == NULL ? P_tmpdir : parent);
	*state = folder;
	return mkdtemp(folder) == NULL ? -1 : 0;
}

static inline int
folder_visit(
    const char *path, const struct stat *status, int kind, struct FTW *at)
{
	(void)status;
	(void)kind;
	(void)at;
	return remove(path);
}

static inline int
folder_remove(void **state)
{
	int code = nftw(*state, folder_visit, 8, FTW_DEPTH | FTW_PHYS);
	free(*state);
	return code;
}

/* The path of `name` in the test's folder. */
static inline const char *
path_in(void **state, const char *name, char buffer[PATH_BYTES])
{
	(void)snprintf(buffer, PATH_BYTES, "%s/%s", (const char *)*state, name);
	return buffer;
}

static inline void
put_bytes(void **state, const char *name, const char *bytes, size_t length)
{
	char path[PATH_BYTES];
	FILE *file = fopen(path_in(state, name, path), "we");
	assert_non_null(file);
	assert_int_equal(fwrite(bytes, 1, length, file), length);
	assert_int_equal(fclose(file), 0);
}

static inline void
put_file(void **state, const char *name, const char *text)
{
	put_bytes(state, name, text, strlen(text));
}

static inline bool
is_there(void **state, const char *name)
{
	struct stat status;
	char path[PATH_BYTES];
	return lstat(path_in(state, name, path), &status) == 0;
}

/* A test that gets a folder. */
#define FOLDER_TEST(test)                                                      \
	cmocka_unit_test_setup_teardown(test, folder_make, folder_remove)

#endif

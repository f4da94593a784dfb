/* A store in a folder of its own for each test; both go away with it. */
#ifndef TESTS_UNIT_STORE_FIXTURE_H
#define TESTS_UNIT_STORE_FIXTURE_H

#include "unit/test.h"

#include "store/schema.h"
#include "store/store.h"

#include <dirent.h>
#include <sqlite3.h>
#include <unistd.h>

/* Letters of two and four bytes, both quotes, a newline, a tab, "--". */
#define HARD "Gr\xc3\xbc\xc3\x9f \xf0\x9f\x8c\xa7 'a' \"b\"\n100 %s\t;--\\"

struct fixture {
	char folder[64];
	char path[96];
	struct store *store; /* NULL: closed by the test */
};

static inline struct store *
store_of(void **state)
{
	return ((struct fixture *)*state)->store;
}

static inline struct store *
open_or_fail(const char *path)
{
	struct error error = { 0 };
	struct store *store = store_open(path, &error);
	if (store == NULL)
		fail_msg("%s", error.text);
	return store;
}

static inline int
make_folder(void **state)
{
	struct fixture *fixture = calloc(1, sizeof *fixture);
	if (fixture == NULL)
		return -1;
	*state = fixture;
	const char *parent = getenv("TMPDIR");
	(void)snprintf(fixture->folder, sizeof fixture->folder,
	    "%.40s/lull-store-XXXXXX", parent == NULL ? P_tmpdir : parent);
	if (mkdtemp(fixture->folder) == NULL)
		return -1;
	(void)snprintf(
	    fixture->path, sizeof fixture->path, "%s/lull.db", fixture->folder);
	return 0;
}

static inline int
make_store(void **state)
{
	if (make_folder(state) != 0)
		return -1;
	struct fixture *fixture = *state;
	fixture->store = store_open(fixture->path, NULL);
	return fixture->store == NULL;
}

/* Removes everything in the folder and returns how many files there were. */
static inline size_t
empty_folder(const char *folder)
{
	DIR *open = opendir(folder);
	size_t count = 0;
	struct dirent *item = NULL;
	while (open != NULL && (item = readdir(open)) != NULL)
		if (unlinkat(dirfd(open), item->d_name, 0) == 0)
			count++;
	if (open != NULL)
		(void)closedir(open);
	return count;
}

/* A store that a test leaves open has to be sound still. */
static inline int
remove_all(void **state)
{
	struct fixture *fixture = *state;
	struct error error = { 0 };
	bool sound =
	    fixture->store == NULL || store_check(fixture->store, &error);
	if (!sound)
		print_error("%s\n", error.text);
	store_close(fixture->store);
	(void)empty_folder(fixture->folder);
	int failed = rmdir(fixture->folder);
	free(fixture);
	return failed != 0 || !sound;
}

/* Does to the file what another program could do. */
static inline void
meddle(const char *path, const char *sql)
{
	sqlite3 *database = NULL;
	char *reason = NULL;
	if (sqlite3_open(path, &database) != SQLITE_OK ||
	    sqlite3_exec(database, sql, NULL, NULL, &reason) != SQLITE_OK)
		fail_msg("%s: %s", sql, reason);
	assert_int_equal(sqlite3_close(database), SQLITE_OK);
}

/* A file as the program of that version made it, with these rows. */
static inline void
make_version(const char *path, size_t version, const char *rows)
{
	const struct schema old = { schema_current.steps, version };
	struct error error = { 0 };
	struct store *store = store_open_as(path, &old, &error);
	if (store == NULL)
		fail_msg("%s", error.text);
	store_close(store);
	meddle(path, rows);
}

/* Bytes that cannot be packed: a linear congruence. */
static inline void
fill_with_noise(char *bytes, size_t length)
{
	uint32_t noise = 1;
	for (size_t i = 0; i < length; i++) {
		noise = noise * 1664525U + 1013904223U;
		bytes[i] = (char)(noise >> 24);
	}
}

static inline struct stored_job
sample_job(const char *uid)
{
	return (struct stored_job){
		.uid = (char *)uid,
		.site = "front",
		.dose = { { .product = "amber", .rate = "3.2 g/gal" },
		    { .product = "birch" } },
		.dose_count = 2,
		.area = 120.5,
		.after = INT64_MIN,
		.before = INT64_MAX,
		.priority = 5,
		.weeds = "",
		.note = "",
		.created = 1772434800,
	};
}

static inline int64_t
add_job(struct store *store, const char *uid)
{
	struct stored_job job = sample_job(uid);
	struct error error = { 0 };
	int64_t id = 0;
	if (!store_job_add(store, &job, &id, &error))
		fail_msg("%s", error.text);
	return id;
}

static inline size_t
count_jobs(struct store *store)
{
	struct stored_job *jobs = NULL;
	struct error error = { 0 };
	size_t count = 0;
	if (!store_jobs(store, false, &jobs, &count, &error))
		fail_msg("%s", error.text);
	stored_jobs_free(jobs, count);
	return count;
}

#endif

#include "unit/folder.h"

#include "base/file.h"

#include <fcntl.h>
#include <sys/wait.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { NOBODY = 65534 };

static void
assert_file(void **state, const char *name, const char *wanted)
{
	char path[PATH_BYTES];
	struct text text;
	struct error error = { 0 };
	text_init(&text, 1000);
	if (!file_read(path_in(state, name, path), &text, &error))
		fail_msg("%s", error.text);
	assert_string_equal(text_string(&text), wanted);
	text_release(&text);
}

static void
a_file_is_read_behind_what_is_there(void **state)
{
	char path[PATH_BYTES];
	struct text text;
	text_init(&text, 100);
	put_bytes(state, "a", "1\0002\n", 4);
	put_bytes(state, "empty", "", 0);
	assert_true(text_add(&text, "x"));
	assert_true(file_read(path_in(state, "a", path), &text, NULL));
	assert_true(file_read(path_in(state, "empty", path), &text, NULL));
	assert_int_equal(text.length, 5);
	assert_memory_equal(text_string(&text), "x1\0002\n", 6);
	text_release(&text);
}

static void
a_file_may_be_as_long_as_the_ceiling(void **state)
{
	static char bytes[40000];
	char path[PATH_BYTES];
	struct text text;
	struct error error = { 0 };
	memset(bytes, 'x', sizeof bytes);
	put_bytes(state, "long", bytes, sizeof bytes);
	text_init(&text, sizeof bytes);
	assert_true(file_read(path_in(state, "long", path), &text, &error));
	assert_int_equal(text.length, sizeof bytes);
	text_release(&text);
	text_init(&text, sizeof bytes - 1);
	assert_false(file_read(path, &text, &error));
	assert_int_equal(error.kind, ERROR_INPUT);
	assert_contains(error.text, "longer than 39999 bytes");
	assert_contains(error.text, path);
	text_release(&text);
}

static void
what_cannot_be_read_is_named(void **state)
{
	char path[PATH_BYTES];
	struct text text;
	text_init(&text, 100);
	static const char *const names[] = { "absent", "absent/below", "." };
	for (size_t i = 0; i < COUNT(names); i++) {
		struct error error = { 0 };
		path_in(state, names[i], path);
		assert_false(file_read(path, &text, &error));
		assert_int_equal(error.kind, ERROR_SYSTEM);
		assert_contains(error.text, path);
		assert_int_equal(text.length, 0);
	}
	text_release(&text);
}

static void
a_file_is_replaced_whole(void **state)
{
	char path[PATH_BYTES];
	struct error error = { 0 };
	path_in(state, "out", path);
	static const char *const contents[] = { "first, and longer", "second",
		"" };
	for (size_t i = 0; i < COUNT(contents); i++) {
		assert_true(file_replace(
		    path, contents[i], strlen(contents[i]), &error));
		assert_file(state, "out", contents[i]);
		assert_false(is_there(state, "out.new"));
	}
}

/* What a power cut left behind does not stand in the way. */
static void
an_old_temporary_file_is_overwritten(void **state)
{
	char path[PATH_BYTES];
	put_file(state, "out.new", "half of something that was longer");
	assert_true(
	    file_replace(path_in(state, "out", path), "whole", 5, NULL));
	assert_file(state, "out", "whole");
	assert_false(is_there(state, "out.new"));
}

static void
a_name_without_a_folder_is_in_the_present_one(void **state)
{
	char before[PATH_BYTES * 4];
	assert_non_null(getcwd(before, sizeof before));
	assert_int_equal(chdir(*state), 0);
	bool good = file_replace("plain", "x", 1, NULL);
	assert_int_equal(chdir(before), 0);
	assert_true(good);
	assert_file(state, "plain", "x");
}

static void
assert_kept(void **state, const char *path, const struct error *error)
{
	assert_int_equal(error->kind, ERROR_SYSTEM);
	assert_contains(error->text, path);
	assert_contains(error->text, "the old file stays");
	assert_file(state, "out", "old");
	assert_false(is_there(state, "out.new"));
}

/* A full disk: the temporary file is one that takes nothing. */
static void
a_full_disk_leaves_the_old_file(void **state)
{
	char path[PATH_BYTES], temporary[PATH_BYTES];
	struct error error = { 0 };
	put_file(state, "out", "old");
	path_in(state, "out.new", temporary);
	if (access("/dev/full", W_OK) != 0)
		skip();
	assert_int_equal(symlink("/dev/full", temporary), 0);
	assert_false(
	    file_replace(path_in(state, "out", path), "new", 3, &error));
	assert_contains(error.text, "No space left");
	assert_kept(state, path, &error);
}

static void
a_folder_is_not_replaced_by_a_file(void **state)
{
	char path[PATH_BYTES];
	struct error error = { 0 };
	path_in(state, "out", path);
	assert_int_equal(mkdir(path, 0700), 0);
	put_file(state, "out/inside", "old");
	assert_false(file_replace(path, "new", 3, &error));
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_file(state, "out/inside", "old");
	assert_false(is_there(state, "out.new"));
	assert_false(
	    file_replace(path_in(state, "absent/out", path), "new", 3, &error));
	assert_contains(error.text, path);
	assert_false(is_there(state, "absent"));
}

/* In a child, because root may write anywhere and has to step down. */
static bool
replace_as_somebody(const char *path, struct error *error)
{
	int channel[2], status;
	assert_int_equal(pipe(channel), 0);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		bool down = geteuid() != 0 || seteuid(NOBODY) == 0;
		bool good = down && file_replace(path, "new", 3, error);
		bool told = write(channel[1], error, sizeof *error) ==
			    (ssize_t)sizeof *error;
		_exit(!down || !told ? 2 : good ? 0 : 1);
	}
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_int_equal(read(channel[0], error, sizeof *error), sizeof *error);
	(void)close(channel[0]);
	(void)close(channel[1]);
	assert_true(WIFEXITED(status) && WEXITSTATUS(status) < 2);
	return WEXITSTATUS(status) == 0;
}

static void
a_folder_without_permission_keeps_the_old_file(void **state)
{
	char path[PATH_BYTES];
	/* neither one that is not to be written, nor one that may be written
	   but not opened, so that it could not be synced */
	static const mode_t modes[] = { 0555, 0333 };
	for (size_t i = 0; i < COUNT(modes); i++) {
		struct error error = { 0 };
		put_file(state, "out", "old");
		assert_int_equal(chmod(*state, modes[i]), 0);
		bool good =
		    replace_as_somebody(path_in(state, "out", path), &error);
		assert_int_equal(chmod(*state, 0700), 0);
		assert_false(good);
		assert_kept(state, path, &error);
	}
}

static mode_t
mode_of(void **state, const char *name)
{
	struct stat status;
	char path[PATH_BYTES];
	assert_int_equal(stat(path_in(state, name, path), &status), 0);
	assert_true(S_ISDIR(status.st_mode));
	return status.st_mode & 0777;
}

static void
a_folder_is_made_with_its_parents(void **state)
{
	char path[PATH_BYTES];
	struct error error = { 0 };
	static const char *const names[] = { "a/b/c", "a/b/c", "a/b/", "d//e",
		"a/../f" };
	for (size_t i = 0; i < COUNT(names); i++)
		if (!file_make_folder(path_in(state, names[i], path), &error))
			fail_msg("%s", error.text);
	assert_int_equal(mode_of(state, "a"), 0700);
	assert_int_equal(mode_of(state, "a/b/c"), 0700);
	assert_int_equal(mode_of(state, "d/e"), 0700);
	assert_int_equal(mode_of(state, "f"), 0700);
	assert_true(file_make_folder("/", &error));
	assert_true(file_make_folder(".", &error));
}

static void
a_folder_that_cannot_be_made_is_named(void **state)
{
	char path[PATH_BYTES];
	put_file(state, "file", "x");
	static const char *const names[] = { "file", "file/below" };
	for (size_t i = 0; i < COUNT(names); i++) {
		struct error error = { 0 };
		assert_false(
		    file_make_folder(path_in(state, names[i], path), &error));
		assert_int_equal(error.kind, ERROR_SYSTEM);
		assert_contains(error.text, "file: ");
	}
	assert_false(file_make_folder("", NULL));
}

struct holder {
	pid_t process;
	int release; /* closed to let it go */
};

/* Another process takes the lock and says so. */
static struct holder
hold(const char *path)
{
	int taken[2], release[2];
	char byte;
	assert_int_equal(pipe(taken), 0);
	assert_int_equal(pipe(release), 0);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		(void)close(release[1]);
		int lock = file_lock(path, false, NULL);
		if (lock < 0 || write(taken[1], "x", 1) != 1)
			_exit(1);
		_exit(read(release[0], &byte, 1) == 0 ? 0 : 1);
	}
	(void)close(taken[1]);
	(void)close(release[0]);
	assert_int_equal(read(taken[0], &byte, 1), 1);
	(void)close(taken[0]);
	return (struct holder){ child, release[1] };
}

static void
let_go(struct holder holder)
{
	int status;
	(void)close(holder.release);
	assert_int_equal(waitpid(holder.process, &status, 0), holder.process);
	assert_int_equal(status, 0);
}

static void
a_lock_is_held_by_one_process(void **state)
{
	char path[PATH_BYTES];
	struct error error = { 0 };
	path_in(state, "lock", path);
	struct holder holder = hold(path);
	assert_int_equal(file_lock(path, false, &error), -1);
	assert_int_equal(error.kind, ERROR_ANSWER);
	assert_contains(error.text, path);
	let_go(holder);
	/* it went with the process, without being unlocked */
	int lock = file_lock(path, false, &error);
	assert_true(lock >= 0);
	assert_true((fcntl(lock, F_GETFD) & FD_CLOEXEC) != 0);
	file_unlock(lock);
	holder = hold(path);
	let_go(holder);
}

static void
a_lock_can_be_waited_for(void **state)
{
	char path[PATH_BYTES];
	path_in(state, "lock", path);
	struct holder holder = hold(path);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0) {
		/* lets go while the parent waits */
		(void)usleep(50000);
		(void)close(holder.release);
		_exit(0);
	}
	(void)close(holder.release);
	int lock = file_lock(path, true, NULL);
	assert_true(lock >= 0);
	file_unlock(lock);
	int status;
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_int_equal(waitpid(holder.process, &status, 0), holder.process);
	assert_int_equal(status, 0);
}

static void
a_lock_that_cannot_be_made_says_why(void **state)
{
	char path[PATH_BYTES];
	struct error error = { 0 };
	assert_int_equal(
	    file_lock(path_in(state, "absent/lock", path), false, &error), -1);
	assert_int_equal(error.kind, ERROR_SYSTEM);
	assert_contains(error.text, path);
	file_unlock(-1);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		FOLDER_TEST(a_file_is_read_behind_what_is_there),
		FOLDER_TEST(a_file_may_be_as_long_as_the_ceiling),
		FOLDER_TEST(what_cannot_be_read_is_named),
		FOLDER_TEST(a_file_is_replaced_whole),
		FOLDER_TEST(an_old_temporary_file_is_overwritten),
		FOLDER_TEST(a_name_without_a_folder_is_in_the_present_one),
		FOLDER_TEST(a_full_disk_leaves_the_old_file),
		FOLDER_TEST(a_folder_is_not_replaced_by_a_file),
		FOLDER_TEST(a_folder_without_permission_keeps_the_old_file),
		FOLDER_TEST(a_folder_is_made_with_its_parents),
		FOLDER_TEST(a_folder_that_cannot_be_made_is_named),
		FOLDER_TEST(a_lock_is_held_by_one_process),
		FOLDER_TEST(a_lock_can_be_waited_for),
		FOLDER_TEST(a_lock_that_cannot_be_made_says_why),
	};
	return RUN_TESTS(tests);
}

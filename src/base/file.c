#include "base/file.h"

#include "base/memory.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static bool
fail(struct error *error, const char *path)
{
	return error_set(error, ERROR_SYSTEM, "%s: %s", path, strerror(errno));
}

static bool
read_all(
    int descriptor, const char *path, struct text *ret, struct error *error)
{
	char block[16384];
	for (;;) {
		ssize_t got = read(descriptor, block, sizeof block);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return fail(error, path);
		if (got == 0)
			return true;
		if (!text_append(ret, block, (size_t)got))
			return error_set(error, ERROR_INPUT,
			    "%s: longer than %zu bytes", path, ret->ceiling);
	}
}

bool
file_read(const char *path, struct text *ret, struct error *error)
{
	int descriptor = open(path, O_RDONLY | O_CLOEXEC);
	if (descriptor < 0)
		return fail(error, path);
	bool good = read_all(descriptor, path, ret, error);
	(void)close(descriptor);
	return good;
}

static bool
write_all(int descriptor, const char *data, size_t length)
{
	while (length > 0) {
		ssize_t done = write(descriptor, data, length);
		if (done < 0 && errno == EINTR)
			continue;
		if (done < 0)
			return false;
		data += done;
		length -= (size_t)done;
	}
	return true;
}

/* The folder that holds `path`; synced, a rename in it survives a power cut. */
static int
open_folder(const char *path)
{
	char *folder = memory_string(path);
	char *slash = strrchr(folder, '/');
	if (slash == folder)
		slash++;
	if (slash != NULL)
		*slash = '\0';
	int descriptor = open(
	    slash == NULL ? "." : folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	int saved = errno;
	free(folder);
	errno = saved;
	return descriptor;
}

static bool
write_temporary(const char *path, const char *data, size_t length)
{
	int descriptor =
	    open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
	if (descriptor < 0)
		return false;
	bool good =
	    write_all(descriptor, data, length) && fsync(descriptor) == 0;
	int saved = errno;
	if (close(descriptor) != 0 && good) {
		saved = errno;
		good = false;
	}
	errno = saved;
	return good;
}

bool
file_replace(
    const char *path, const char *data, size_t length, struct error *error)
{
	size_t size = strlen(path) + sizeof ".new";
	char *temporary = memory_array(size, 1);
	(void)snprintf(temporary, size, "%s.new", path);
	int folder = open_folder(path);
	bool good = folder >= 0 && write_temporary(temporary, data, length) &&
		    rename(temporary, path) == 0;
	if (!good) {
		(void)error_set(error, ERROR_SYSTEM,
		    "cannot write %s: %s; the old file stays", path,
		    strerror(errno));
		(void)unlink(temporary);
	} else if (fsync(folder) != 0) {
		good = error_set(error, ERROR_SYSTEM,
		    "%s is written, but perhaps not yet on the disk: %s", path,
		    strerror(errno));
	}
	if (folder >= 0)
		(void)close(folder);
	free(temporary);
	return good;
}

static bool
make_one(const char *path, struct error *error)
{
	struct stat status;
	if (mkdir(path, 0700) == 0 ||
	    (stat(path, &status) == 0 && S_ISDIR(status.st_mode)))
		return true;
	return fail(error, path);
}

bool
file_make_folder(const char *path, struct error *error)
{
	char *copy = memory_string(path);
	bool good = true;
	char *first = copy[0] == '/' ? copy + 1 : copy;
	for (char *slash = first; good && *slash != '\0'; slash++) {
		if (*slash != '/')
			continue;
		*slash = '\0';
		good = make_one(copy, error);
		*slash = '/';
	}
	good = good && make_one(copy, error);
	free(copy);
	return good;
}

int
file_lock(const char *path, bool wait, struct error *error)
{
	int descriptor = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
	if (descriptor < 0) {
		(void)fail(error, path);
		return -1;
	}
	while (flock(descriptor, LOCK_EX | (wait ? 0 : LOCK_NB)) != 0) {
		if (errno == EINTR)
			continue;
		if (errno == EWOULDBLOCK)
			(void)error_set(error, ERROR_ANSWER,
			    "%s is held by another process", path);
		else
			(void)fail(error, path);
		(void)close(descriptor);
		return -1;
	}
	return descriptor;
}

void
file_unlock(int descriptor)
{
	if (descriptor >= 0)
		(void)close(descriptor);
}

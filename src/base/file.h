/* Whole files: read with a ceiling, replaced whole or not at all. */
#ifndef BASE_FILE_H
#define BASE_FILE_H

#include "base/error.h"
#include "base/text.h"

#include <stddef.h>

/* Appends the file's bytes to `ret`, up to where it failed; a longer file than
   its ceiling fails. */
bool file_read(const char *path, struct text *ret, struct error *error);

/*
 * Replaces `path`: writes a temporary file beside it, syncs it, renames it and
 * syncs the folder. On failure (a full disk, say) the old file is untouched
 * and no temporary file is left behind.
 */
bool file_replace(
    const char *path, const char *data, size_t length, struct error *error);

/* Creates the folder and its parents (mode 0700) if they are missing. */
bool file_make_folder(const char *path, struct error *error);

/*
 * Takes the lock file `path` for this process. `wait` says whether to wait for
 * another holder; without it a held lock is an ERROR_ANSWER. Returns a
 * descriptor for file_unlock, or -1.
 */
int file_lock(const char *path, bool wait, struct error *error);
void file_unlock(int descriptor); /* -1 is allowed */

#endif

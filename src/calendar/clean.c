#include "calendar/clean.h"

#include <string.h>

enum piece { PIECE_KEEP, PIECE_DROP, PIECE_SPACE, PIECE_BREAK };

/* Length of the well-formed UTF-8 sequence at `at`, or 0. */
static size_t
measure_sequence(const char *at, size_t left)
{
	for (size_t length = 1; length <= 4 && length <= left; length++) {
		if (text_is_utf8(at, length))
			return length;
	}
	return 0;
}

static enum piece
classify_byte(unsigned char byte)
{
	if (byte == '\n' || byte == '\r')
		return PIECE_BREAK;
	if (byte == ' ' || byte == '\t')
		return PIECE_SPACE;
	return byte < 0x20 || byte == 0x7F ? PIECE_DROP : PIECE_KEEP;
}

/*
 * Besides the ASCII controls: the controls U+0080 to U+009F; the line breaks
 * U+0085, U+2028 and U+2029, at which some readers split; U+FFFE and U+FFFF,
 * which no XML, and so no CalDAV report, can carry.
 */
static enum piece
classify(const char *at, size_t length)
{
	if (length == 1)
		return classify_byte((unsigned char)at[0]);
	if (memcmp(at, "\xC2\x85", 2) == 0)
		return PIECE_BREAK;
	if (length == 2 && (unsigned char)at[0] == 0xC2)
		return (unsigned char)at[1] < 0xA0 ? PIECE_DROP : PIECE_KEEP;
	if (length != 3)
		return PIECE_KEEP;
	if (memcmp(at, "\xE2\x80\xA8", 3) == 0 ||
	    memcmp(at, "\xE2\x80\xA9", 3) == 0)
		return PIECE_BREAK;
	if (memcmp(at, "\xEF\xBF\xBE", 3) == 0 ||
	    memcmp(at, "\xEF\xBF\xBF", 3) == 0)
		return PIECE_DROP;
	return PIECE_KEEP;
}

static void
keep(struct text *clean, const char *at, size_t length, enum cleaning how)
{
	if (how == CLEAN_CATEGORY && strchr(",;", *at) != NULL)
		text_add(clean, "/");
	else if (how == CLEAN_PLAIN && strchr(",;\\", *at) != NULL)
		text_add(clean, "-");
	else
		text_append(clean, at, length);
}

static void
add_space(struct text *clean, enum piece piece, enum cleaning how)
{
	if (how == CLEAN_LINES) {
		text_add(clean, piece == PIECE_BREAK ? "\n" : " ");
		return;
	}
	bool follows_word =
	    clean->length > 0 && clean->data[clean->length - 1] != ' ';
	if (follows_word)
		text_add(clean, " ");
}

static void
add_piece(struct text *clean, const char *at, size_t length, enum cleaning how)
{
	enum piece piece = classify(at, length);
	if (piece == PIECE_KEEP)
		keep(clean, at, length, how);
	else if (piece != PIECE_DROP)
		add_space(clean, piece, how);
}

static void
trim_end(struct text *clean)
{
	while (clean->length > 0 &&
	       strchr(" \n", clean->data[clean->length - 1]) != NULL)
		clean->data[--clean->length] = '\0';
}

bool
clean_text(const char *raw, enum cleaning how, struct text *ret)
{
	text_clear(ret);
	const char *at = raw == NULL ? "" : raw;
	size_t left = strlen(at);
	while (left > 0) {
		size_t length = measure_sequence(at, left);
		if (length == 0) {
			text_add(ret, "\xEF\xBF\xBD");
			length = 1;
		} else if (left > 1 && at[0] == '\r' && at[1] == '\n') {
			add_space(ret, PIECE_BREAK, how);
			length = 2;
		} else {
			add_piece(ret, at, length, how);
		}
		at += length;
		left -= length;
	}
	trim_end(ret);
	return !ret->failed;
}

#include "turf/weeds.h"

#include "base/memory.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* As strcmp, without blanks and letter case. */
static int
compare(const char *one, const char *other)
{
	for (;; one++, other++) {
		while (isspace((unsigned char)*one))
			one++;
		while (isspace((unsigned char)*other))
			other++;
		int a = tolower((unsigned char)*one);
		int b = tolower((unsigned char)*other);
		if (a != b || a == '\0')
			return a - b;
	}
}

bool
weed_same(const char *one, const char *other)
{
	return compare(one, other) == 0;
}

bool
product_controls(const struct product *product, const char *weed)
{
	for (size_t i = 0; i < product->control_count; i++)
		if (weed_same(product->control[i], weed))
			return true;
	return false;
}

/* "yellow nutsedge": small letters, one blank between words. The bytes of other
   letters are kept. */
static char *
spell(const char *weed)
{
	char *words = memory_array(strlen(weed) + 2, 1);
	size_t length = 0;
	for (; *weed != '\0'; weed++) {
		unsigned char c = (unsigned char)*weed;
		if (isalnum(c) || c >= 0x80)
			words[length++] = (char)tolower(c);
		else if (length > 0 && words[length - 1] != ' ')
			words[length++] = ' ';
	}
	if (length > 0 && words[length - 1] == ' ')
		words[--length] = '\0';
	return words;
}

static bool
is_near(const char *weed, const char *other)
{
	char *one = spell(weed), *two = spell(other);
	/* a few letters are in many names and say nothing */
	bool near = strlen(one) > 3 && strlen(two) > 3 &&
		    (strstr(one, two) != NULL || strstr(two, one) != NULL);
	free(one);
	free(two);
	return near;
}

static int
compare_weeds(const void *left, const void *right)
{
	const char *one = *(const char *const *)left;
	const char *other = *(const char *const *)right;
	int order = compare(one, other);
	return order != 0 ? order : strcmp(one, other);
}

/* Appends the near names of one card. */
static const char **
collect(const char **found, size_t *used, size_t *capacity, const char *weed,
    const struct product *product)
{
	for (size_t i = 0; i < product->control_count; i++) {
		if (!is_near(weed, product->control[i]))
			continue;
		found = memory_grow(found, *used, capacity, sizeof(char *));
		found[(*used)++] = product->control[i];
	}
	return found;
}

size_t
weeds_near(const char *weed, const struct product *products, size_t count,
    size_t most, struct text *ret)
{
	const char **found = NULL;
	size_t used = 0, capacity = 0, told = 0;
	for (size_t p = 0; p < count; p++)
		if (products[p].kind == PRODUCT_HERBICIDE)
			found = collect(
			    found, &used, &capacity, weed, &products[p]);
	if (used > 0)
		qsort(found, used, sizeof(char *), compare_weeds);
	for (size_t i = 0; i < used; i++) {
		if (i > 0 && weed_same(found[i], found[i - 1]))
			continue;
		told++;
		if (told <= most)
			text_format(
			    ret, "%s%s", told > 1 ? ", " : "", found[i]);
	}
	free(found);
	return told;
}

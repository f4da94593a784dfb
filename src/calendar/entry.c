#include "calendar/entry.h"

#include <string.h>

/*
 * FNV-1a with 64 bits; offset basis and prime as published by Fowler, Noll
 * and Vo (from memory). Numbers are taken as eight bytes, lowest first, so that
 * a stored hash means the same on every machine.
 */
static const uint64_t fnv_basis = 0xcbf29ce484222325U;
static const uint64_t fnv_prime = 0x100000001b3U;

static uint64_t
mix_byte(uint64_t hash, unsigned byte)
{
	return (hash ^ (byte & 0xFFU)) * fnv_prime;
}

static uint64_t
mix_number(uint64_t hash, uint64_t number)
{
	for (unsigned shift = 0; shift < 64; shift += 8)
		hash = mix_byte(hash, (unsigned)(number >> shift & 0xFFU));
	return hash;
}

/* The closing NUL keeps "ab", "c" apart from "a", "bc". NULL is empty. */
static uint64_t
mix_string(uint64_t hash, const char *string)
{
	const char *at = string == NULL ? "" : string;
	for (; *at != '\0'; at++)
		hash = mix_byte(hash, (unsigned char)*at);
	return mix_byte(hash, 0);
}

static uint64_t
mix_double(uint64_t hash, double number)
{
	uint64_t bits = 0;
	memcpy(&bits, &number, sizeof(bits));
	return mix_number(hash, bits);
}

static uint64_t
mix_categories(uint64_t hash, const char *const *categories)
{
	for (size_t i = 0; i < ENTRY_CATEGORIES_MAX; i++) {
		if (categories[i] == NULL)
			break;
		hash = mix_byte(hash, 1);
		hash = mix_string(hash, categories[i]);
	}
	return mix_byte(hash, 0);
}

/* Coordinates of an entry without a place are not content. */
static uint64_t
mix_place(uint64_t hash, const struct entry *entry)
{
	hash = mix_byte(hash, entry->has_place ? 1 : 0);
	if (!entry->has_place)
		return hash;
	hash = mix_double(hash, entry->latitude);
	return mix_double(hash, entry->longitude);
}

static uint64_t
mix_alarms(uint64_t hash, const struct entry *entry)
{
	hash = mix_number(hash, entry->alarm_count);
	for (size_t i = 0; i < entry->alarm_count && i < ENTRY_ALARMS_MAX;
	     i++) {
		hash = mix_number(hash, (uint64_t)entry->alarm[i].before);
		hash = mix_string(hash, entry->alarm[i].text);
	}
	return hash;
}

uint64_t
entry_hash(const struct entry *entry)
{
	uint64_t hash = mix_byte(fnv_basis, entry->all_day ? 1 : 0);
	hash = mix_number(hash, (uint64_t)entry->from);
	hash = mix_number(hash, (uint64_t)entry->to);
	hash = mix_string(hash, entry->summary);
	hash = mix_string(hash, entry->description);
	hash = mix_categories(hash, entry->categories);
	hash = mix_byte(hash, entry->status == ENTRY_CONFIRMED ? 1 : 0);
	hash = mix_place(hash, entry);
	return mix_alarms(hash, entry);
}

/*
 * Civil time for zones.py. Argument: a zone. Each line of the input is a
 * question: "u SECONDS" is answered by the offset then, "l 2026-03-02 07:15:00"
 * by the UTC second of that local time.
 */
#include "config/zone.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool
answer(const char *line, const struct zone *zone)
{
	int64_t at;
	if (strncmp(line, "u ", 2) == 0) {
		at = strtoll(line + 2, NULL, 10);
		printf("%d\n", zone_offset(zone, at));
		return true;
	}
	if (strncmp(line, "l ", 2) != 0 ||
	    !civil_parse(line + 2, zone, &at, NULL))
		return false;
	printf("%" PRId64 "\n", at);
	return true;
}

int
main(int argc, char **argv)
{
	struct zone zone;
	struct error error = { 0 };
	char line[64];
	if (argc != 2 || !zone_load(argv[1], &zone, &error)) {
		fprintf(stderr, "print_zones: %s\n", error.text);
		return 2;
	}
	while (fgets(line, sizeof line, stdin) != NULL) {
		line[strcspn(line, "\n")] = '\0';
		if (!answer(line, &zone)) {
			fprintf(stderr, "print_zones: '%s'?\n", line);
			return 2;
		}
	}
	return 0;
}

/* A good configuration, written out, and short ways to read one. */
#ifndef TESTS_UNIT_CONFIG_FIXTURE_H
#define TESTS_UNIT_CONFIG_FIXTURE_H

#include "unit/folder.h"

#include "config/config.h"

/* Lines 1 to 30; the tests put more behind it. */
#define GOOD                                                                   \
	"units = metric\n"                                                     \
	"contact = \"keeper@example.net\"\n"                                   \
	"calendar = \"${HOME}/lull.ics\"\n"                                    \
	"evening-alarm = \"20:30\"\n"                                          \
	"keep-off = \"6 h\"\n"                                                 \
	"sprayer \"backpack\" {\n"                                             \
	"\ttank = \"15 L\"\n\tcarrier = \"0.05 L/m2\"\n"                       \
	"\tpace = \"0.25 m2/s\"\n}\n"                                          \
	"site \"front\" {\n"                                                   \
	"\tlatitude = \"33.1 deg\"\n\tlongitude = \"-97.2 deg\"\n"             \
	"\tzone = America/Chicago\n\tarea = \"600 m2\"\n"                      \
	"\tsprayer = backpack\n\tforecast = \"nws-grid "                       \
	"file:documents/f.json\"\n"                                            \
	"\tturf = { \"2026-02-01 dormant\", \"2026-03-20 green-up\" }\n"       \
	"\thours = { \"06:30-10:30\", \"18:00-24:00\" }\n}\n"                  \
	"product \"post-a\" {\n"                                               \
	"\tlabel = \"invented label, page 3\"\n\trate = \"0.3 g/m2\"\n"        \
	"\ttemperature-ceiling = \"below 85 degF\"\n"                          \
	"\twind-maximum = \"12 mph\"\n\tturf = dormant\n"                      \
	"\tre-treatment = \"21 d\"\n\tkeep-off = \"24 h\"\n"                   \
	"\tlabel-rules = { wind-maximum, temperature-ceiling }\n}\n"

#define MORE                                                                   \
	"product dye {\n\tlabel = \"invented label\"\n}\n"                     \
	"practice \"wind-maximum\" {\n\tlimit = \"at most 10 mph\"\n"          \
	"\tsource = \"a publication\"\n}\n"                                    \
	"practice \"daylight\" {\n\tlimit = yes\n\tsource = \"another\"\n}\n"

struct reading {
	struct config config;
	struct text complaints;
	bool good;
};

static inline struct reading
read_text(const char *text)
{
	struct reading reading = { .good = false };
	text_init(&reading.complaints, 100000);
	reading.good = config_read_bytes(
	    "t.conf", text, strlen(text), &reading.config, &reading.complaints);
	return reading;
}

static inline void
end_reading(struct reading *reading)
{
	text_release(&reading->complaints);
	config_release(&reading->config);
}

static inline struct reading
read_good(const char *text)
{
	struct reading reading = read_text(text);
	if (!reading.good)
		fail_msg("%s", text_string(&reading.complaints));
	assert_string_equal(text_string(&reading.complaints), "");
	return reading;
}

#endif

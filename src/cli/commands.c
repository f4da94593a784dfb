/* The table of commands: one row, one file each. */
#include "cli/session.h"

#include <string.h>

static const char *const add_options[] = { "area", "*weed", "after", "before",
	"priority", "repeat", "note", NULL };
static const char *const calibrate_options[] = { "width", "length", "area",
	"caught", "*time", "catch-time", "*nozzle", "rated", "flow", "speed",
	"carrier", "+try", NULL };
static const char *const mix_options[] = { "+even", "+made", NULL };
static const char *const records_options[] = { "site", "since", "until",
	"+totals", "+all", "+csv", "+vjournal", NULL };
static const char *const why_options[] = { "at", NULL };
static const char *const done_options[] = { "from", "to", "area", "used", "who",
	"certification", "wind", "gust", "direction", "air", "humidity",
	"unusual", "leftover", "note", "replaces", NULL };
static const char *const now_options[] = { "wind", "gust", "direction", "air",
	"humidity", "green", "+dry", "+wet", NULL };
static const char *const observe_options[] = { "green", "soil", "rain",
	"irrigation", "+mowed", "+seeded", "+sodded", "+overseeded", "+aerated",
	"on", "note", "replaces", NULL };
static const char *const weather_options[] = { "columns", "hours", NULL };
static const char *const no_options[] = { NULL };

static const struct command commands[] = {
	{ "add",
	    "SITE [PRODUCT[=RATE]]... [--area A] [--weed W]... [--after D] "
	    "[--before D] [--priority 1..9] [--repeat SPAN] [--note T]",
	    "queue an application", add_options, 1, 1 + LIMIT_TANK_PRODUCTS,
	    NEEDS_STORE, command_add },
	{ "calibrate",
	    "SPRAYER [--width W] [--length L] [--area A] [--caught V] "
	    "[--time T]... [--catch-time T] [--nozzle V]... [--rated V] "
	    "[--flow F] [--speed S] [--carrier C] [--try]",
	    "what a sprayer puts down, from a catch test", calibrate_options, 1,
	    1, NEEDS_STORE, command_calibrate },
	{ "check", "", "read the configuration and say what is wrong",
	    no_options, 0, 0, NEEDS_CONFIG, command_check },
	{ "done",
	    "JOB [--from T] [--to T] [--area A] [--used V] [--who W] "
	    "[--certification C] [--wind W] [--gust G] [--direction D] "
	    "[--air T] [--humidity H] [--unusual T] [--leftover T] [--note T] "
	    "[--replaces RECORD]",
	    "record what was done", done_options, 1, 1, NEEDS_STORE,
	    command_done },
	{ "drop", "JOB", "take a job off the queue", no_options, 1, 1,
	    NEEDS_STORE, command_drop },
	{ "help", "", "list the commands", no_options, 0, 0, NEEDS_CONFIG,
	    command_help },
	{ "mix", "JOB [--even] [--made]", "what goes into the tank, and how",
	    mix_options, 1, 1, NEEDS_STORE, command_mix },
	{ "now",
	    "JOB [--wind W] [--gust G] [--direction D] [--air T] "
	    "[--humidity H] [--green P] [--dry | --wet]",
	    "the last look on site, with your own readings", now_options, 1, 1,
	    NEEDS_STORE, command_now },
	{ "observe",
	    "SITE [--green P] [--soil T] [--rain A] [--irrigation A] "
	    "[--mowed] [--seeded] [--sodded] [--overseeded] [--aerated] "
	    "[--on DATE] [--note T] [--replaces N]",
	    "tell what you saw, did or plan on a site", observe_options, 1, 1,
	    NEEDS_STORE, command_observe },
	{ "postpone", "JOB UNTIL", "do not start a job before a time",
	    no_options, 2, 2, NEEDS_STORE, command_postpone },
	{ "queue", "", "every waiting job with its slot", no_options, 0, 0,
	    NEEDS_STORE, command_queue },
	{ "records",
	    "[--site S] [--since D] [--until D] [--totals] [--all] "
	    "[--csv | --vjournal]",
	    "what was done, for whoever asks", records_options, 0, 0,
	    NEEDS_STORE, command_records },
	{ "refresh", "", "fetch, judge, plan and publish now", no_options, 0, 0,
	    NEEDS_STORE, command_refresh },
	{ "stock", "[PRODUCT]", "what is left on the shelf", no_options, 0, 1,
	    NEEDS_STORE, command_stock },
	{ "weather", "SITE [--columns LIST] [--hours N]",
	    "the forecast in use, with its source and age", weather_options, 1,
	    1, NEEDS_STORE, command_weather },
	{ "why", "JOB [--at TIME]", "every rule at one start", why_options, 1,
	    1, NEEDS_STORE, command_why },
	{ "windows", "JOB", "every window in the forecast", no_options, 1, 1,
	    NEEDS_STORE, command_windows },
};

const struct command *
command_at(size_t i)
{
	return i < sizeof commands / sizeof commands[0] ? &commands[i] : NULL;
}

const struct command *
command_find(const char *name)
{
	for (size_t i = 0; command_at(i) != NULL; i++)
		if (strcmp(command_at(i)->name, name) == 0)
			return command_at(i);
	return NULL;
}

int
command_help(struct session *session)
{
	text_add(&session->out,
	    "usage: lull COMMAND [ARGUMENTS] [--json] [--now TIME]\n"
	    "            [--config FILE] [--state DIR]\n\n");
	for (size_t i = 0; command_at(i) != NULL; i++)
		text_format(&session->out, "  %-9s %s\n", command_at(i)->name,
		    command_at(i)->help);
	text_add(&session->out, "\nlull(1) tells more.\n");
	return 0;
}

#include "cli/session.h"

#include "base/memory.h"
#include "service/pass.h"

#include <errno.h>
#include <getopt.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Options of every command; the numbers are getopt's answers. */
enum { COMMON_CONFIG = 1000, COMMON_STATE, COMMON_NOW, COMMON_JSON, COMMON };

int
session_fail(
    struct session *session, enum error_kind kind, const char *format, ...)
{
	char sentence[sizeof session->error.text];
	va_list arguments;
	va_start(arguments, format);
	(void)vsnprintf(sentence, sizeof sentence, format, arguments);
	va_end(arguments);
	(void)error_set(&session->error, kind, "%s", sentence);
	return (int)kind;
}

/* The name of an option in the table, without the mark. */
static const char *
option_name(const char *option)
{
	return option[0] == OPTION_ALONE || option[0] == OPTION_OFTEN
		   ? option + 1
		   : option;
}

const char *
session_option_at(const struct session *session, const char *name, size_t i)
{
	const char *const *options = session->command->options;
	for (size_t g = 0; g < session->given_count; g++) {
		const struct given *given = &session->given[g];
		if (strcmp(option_name(options[given->option]), name) == 0 &&
		    i-- == 0)
			return given->value;
	}
	return NULL;
}

const char *
session_option(const struct session *session, const char *name)
{
	return session_option_at(session, name, 0);
}

static size_t
list_options(
    const struct command *command, struct option ret[OPTIONS_MAX + COMMON])
{
	static const struct option common[] = {
		{ "config", required_argument, NULL, COMMON_CONFIG },
		{ "state", required_argument, NULL, COMMON_STATE },
		{ "now", required_argument, NULL, COMMON_NOW },
		{ "json", no_argument, NULL, COMMON_JSON },
	};
	size_t count = 0;
	for (size_t i = 0; command->options[i] != NULL; i++) {
		const char *option = command->options[i];
		ret[count++] = (struct option){ option_name(option),
			option[0] == OPTION_ALONE ? no_argument
						  : required_argument,
			NULL, (int)i };
	}
	for (size_t i = 0; i < sizeof common / sizeof common[0]; i++)
		ret[count++] = common[i];
	ret[count] = (struct option){ 0 };
	return count;
}

static bool
say_usage(struct session *session)
{
	const struct command *command = session->command;
	return error_set(&session->error, ERROR_INPUT, "usage: lull %s%s%s",
	    command->name, command->synopsis[0] != '\0' ? " " : "",
	    command->synopsis);
}

/* Which of two values was meant nobody can tell. */
static bool
keep_option(struct session *session, size_t option, const char *value)
{
	const char *mark = session->command->options[option];
	const char *name = option_name(mark);
	if (session->given_count == ARGUMENTS_MAX)
		return say_usage(session);
	if (mark[0] != OPTION_OFTEN && session_option(session, name) != NULL)
		return error_set(
		    &session->error, ERROR_INPUT, "--%s is given twice", name);
	session->given[session->given_count++] =
	    (struct given){ option, value == NULL ? "" : value };
	return true;
}

static bool
take_option(struct session *session, int answer, const char *value)
{
	static const struct zone utc = { 0 };
	switch (answer) {
	case COMMON_CONFIG:
		session->config_path = value;
		return true;
	case COMMON_STATE:
		session->state = value;
		return true;
	case COMMON_JSON:
		session->json = true;
		return true;
	case COMMON_NOW:
		session->clock.fixed = true;
		if (civil_parse(
			value, &utc, &session->clock.at, &session->error))
			return true;
		return error_prefix(&session->error, "--now");
	default:
		break;
	}
	if (answer < 0 || answer >= OPTIONS_MAX)
		return say_usage(session);
	return keep_option(session, (size_t)answer, value);
}

bool
session_read_arguments(struct session *session, int argc, char **argv)
{
	struct option options[OPTIONS_MAX + COMMON] = { 0 };
	const struct command *command = session->command;
	(void)list_options(command, options);
	opterr = 0;
	int answer;
	while ((answer = getopt_long(argc, argv, "", options, NULL)) != -1)
		if (!take_option(session, answer, optarg))
			return false;
	for (int i = optind; i < argc; i++) {
		if (session->word_count == ARGUMENTS_MAX)
			break;
		session->word[session->word_count++] = argv[i];
	}
	if (session->word_count >= command->least &&
	    session->word_count <= command->most)
		return true;
	return say_usage(session);
}

bool
session_time(struct session *session, const char *name, const struct zone *zone,
    int64_t *ret)
{
	const char *text = session_option(session, name);
	return text == NULL || civil_parse(text, zone, ret, &session->error) ||
	       error_prefix(&session->error, "--%s", name);
}

bool
session_quantity(struct session *session, const char *name,
    enum quantity_kind kind, double least, double most, double *ret)
{
	const char *text = session_option(session, name);
	double value;
	if (text == NULL)
		return true;
	if (!quantity_parse(text, kind, &value, &session->error))
		return error_prefix(&session->error, "--%s", name);
	if (value < least || value > most)
		return error_set(&session->error, ERROR_INPUT,
		    "--%s: '%.40s' is too %s", name, text,
		    value < least ? "little" : "much");
	*ret = value;
	return true;
}

/* It is shown in lists, where a control character would move what follows. */
static bool
check_text(struct session *session, const char *name, const char *text)
{
	size_t length = strlen(text);
	bool good = length <= LIMIT_TEXT_BYTES && text_is_utf8(text, length);
	for (size_t i = 0; good && i < length; i++)
		good = (unsigned char)text[i] >= ' ' && text[i] != '\x7f';
	return good ||
	       error_set(&session->error, ERROR_INPUT,
		   "--%s: not one line of UTF-8 text of at most %d bytes", name,
		   (int)LIMIT_TEXT_BYTES);
}

bool
session_text(struct session *session, const char *name, char **ret)
{
	struct text all;
	const char *text;
	bool good = true;
	/* too much of it is cut here and refused below */
	text_init(&all, (size_t)4 * LIMIT_TEXT_BYTES);
	for (size_t i = 0;
	     good && (text = session_option_at(session, name, i)) != NULL;
	     i++) {
		good = check_text(session, name, text);
		text_format(&all, "%s%s", i > 0 ? ", " : "", text);
	}
	good = good && check_text(session, name, text_string(&all));
	if (good)
		*ret = memory_string(text_string(&all));
	text_release(&all);
	return good;
}

const struct site *
session_site(struct session *session)
{
	const char *name = session->word[0];
	const struct site *site = config_site(&session->keeper.config, name);
	if (site == NULL)
		(void)error_set(&session->error, ERROR_ANSWER,
		    "there is no site '%.64s'", name);
	return site;
}

bool
session_job(struct session *session, size_t word, int64_t *ret)
{
	const char *text = session->word[word];
	char *end;
	errno = 0;
	long long id = strtoll(text, &end, 10);
	if (errno != 0 || end == text || *end != '\0' || id <= 0)
		return error_set(&session->error, ERROR_INPUT,
		    "'%.40s' is not the number of a job", text);
	*ret = id;
	return true;
}

int
session_print_json(struct session *session, cJSON *json)
{
	cJSON *whole = cJSON_CreateObject();
	cJSON_AddNumberToObject(whole, "format", 1);
	while (json->child != NULL) {
		cJSON *item = cJSON_DetachItemViaPointer(json, json->child);
		cJSON_AddItemToObject(whole, item->string, item);
	}
	char *printed = cJSON_Print(whole);
	text_add(&session->out, printed);
	text_add(&session->out, "\n");
	cJSON_free(printed);
	cJSON_Delete(whole);
	cJSON_Delete(json);
	return 0;
}

int
session_print_outcome(struct session *session, int64_t id, const char *state)
{
	cJSON *json = cJSON_CreateObject();
	cJSON_AddNumberToObject(json, "job", (double)id);
	cJSON_AddStringToObject(json, "state", state);
	return session_print_json(session, json);
}

cJSON *
json_rounded(double value, int decimals)
{
	double scale = pow(10, decimals);
	return isfinite(value)
		   ? cJSON_CreateNumber(round(value * scale) / scale)
		   : cJSON_CreateNull();
}

cJSON *
json_time(const struct zone *zone, int64_t utc)
{
	char buffer[CIVIL_BUFFER];
	return cJSON_CreateString(
	    civil_print(buffer, sizeof buffer, zone, utc, CIVIL_STAMP));
}

int
session_pass(struct session *session)
{
	struct pass_order order = { .interrupt = -1 };
	struct pass_report report;
	if (!pass_run(&session->keeper, &order, &report, &session->error))
		return (int)session->error.kind;
	text_release(&report.trouble);
	return 0;
}

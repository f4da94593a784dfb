/* lull(1): the keeper's command line. */
#include "calendar/entry.h"
#include "cli/session.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>

static int
run(struct session *session)
{
	struct text complaints;
	int code = ERROR_INPUT;
	text_init(&complaints, LIMIT_OUTPUT_BYTES);
	bool good = session->command->run == command_help ||
		    keeper_init(&session->keeper, session->config_path,
			session->state, session->clock, &complaints);
	if (!good)
		(void)fputs(text_string(&complaints), stderr);
	else if (session->command->needs == NEEDS_STORE &&
		 !keeper_open_store(&session->keeper, &session->error))
		code = (int)session->error.kind;
	else
		code = session->command->run(session);
	text_release(&complaints);
	keeper_release(&session->keeper);
	return code;
}

/* A full disk or a closed pipe on standard output is a failure, too. */
static int
flush(struct session *session, int code)
{
	const char *out = text_string(&session->out);
	if (session->out.length > 0 &&
	    (fputs(out, stdout) == EOF || fflush(stdout) == EOF)) {
		perror("lull");
		code = ERROR_SYSTEM;
	}
	if (session->error.text[0] != '\0')
		(void)fprintf(stderr, "lull: %s\n", session->error.text);
	text_release(&session->out);
	return code;
}

int
main(int argc, char **argv)
{
	const char *name = argc > 1 ? argv[1] : "help";
	struct session session = { 0 };
	if (strcmp(name, "--help") == 0)
		name = "help";
	session.command = command_find(name);
	if (session.command == NULL) {
		(void)fprintf(stderr,
		    "lull: there is no command '%.40s'; lull help lists them\n",
		    name);
		return ERROR_INPUT;
	}
	(void)signal(SIGPIPE, SIG_IGN);
	text_init(&session.out, LIMIT_OUTPUT_BYTES);
	int code = ERROR_INPUT;
	if (session_read_arguments(&session, argc > 1 ? argc - 1 : argc,
		argc > 1 ? argv + 1 : argv))
		code = run(&session);
	code = flush(&session, code);
	calendar_finish();
	return code;
}

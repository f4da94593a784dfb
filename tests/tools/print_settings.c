/* Prints the table of settings as lull.conf(5) shows it. */
#include "base/limits.h"
#include "config/settings.h"

#include <stdio.h>

int
main(void)
{
	struct text text;
	text_init(&text, LIMIT_OUTPUT_BYTES);
	settings_print_mdoc(&text);
	(void)fputs(text_string(&text), stdout);
	text_release(&text);
	return 0;
}

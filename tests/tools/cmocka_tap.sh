#!/bin/sh
# Runs a cmocka program as a TAP test. cmocka 1.1.5 writes a skipped test as
# "not ok N # SKIP", which automake's driver counts as a failure; and its exit
# code is the number of failures, which the TAP lines tell already. With
# LULL_VALGRIND set the program runs under it.
: "${srcdir:?}"
set -u
out=$(mktemp) || exit 99
if [ -n "${LULL_VALGRIND-}" ]; then
	set -- valgrind -q --leak-check=full --show-leak-kinds=definite,indirect,possible \
		--suppressions="$srcdir/tests/tools/valgrind.supp" --error-exitcode=99 "$@"
fi
CMOCKA_MESSAGE_OUTPUT=TAP "$@" >"$out"
code=$?
sed 's/^not ok \([0-9][0-9]*\) # SKIP/ok \1 # SKIP/' "$out"
rm -f "$out"
if [ "$code" -gt 128 ]; then
	echo "Bail out! signal $((code - 128))"
	exit "$code"
fi
if [ "$code" -eq 99 ]; then
	echo "Bail out! valgrind or a sanitizer found a fault"
	exit "$code"
fi
exit 0

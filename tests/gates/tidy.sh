#!/bin/sh
# clang-tidy, as .clang-tidy sets it up, finds nothing.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need clang-tidy
make_scratch

# One file at a time, two at once: each writes its own log, so that findings
# do not mix, and the count of hidden warnings on stderr goes nowhere.
# shellcheck disable=SC2016
check='log=$0/$(echo "$1" | tr / -)
	clang-tidy --quiet "$1" -- -std=c11 -D_GNU_SOURCE -Isrc -Itests \
		>"$log" 2>"$log.err" || {
		cat "$log"
		grep -v "warnings\{0,1\} .*generated" "$log.err"
		exit 1
	}'
sources '*.c' | xargs -n 1 -P 2 sh -c "$check" "$scratch" || exit 1

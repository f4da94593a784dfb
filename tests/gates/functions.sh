#!/bin/sh
# No function is longer than 60 lines or has more than 15 ways through it.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need pmccabe
make_scratch

# Of pmccabe's columns the second counts each case of a switch.
sources '*.[ch]' | xargs pmccabe >"$scratch/counts"
test -s "$scratch/counts"
awk '
	$2 > 15 { print $6 " " $7 ": complexity " $2 ", at most 15"; bad = 1 }
	$5 > 60 { print $6 " " $7 ": " $5 " lines, at most 60"; bad = 1 }
	END { exit bad }
' "$scratch/counts"

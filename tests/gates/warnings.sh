#!/bin/sh
# Both compilers are content with every file, and with each header by itself.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need gcc clang
make_scratch

flags='-std=c11 -D_GNU_SOURCE -Isrc -Itests -Wall -Wextra -Wpedantic -Wshadow
	-Wconversion -Wstrict-prototypes -Wformat=2 -Werror'

# A file that includes the header, twice, and nothing else.
mkdir "$scratch/alone"
sources '*.h' | while read -r header; do
	path=${header#*/}
	name=$(echo "$header" | tr / - | sed 's/\.h$/.c/')
	printf '#include "%s"\n#include "%s"\n' "$path" "$path" \
		>"$scratch/alone/$name"
done
{
	sources '*.c'
	find "$scratch/alone" -name '*.c'
} >"$scratch/files"

status=0
for compiler in gcc clang; do
	# The flags are words.
	# shellcheck disable=SC2086
	xargs -n 8 -P 2 "$compiler" -fsyntax-only $flags <"$scratch/files" ||
		status=1
done
exit "$status"

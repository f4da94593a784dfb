#!/bin/sh
# No common misspelling in any text of ours.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need codespell
make_scratch

if in_clone; then
	git ls-files --cached --others --exclude-standard >"$scratch/all"
else
	find README.md DEVELOPERS.md LICENSE configure.ac Makefile.am \
		src tests conf demo docs -type f >"$scratch/all"
fi
# What a fuzzer found or a service sent is not ours to spell; a file that was
# just removed may still be listed.
grep -v -e '^tests/fuzz/corpus/' -e '^tests/data/' "$scratch/all" |
	while read -r file; do
		[ ! -f "$file" ] || printf '%s\n' "$file"
	done >"$scratch/files"
xargs codespell -I .codespell-ignore <"$scratch/files" || exit 1

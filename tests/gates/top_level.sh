#!/bin/sh
# The top of the tree holds the few entries that the house allows, and all of
# them. Dot files are free.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"

allowed='README.md DEVELOPERS.md LICENSE configure.ac Makefile.am
	src tests conf demo docs'
generated='configure configure~ Makefile.in aclocal.m4 autom4te.cache'

# In a clone the generated files must be ones that git ignores; a release
# carries them, and distcheck builds in folders beside them.
tolerated() {
	if in_clone; then
		git check-ignore -q "$1"
		return
	fi
	for known in $generated _build _inst; do
		[ "$1" != "$known" ] || return 0
	done
	return 1
}

listed() {
	for known in $allowed; do
		[ "$1" != "$known" ] || return 0
	done
	return 1
}

status=0
for entry in *; do
	listed "$entry" || tolerated "$entry" && continue
	echo "$entry does not belong at the top"
	status=1
done
for entry in $allowed; do
	[ ! -e "$entry" ] || continue
	echo "$entry is missing"
	status=1
done
exit "$status"

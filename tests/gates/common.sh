# shellcheck shell=sh
# What the gates share: where the tree and the build are, which files are ours,
# and what to do without a tool. Source it first; it moves into the source tree,
# which may be read-only.

: "${srcdir:=$(dirname "$0")/../..}"
: "${builddir:=.}"
builddir=$(cd "$builddir" && pwd) || exit 1
cd "$srcdir" || exit 1
srcdir=$(pwd)

# Ends the gate when a tool is missing: skipped, or failed where all must run.
need() {
	for tool; do
		command -v "$tool" >/dev/null 2>&1 && continue
		echo "$tool is not installed"
		[ "${LULL_REQUIRE_ALL-}" = 1 ] && exit 1
		exit 77
	done
}

# Our files under src and tests whose names match the pattern.
sources() {
	find src tests -type f -name "$1" ! -path 'tests/fuzz/corpus/*' | sort
}

# True in a clone; a release has no git and may lie inside of another project.
in_clone() {
	[ -e .git ] && git rev-parse --git-dir >/dev/null 2>&1
}

# Makes the folder $scratch, which goes when the gate ends.
make_scratch() {
	scratch=$(mktemp -d)
	trap 'rm -rf "$scratch"' EXIT
	trap 'exit 1' HUP INT TERM
}

#!/bin/sh
# A file includes from its own or a lower floor, no two folders include each
# other, and no header comes back to itself. The check is then tried on copies
# of the tree with a fault of each kind.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
make_scratch

# "FILE INCLUDED" for each include in quotes under src.
list_includes() {
	find src -type f -name '*.[ch]' -exec awk '
		/^[ \t]*#[ \t]*include[ \t]*"/ {
			split($0, part, "\"")
			print FILENAME, part[2]
		}' {} +
}

check_floors() {
	awk '
	BEGIN {
		split("base:0 physics:1 weather:2 turf:2 advice:3 config:4 " \
			"store:4 calendar:4 page:4 service:5 cli:5 src:6", row, " ")
		for (i in row) {
			split(row[i], part, ":")
			floor_of[part[1]] = part[2]
		}
	}
	function complain(text) {
		print text
		bad = 1
	}
	{
		parts = split($1, path, "/")
		from = parts == 2 ? "src" : path[2]
		to = $2
		sub("/.*", "", to)
		if (!(from in floor_of))
			complain($1 ": the folder " from " has no floor")
		else if (!(to in floor_of) || $2 !~ "/")
			complain($1 ": \"" $2 "\" does not start with a floor")
		else if (floor_of[to] > floor_of[from])
			complain($1 ": " from " may not include " to)
		if (from == to)
			next
		if ((to, from) in user)
			complain($1 ": " from " includes " to ", and " \
				user[to, from] " the other way")
		user[from, to] = $1
	}
	END { exit bad }'
}

check_cycles() {
	awk '$1 ~ /\.h$/ { print $1, "src/" $2 }' | { tsort >/dev/null; } 2>&1
}

# All of it, for the tree in the folder.
check_tree() (
	cd "$1"
	list_includes >"$scratch/includes"
	test -s "$scratch/includes" || { echo "no includes under src"; return 1; }
	status=0
	check_floors <"$scratch/includes" || status=1
	check_cycles <"$scratch/includes" || status=1
	return "$status"
)

# plant WHAT SIGN FILE INCLUDED [FILE INCLUDED]: the check must object, and
# must say what it objects to.
plant() {
	what=$1
	sign=$2
	shift 2
	rm -rf "$scratch/copy"
	mkdir "$scratch/copy"
	cp -R src "$scratch/copy/src"
	chmod -R u+w "$scratch/copy"
	while [ $# -gt 0 ]; do
		echo "#include \"$2\"" >>"$scratch/copy/src/$1"
		shift 2
	done
	if check_tree "$scratch/copy" >"$scratch/said" 2>&1; then
		echo "the check does not see $what"
		return 1
	elif ! grep -q "$sign" "$scratch/said"; then
		echo "the check sees something else than $what:"
		cat "$scratch/said"
		return 1
	fi
}

check_tree "$srcdir" || exit 1
plant "an include from a higher floor" "base may not include service" \
	base/text.c service/loop.h
plant "two folders that include each other" "the other way" \
	store/planted.h config/config.h config/planted.h store/store.h
plant "a cycle of headers" "src/turf/second.h" \
	turf/first.h turf/second.h turf/second.h turf/first.h
plant "an include without a floor" "does not start with a floor" \
	turf/planted.c mix.h

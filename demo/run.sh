#!/bin/sh
# The demonstration: builds lull and walks through one invented week. The clock
# is fixed, so every run prints the same.
#
#     demo/run.sh
#
# On a Debian 12 without the build packages it installs them with apt, which
# needs root. The build goes to $LULL_BUILD and stays there, or to a temporary
# folder that is removed at the end.
set -eu

here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
top=$(dirname -- "$here")
packages="build-essential autoconf automake autoconf-archive pkg-config
libcurl4-openssl-dev libcjson-dev libical-dev libconfuse-dev libsqlite3-dev zlib1g-dev
tzdata ca-certificates"

work=$(mktemp -d)
log=$work/build.log
trap 'rm -rf "$work"' EXIT
trap 'exit 129' HUP
trap 'exit 130' INT
trap 'exit 143' TERM

heading() {
	printf '\n== %s\n' "$1"
}

# Runs a command whose chatter matters only when it fails.
quietly() {
	if ! "$@" >>"$log" 2>&1; then
		echo "demo: this failed: $*" >&2
		cat "$log" >&2
		exit 1
	fi
}

missing_packages() {
	for package in $packages; do
		state=$(dpkg-query -W -f '${db:Status-Status}' "$package" \
			2>/dev/null) || state=
		[ "$state" = installed ] || echo "$package"
	done
}

apt_install() {
	DEBIAN_FRONTEND=noninteractive apt-get -y -q \
		-o DPkg::Lock::Timeout=600 install --no-install-recommends "$@"
}

apt_update() {
	apt-get -q -o DPkg::Lock::Timeout=600 update
}

install_packages() {
	missing=$(missing_packages | tr '\n' ' ')
	[ -n "$missing" ] || return 0
	if [ "$(id -u)" -ne 0 ]; then
		echo "demo: as root, install first:" "$missing" >&2
		exit 1
	fi
	# shellcheck disable=SC2086 # one word for each package
	if ! apt_install $missing >>"$log" 2>&1; then
		quietly apt_update
		# shellcheck disable=SC2086
		quietly apt_install $missing
	fi
}

build() {
	[ -x "$top/configure" ] || (cd "$top" && quietly autoreconf -i)
	mkdir -p "$1"
	cd "$1"
	[ -f Makefile ] || quietly "$top/configure"
	quietly make -j "$(nproc)" lull lulld
}

# The scenario's own folder; the programs work in it and print no other path.
prepare() {
	mkdir "$work/week"
	cd "$work/week"
	cp "$here/lull.conf" "$top/conf/practice.conf" .
	cp "$here/week-1.json" forecast.json
	now=2026-03-16T07:00-05:00
}

# Shows a command as one would type it, then runs it. "No" is an answer.
lull() {
	shown=
	for word in "$@"; do
		case $word in
		*[\ \(\)]*) shown="$shown \"$word\"" ;;
		*) shown="$shown $word" ;;
		esac
	done
	printf '\n$ lull%s\n' "$shown"
	name=$1
	shift
	"$programs/lull" "$name" --config lull.conf --state state \
		--now "$now" "$@" || [ $? -eq 1 ]
}

# The entry of the calendar whose lines match $1, as it stands in the file.
entry() {
	awk -v wanted="$1" '
		{ sub(/\r$/, "") }
		/^BEGIN:VEVENT/ { text = ""; inside = 1; hit = 0 }
		inside { text = text $0 "\n"; if ($0 ~ wanted) hit = 1 }
		/^END:VEVENT/ { inside = 0; if (hit) { printf "%s", text; exit } }
	' state/lull.ics
}

echo "This is an invented scenario: the town of Tarrow Bend, the lawn, its week"
echo "of weather and the products do not exist. The clock stands at Monday,"
echo "16 March 2026, 07:00."

heading "Build"
echo
echo "Build packages are installed if they are missing; then autoreconf,"
echo "configure and make."
install_packages
build "${LULL_BUILD:-$work/build}"
programs=$(pwd)
prepare
echo "Done."

heading "The configuration: two lawns, one sprayer, five cards"
lull check
lull refresh

heading "The sprayer: a catch test on a course of 56 ft 8 in, walked twice"
lull calibrate backpack --time "41 s" --time "43 s" --caught "44 fl oz"

heading "Henbit and clover in the front: what has the shelf against them?"
lull add front --weed henbit --weed "white clover"

heading "Three jobs for the queue"
lull add front post-b surfactant-n dye-m --weed henbit
lull add back dormant-c dye-m --note "gate code at the office"
lull add back post-a surfactant-n --after 2026-03-19

heading "The queue"
lull queue

heading "Why not on Friday afternoon? Every rule, one by one"
lull why 1 --at "2026-03-20 15:00"

heading "Every window of the first job"
lull windows 1

heading "The sheet for the bench: the second job"
lull mix 2

heading "The calendar: the entry of the first job, as any calendar app reads it"
echo
grep -c '^BEGIN:VEVENT' state/lull.ics | sed 's/$/ entries; one of them:/'
echo
entry '^SUMMARY:GO: front'

heading "Monday, 18:50: a new forecast brings rain on Tuesday"
cp "$here/week-2.json" forecast.json
now=2026-03-16T18:50-05:00
lull refresh
lull queue

heading "The notice in the calendar that says why the slot moved"
echo
entry '^SUMMARY:MOVED: front'

heading "The first job is done: the record, and what follows"
now=2026-03-18T11:00-05:00
lull "done" 1 --wind "5 mph" --direction "200 deg" --air "61 degF" \
	--humidity "58 %"
lull records --totals
lull stock

heading "The calendar: when to look at the result"
echo
entry '^SUMMARY:LOOK: front'

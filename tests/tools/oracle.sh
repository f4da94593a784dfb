#!/bin/sh
# Runs an oracle with the program that it asks: NAME.py gets the one of the
# same family from the build folder; those that read a calendar get a file of
# what it prints.
set -eu
: "${builddir:?}"
name=$(basename "$1")
case $name in
crash_store.py) program=tests/oracle/crash_store ;;
fetch.py) program=tests/oracle/fetch_client ;;
ics_*) program=tests/oracle/print_calendar ;;
slow_judge.py) program=tests/oracle/print_verdicts ;;
slow_judge_cards.py) program=lull ;;
sun.py) program=tests/oracle/print_sun ;;
units.py) program=tests/oracle/print_units ;;
zones.py) program=tests/oracle/print_zones ;;
*)
	echo "Bail out! no program for $name"
	exit 1
	;;
esac
program=$builddir/$program
case $name in
ics_js.mjs | ics_radicale.py)
	file=$(mktemp)
	trap 'rm -f "$file"' EXIT
	"$program" >"$file"
	if [ "$name" = ics_radicale.py ]; then
		/usr/bin/python3 "$1" "$file"
	elif command -v node >/dev/null 2>&1; then
		node "$1" "$file" ${LULL_ICAL_JS:+--module "$LULL_ICAL_JS"}
	else
		echo "1..0 # SKIP node is not installed"
	fi
	;;
*) exec /usr/bin/python3 "$1" "$program" ;;
esac

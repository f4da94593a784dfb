#!/bin/sh
# A pre-emergent that wants water: what rain and the hose bring is counted, what
# is short becomes a task in the calendar, and a deadline that passed is told.
# The label is invented in the shape of a prodiamine one: 0.5 in in 14 days.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

cat >lull.conf <<'CONF'
units = us
sprayer "backpack" {
	tank = "4 gal"
	carrier = "1 gal/1000 ft2"
	pace = "150 ft2/min"
	fill = "10 min"
}
site "front" {
	latitude = "33.6 deg"
	longitude = "-99.4 deg"
	zone = "America/Chicago"
	area = "3000 ft2"
	sprayer = "backpack"
	forecast = "nws-grid file:forecast.json"
}
product "pre-c" { label = "invented label, page 2" rate = "1 fl oz/1000 ft2" water-in = "0.5 in within 14 d" }
product "two-stage" { label = "invented" rate = "1 fl oz/1000 ft2" water-in = "0.5 in within 7 d" water-in-after = "24 h" }
CONF

# day DATE [HOUR RAIN...]: a forecast of that morning, and a pass at half past
# seven. RAIN are spells of the day itself, in mm in one hour of UTC.
day() {
	$python - "$@" <<-'END' | grid forecast.json
		import json, sys
		spells = []
		for spell in sys.argv[2:]:
		    begins, ends, mm = spell.split(",")
		    spells.append(["quantitativePrecipitation", begins, ends, float(mm)])
		    spells.append(["probabilityOfPrecipitation", begins, ends, 80])
		print(json.dumps({"issued": sys.argv[1] + "T12:00Z", "fine": 180, "spells": spells}))
	END
	clock "$1T07:30-05:00"
	lull refresh >/dev/null 2>&1 || true
}

task="[e for e in events('state/lull.ics').values() if '-water-' in e['UID']]"

# No task stands in the calendar.
none() {
	holds "$task == []"
}

# one SUMMARY: a single task says so.
one() {
	is_so "[e['SUMMARY'] for e in $task] == ['$1']" && return 0
	grep -A1 -e '^SUMMARY' state/lull.ics || true
	fail "it is not one task: $1"
}

# sprayed PRODUCT: an empty store, and a record of the tenth, until 07:20.
sprayed() {
	rm -rf state
	day 2026-03-10
	lull add front "$1" >out 2>&1 || true
	expect 0 lull "done" 1 --from "2026-03-10 07:00" --to "2026-03-10 07:20"
	none
}

# dry DAY...: mornings of March without rain.
dry() {
	for number in "$@"; do
		day "2026-03-$number"
	done
}

# 0.2 in on days 3 and 9: the task comes for day 12, and can be seen on day 11.
sprayed pre-c
dry 11 12
day 2026-03-13 2026-03-13T20:00Z,2026-03-13T21:00Z,5.08
dry 14
cp -r state gap
dry 15 16 17 18
day 2026-03-19 2026-03-19T20:00Z,2026-03-19T21:00Z,5.08
dry 20
none
dry 21
one "IRRIGATE: front, pre-c: 0.1 in by Tue 24 Mar"
holds "str(${task}[0]['DTSTART'].dt) == '2026-03-22'" \
	"str(${task}[0]['DTEND'].dt) == '2026-03-25'" \
	"${task}[0]['SEQUENCE'] == 0" \
	"'invented label, page 2' in ${task}[0]['DESCRIPTION']" \
	"'Received: 0.4 in' in ${task}[0]['DESCRIPTION']"

# The clock alone changes nothing, neither of the day nor of the next.
cp state/lull.ics before.ics
clock 2026-03-21T23:45-05:00
expect 0 lull refresh
cmp before.ics state/lull.ics || fail "the clock changed the calendar"
dry 22
cmp before.ics state/lull.ics || fail "the day changed the calendar"

# Rain that will do it takes the task away, and brings it back when it is gone.
day 2026-03-22 2026-03-24T20:00Z,2026-03-24T21:00Z,2.6
none
dry 22
one "IRRIGATE: front, pre-c: 0.1 in by Tue 24 Mar"
cp -r state short

# A plan is no water; what was done is.
expect 0 lull observe front --irrigation "0.1 in" --on "2026-03-23 06:00"
one "IRRIGATE: front, pre-c: 0.1 in by Tue 24 Mar"
expect 0 lull observe front --irrigation "0.1 in"
none
dry 25
none

# Nobody watered: the day after says so, until the keeper knows better.
rm -rf state && mv short state
dry 23 24
one "IRRIGATE: front, pre-c: 0.1 in by Tue 24 Mar"
dry 25
one "NO WATER: front, pre-c: 0.1 in of 0.5 in missing by Tue 24 Mar"
holds "str(${task}[0]['DTSTART'].dt) == '2026-03-25'"
dry 31
one "NO WATER: front, pre-c: 0.1 in of 0.5 in missing by Tue 24 Mar"
expect 0 lull observe front --rain "0.3 in" --on 2026-03-13
none

# Days that nobody looked at: the task comes, and says that it may be wrong.
rm -rf state && mv gap state
dry 22
one "IRRIGATE: front, pre-c: looks short, 0.3 in by Tue 24 Mar"

# Two stages: what falls in the dry 24 h is not credited, though it is known by
# its hour only in the forecasts of then.
sprayed two-stage
day 2026-03-10 2026-03-10T20:00Z,2026-03-10T21:00Z,20
day 2026-03-11 2026-03-11T10:00Z,2026-03-11T11:00Z,20 \
	2026-03-11T20:00Z,2026-03-11T21:00Z,2.54
dry 12 13
none
dry 14
one "IRRIGATE: front, two-stage: 0.4 in by Tue 17 Mar"
holds "str(${task}[0]['DTSTART'].dt) == '2026-03-15'" \
	"'from Wed 11 Mar 07:20' in ${task}[0]['DESCRIPTION']"
expect 0 lull observe front --irrigation "0.4 in"
none

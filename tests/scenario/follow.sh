#!/bin/sh
# What follows from a record stands in the calendar: keep off, mow again, look
# at the result, a second application from the first day to the last, water.
# The card is invented in the shape of a halosulfuron one: no mowing for two
# days, a second one after six to ten weeks.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

lawn lull.conf
cat >>lull.conf <<'CONF'
product "su-b" {
	label = "invented label, page 4"
	rate = "0.9 oz/acre"
	rain-free = "4 h"
	until-mowing = "2 d"
	re-treatment = "42 d"
	re-treatment-maximum = "70 d"
	season-count = "2"
	effect-after = "35 d"
	controls = { "yellow nutsedge" }
}
CONF

# day DATE: a fine forecast of that morning, and a pass at half past seven.
day() {
	echo "{\"issued\": \"$1T12:00Z\", \"fine\": 180}" | grid forecast.json
	clock "$1T07:30-05:00"
	lull refresh >/dev/null 2>&1 || true
}

# entry SUFFIX: the expression for the entries of a record with that ending.
entry() {
	echo "[e for u, e in events('state/lull.ics').items()
		if u.startswith('record-') and u.endswith('$1')]"
}

# shows SUFFIX DAY SUMMARY
shows() {
	holds "[(str(e['DTSTART'].dt), str(e['SUMMARY'])) for e in $(entry "$1")]
		== [('$2', '$3')]"
}

gone() {
	holds "$(entry "$1") == []"
}

day 2026-04-14
expect 0 lull add front su-b --weed "yellow nutsedge"
clock 2026-04-14T10:00-05:00
expect 0 lull "done" 1 --from "2026-04-14 08:00" --to "2026-04-14 09:05"
for line in "keep off until Tue 14 Apr 13:05 and until dry" \
	"mow again from Thu 16 Apr 09:05" \
	"su-b: look at the result from Tue 19 May" \
	"su-b: second application from Tue 26 May to Tue 23 Jun"; do
	has out "$line"
done
holds "[str(e['SUMMARY']) for e in $(entry -off)]
	== ['KEEP OFF: front until 13:05 and until dry']"
shows -mow-0 2026-04-16 "MOW AGAIN: front, from 09:05"
shows -look-0 2026-05-19 "LOOK: front, su-b: its effect should show now"
shows -again-0 2026-05-26 \
	"SECOND APPLICATION: front, su-b: from today to Tue 23 Jun"
shows -last-0 2026-06-23 "LAST DAY: front, su-b: second application"
holds "all('against yellow nutsedge' in e['DESCRIPTION']
	and 'invented label, page 4' in e['DESCRIPTION']
	for e in $(entry -look-0) + $(entry -mow-0))"

# They stay as they are, and go a week after their day.
cp state/lull.ics before.ics
clock 2026-04-14T23:00-05:00
expect 0 lull refresh
cmp before.ics state/lull.ics || fail "the clock changed the calendar"
day 2026-04-16
gone -off
shows -mow-0 2026-04-16 "MOW AGAIN: front, from 09:05"
day 2026-04-24
gone -mow-0
shows -look-0 2026-05-19 "LOOK: front, su-b: its effect should show now"

# A second one that is queued is planned: nobody has to be reminded.
day 2026-05-26
expect 0 lull add front su-b
gone -again-0
gone -last-0
expect 0 lull drop 2
shows -last-0 2026-06-23 "LAST DAY: front, su-b: second application"

# Once it was done, the first record has no more to say, and the season's two
# are used up.
day 2026-05-28
expect 0 lull add front su-b
clock 2026-05-28T12:00-05:00
expect 0 lull "done" 3 --from "2026-05-28 08:00"
has out "look at the result from Thu 2 Jul"
! grep -q "second application" out || fail "a third one is offered"
gone -again-0
gone -last-0

# A correction of the time moves what follows, and the job that repeats; not one
# that was postponed.
day 2027-04-14
expect 0 lull add front su-b --repeat "60 d"
clock 2027-04-14T12:00-05:00
expect 0 lull "done" 4 --from "2027-04-14 08:00" --to "2027-04-14 09:00"
has out '^job 5 repeats it$'
repeats() {
	after=$($python -c 'import sqlite3
print(*sqlite3.connect("state/lull.db").execute(
    "SELECT id, not_before FROM job WHERE state = \"waiting\"").fetchone())')
	[ "$after" = "5 $(date -u -d "$1" +%s)" ] || fail "not before $after"
}
repeats 2027-06-13T14:00Z
shows -look-0 2027-05-19 "LOOK: front, su-b: its effect should show now"
expect 0 lull "done" 4 --replaces 3 --from "2027-04-12 08:00" --to "2027-04-12 09:00"
has out '^job 5 repeats it$'
repeats 2027-06-11T14:00Z
shows -look-0 2027-05-17 "LOOK: front, su-b: its effect should show now"
expect 1 lull postpone 5 2027-06-20
expect 0 lull "done" 4 --replaces 4 --from "2027-04-13 08:00" --to "2027-04-13 09:00"
! grep -q 'repeats it' out || fail "a job that was postponed is moved"
repeats 2027-06-20T05:00Z
holds "len($(entry -look-0)) == 1"

# Off the calendar without a card goes what the card said, but not that it was
# sprayed.
sed 's/su-b/su-c/' lull.conf >lull.new
mv lull.new lull.conf
lull refresh >out 2>err || true
gone -look-0
holds "['Sprayed with su-b. ' in e['DESCRIPTION'] for e in $(entry -off)] == [True]"

# The calendar is one that others read.
if $python -c 'import icalendar' 2>/dev/null; then
	$python "$oracle/ics_lint.py" state/lull.ics || fail "the lint complains"
fi

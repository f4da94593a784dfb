#!/bin/sh
# A calendar that flickers is switched off: while nothing happens not one byte
# of it changes, and what has to change is changed alone.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"
$python -c 'import icalendar' 2>/dev/null || skip "there is no icalendar module"

cat >lull.conf <<'END'
units = us
sprayer "backpack" {
	tank = "4 gal"
	carrier = "1 gal/1000 ft2"
	pace = "150 ft2/min"
}
site "front" {
	latitude = "33.6 deg"
	longitude = "-99.4 deg"
	zone = "America/Chicago"
	area = "3000 ft2"
	sprayer = "backpack"
	forecast = "nws-grid file:forecast.json"
	hours = { "07:00-11:00", "16:00-19:00" }
}
practice "daylight" { limit = "yes" source = "common practice, no source" }
practice "wind-maximum" { limit = "at most 10 mph" source = "common practice, no source" }
product "warm" { label = "invented" rate = "1 fl oz/1000 ft2" temperature-floor = "at least 50 degF" rain-free = "12 h" }
product "never" { label = "invented" rate = "1 fl oz/1000 ft2" temperature-floor = "at least 95 degF" }
END

ics=state/lull.ics
# The days of a week, a little warmer each; $1 degrees more, issued on day $2.
week() {
	$python - "$1" "${2-10}" <<-'END' | grid forecast.json
		import json, math, sys
		more, day = float(sys.argv[1]), int(sys.argv[2])
		print(json.dumps({"issued": "2026-03-%dT12:00Z" % day, "layers": {"temperature": [
		    round(17 + (hour / 24 + day - 10) + more - 5 * math.cos(math.pi * (hour % 24 - 4) / 12), 2)
		    for hour in range(180)]}}))
	END
}

# A slot at ten past ten, one on another day, and a job without a window.
week 0
clock 2026-03-10T09:00-05:00
expect 0 lull refresh
expect 0 lull add front warm --after "2026-03-10 10:10"
expect 0 lull add front warm --after 2026-03-12
expect 1 lull add front never
cp $ics first.ics
inode=$(stat -c %i $ics)
first="[e for e in slots('first.ics') if e['DTSTART'].dt == t('2026-03-10T10:10-05:00')][0]"
holds "len(slots('first.ics')) == 2" "${first}['SEQUENCE'] == 0" \
	"len([e for e in events('first.ics') if e.endswith('-none')]) == 1"

# Ten passes over the same forecast: hours and minutes before the slot, and
# while it runs.
for time in 09:01 09:05 09:13 09:21 09:34 09:55 10:06 10:10 10:17 10:29; do
	clock "2026-03-10T$time-05:00"
	expect 0 pass
	[ ! -s err ] || fail "a pass at $time says: $(cat err)"
	cmp $ics first.ics || fail "the calendar changed at $time"
done
[ "$(stat -c %i $ics)" = "$inode" ] || fail "the file was written again"

# Reading changes nothing either.
for command in queue 'windows 1' 'why 1' 'mix 1' 'weather front'; do
	# shellcheck disable=SC2086
	expect 0 lull $command
done
cmp $ics first.ics || fail "a reading command changed the calendar"

# Midnight is the one moment at which an entry changes by itself: a day without
# a window is told for the new day. Thursday's slot stays as it is.
expect 0 lull drop 1
cp $ics evening.ics
clock 2026-03-10T22:00-05:00
expect 0 pass
cmp $ics evening.ics || fail "the calendar changed before midnight"
clock 2026-03-11T00:30-05:00
expect 0 pass
none() {
	echo "[e for u, e in events('$1').items() if u.endswith('-none')][0]"
}
was=$(none evening.ics)
is=$(none $ics)
holds "str(${was}['DTSTART'].dt) == '2026-03-10'" \
	"str(${is}['DTSTART'].dt) == '2026-03-11'" \
	"${is}['SEQUENCE'] == 1" "${is}['UID'] == ${was}['UID']" \
	"[e.to_ical() for e in slots('evening.ics')] == [e.to_ical() for e in slots('$ics')]"

# A little more warmth: the slot stays where it is, under its name.
cp $ics before.ics
week 0.4
clock 2026-03-11T06:00-05:00
expect 0 lull refresh
has out ' 0 moved$'
holds "len(slots('$ics')) == 1" "notices('$ics') == []" \
	"all(slots('$ics')[0][name].to_ical() == slots('before.ics')[0][name].to_ical() for name in ('UID', 'DTSTART', 'DTEND', 'SUMMARY'))" \
	"slots('$ics')[0]['SEQUENCE'] <= slots('before.ics')[0]['SEQUENCE'] + 1"

# The service falls silent: the slot is held, as unknown, and once that is told
# the calendar is still again. When a forecast comes, the slot is go as before.
cp $ics before.ics
slot="slots('$ics')[0]"
clock 2026-03-11T07:30-05:00
expect 1 lull refresh
has out ' 1 with a slot, 0 moved$'
has out 'too old'
holds "${slot}['CATEGORIES'].to_ical() == b'UNKNOWN'" \
	"${slot}['DTSTART'].dt == slots('before.ics')[0]['DTSTART'].dt" \
	"len(notices('$ics')) == len(notices('before.ics'))"
cp $ics silent.ics
for time in 08:45 12:00 19:30; do
	clock "2026-03-11T$time-05:00"
	expect 1 lull refresh
	cmp $ics silent.ics || fail "the calendar changed at $time"
done
week 0.4 12
clock 2026-03-12T07:00-05:00
expect 0 lull refresh
has out ' 1 with a slot, 0 moved$'
holds "${slot}['CATEGORIES'].to_ical() == b'GO'" \
	"${slot}['DTSTART'].dt == slots('before.ics')[0]['DTSTART'].dt"

# It begins between two steps of the forecast, at the first light; it is still
# go when it has begun.
holds "${slot}['DTSTART'].dt.minute % 15 != 0" \
	"t('2026-03-12T07:50-05:00') < ${slot}['DTSTART'].dt < t('2026-03-12T07:59-05:00')"
cp $ics before.ics
for time in 07:49 07:59 08:02 08:20; do
	clock "2026-03-12T$time-05:00"
	expect 0 pass
	cmp $ics before.ics || fail "the calendar changed at $time"
	expect 0 lull why 2
done

# A week that breaks the slot for a while does not leave its marks: back to the
# weather of before, no entry is doubled and no name is new.
week -10 12
clock 2026-03-12T08:30-05:00
lull refresh >out || true
week 0.4 12
clock 2026-03-12T08:40-05:00
expect 0 lull refresh
holds "len(slots('$ics')) == 1" \
	"slots('$ics')[0]['UID'] == slots('before.ics')[0]['UID']"

# What was published stands the linter, another reader, and a server.
$python "$oracle/ics_lint.py" first.ics evening.ics before.ics silent.ics $ics ||
	fail "the linter objects"
if $python -c 'import vobject' 2>/dev/null; then
	$python -c '
import sys, vobject
for path in sys.argv[1:]:
    with open(path, encoding="utf-8", newline="") as file:
        calendar = vobject.readOne(file)
    assert all(event.uid.value for event in calendar.vevent_list)
' first.ics evening.ics $ics || fail "vobject objects"
fi
# It skips by itself without a server to try.
$python "$oracle/ics_radicale.py" $ics >radicale.log || {
	cat radicale.log
	fail "Radicale objects"
}

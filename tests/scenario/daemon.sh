#!/bin/sh
# The daemon as it runs: it fetches from a server that changes its mind, keeps
# the calendar, reads its configuration again, and ends when it is told to.
# The clock is the real one, so nothing here depends on the hour of the day.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"
$python -c 'import icalendar' 2>/dev/null || skip "there is no icalendar module"
command -v openssl >/dev/null || skip "the server needs openssl"

configure() {
	cat >lull.conf.part <<-END
		contact = "keeper@example.net"
		poll-minimum = "1 s"
		$1
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
			forecast = "nws-grid http://127.0.0.1:$port/file/grid.json"
		}
		product "dry" { label = "invented" rate = "1 fl oz/1000 ft2" rain-free = "2 h" }
	END
	mv lull.conf.part lull.conf
}

# A week that is issued now, dry but for the hours from $1 to $2 after this one.
weather() {
	hour=$(date -u +%Y-%m-%dT%H:00Z)
	$python - "$hour" "$@" <<-'END' | grid served/grid.json
		import datetime, json, sys
		hour = datetime.datetime.fromisoformat(sys.argv[1].replace("Z", "+00:00"))
		at = lambda n: (hour + datetime.timedelta(hours=int(n))).isoformat()
		rain = [["quantitativePrecipitation", at(sys.argv[2]), at(sys.argv[3]), 2],
		        ["probabilityOfPrecipitation", at(sys.argv[2]), at(sys.argv[3]), 80]]
		print(json.dumps({"issued": hour.isoformat(), "fine": 60,
		                  "spells": rain}))
	END
}

# Has a file more than $3 lines with these words by now?
more() {
	[ "$(count "$1" "$2")" -gt "$3" ]
}

requests() {
	count requests.log '"path"'
}

ics=state/lull.ics
slot="slots('$ics')[0]"

mkdir served
start server.log $python "$scenario/serve.py" --log requests.log \
	--folder served --max-age 1
wait_for 10 test -s server.log || fail "the server does not start"
read -r port rest <server.log
[ -n "$rest" ] || fail "the server said: $port"
start heard $python "$scenario/notify.py" "$work/ear"
wait_for 10 test -S ear || fail "no socket to listen on"

# Queued before there is a forecast: unknown, and not lost.
weather 0 0
configure ''
after=$(date -u -d '6 hours' +%Y-%m-%dT%H:%M:00Z)
expect 1 lull add front dry --after "$after" --json
holds "out['jobs'][0]['verdict'] == 'unknown'"
uid=$($python -c 'import json; print(json.load(open("out"))["jobs"][0]["uid"])')

start daemon.log env NOTIFY_SOCKET="$work/ear" "$builddir/lulld" \
	--config lull.conf --state state
daemon=$process
wait_for 10 is_so "len(slots('$ics')) == 1" || fail "no slot in the calendar"
wait_for 10 said heard READY=1 || fail "the service manager is not told"
holds "${slot}['UID'] == '$uid'" "${slot}['SEQUENCE'] == 0" \
	"str(${slot}['DTSTART'].dt.tzinfo) == 'UTC'" \
	"${slot}['DTSTART'].to_ical().endswith(b'Z')" \
	"${slot}['DTEND'].to_ical().endswith(b'Z')" \
	"t('$after') <= ${slot}['DTSTART'].dt <= t('$after') + m(15)" \
	"${slot}['GEO'].to_ical() == '33.6;-99.4'" \
	"${slot}['CATEGORIES'].to_ical() == b'GO'" \
	"[a for a in ${slot}.walk('VALARM') if a['TRIGGER'].dt == -h(1)]" \
	"notices('$ics') == []"

# A second daemon in the same folder is one too many.
code=0
timeout 5 "$builddir/lulld" --config lull.conf --state state 2>err || code=$?
[ "$code" -eq 3 ] || fail "a second daemon: exit $code"
one_line err 'another lulld'

# Nothing changes: not one byte, and few questions.
cp $ics before.ics
inode=$(stat -c %i $ics)
asked=$(requests)
sleep 3
cmp $ics before.ics || fail "the calendar changed by itself"
[ "$(stat -c %i $ics)" = "$inode" ] || fail "it was written again"
asked=$(($(requests) - asked))
[ $asked -ge 1 ] || fail "no request in three seconds"
[ $asked -le 4 ] || fail "$asked requests in three seconds"
[ "$(count requests.log '"status": 304')" -ge 1 ] || fail "no 304"
[ "$(count requests.log '"status": 200')" -eq 1 ] || fail "asked twice for it"
has requests.log 'If-None-Match'
has requests.log 'lull/[^ ]* (keeper@example.net)'

# Rain moves in over the slot.
holds "open('old', 'w').write(${slot}['DTSTART'].dt.isoformat())"
weather 4 10
wait_for 10 is_so "${slot}['DTSTART'].dt != t(open('old').read())" ||
	fail "the slot stayed in the rain"
rain="[span for span in hours('served/grid.json', 'quantitativePrecipitation') if span[2] > 0]"
holds "len(slots('$ics')) == 1" "${slot}['UID'] == '$uid'" \
	"${slot}['SEQUENCE'] == 1" "${slot}['CATEGORIES'].to_ical() == b'GO'" \
	"all(${slot}['DTSTART'].dt >= b or ${slot}['DTEND'].dt + h(2) <= a for a, b, mm in $rain)" \
	"len(notices('$ics')) == 1" \
	"[n for n in notices('$ics') if n['SUMMARY'].startswith('MOVED') and 'rain' in n['DESCRIPTION']]" \
	"[a['TRIGGER'].dt for n in notices('$ics') for a in n.walk('VALARM')] == [h(0)]"
wait_for 3 said daemon.log 'of 1 slots moved' || fail "the journal is not told"

# A broken configuration is refused with its line, a good one taken.
cp $ics before.ics
cp lull.conf good.conf
configure 'keep-off = "12 acres"'
kill -HUP $daemon
wait_for 10 said daemon.log 'stays as it was' || fail "the fault is not told"
has daemon.log '^lull.conf:3: keep-off: .*12 acres'
cmp $ics before.ics || fail "a broken configuration changed the calendar"
off="[e for u, e in events('$ics').items() if u == '$uid-off'][0]"
holds "${off}['DTEND'].dt - ${off}['DTSTART'].dt == h(4)"
configure 'keep-off = "6 h"'
kill -HUP $daemon
wait_for 10 is_so "${off}['DTEND'].dt - ${off}['DTSTART'].dt == h(6)" ||
	fail "the new configuration is not in force"

# However the server fails, the journal tells it, and the last good forecast and
# the calendar stay. A refresh by hand ends the wait after a failure.
cp $ics before.ics
for how in /500 /html /cut /endless; do
	told=$(count daemon.log 'site front: http:')
	again=$(count daemon.log 'read again')
	echo $how >served/grid.json.as
	wait_for 10 more daemon.log 'site front: http:' "$told" ||
		fail "the daemon does not tell of $how"
	expect 1 lull refresh
	has out 'site front: http:'
	cmp $ics before.ics || fail "$how changed the calendar"
	expect 0 lull queue --json
	holds "out['jobs'][0]['verdict'] == 'go'"
	rm served/grid.json.as
	expect 0 lull refresh
	kill -HUP $daemon
	wait_for 10 more daemon.log 'read again' "$again" || fail "no answer to a hangup"
	cmp $ics before.ics || fail "the calendar changed after $how"
done

# It ends when told to, at once and well.
kill -TERM $daemon
wait_for 2 ended $daemon || fail "it does not end"
code=0
wait $daemon || code=$?
[ $code -eq 0 ] || fail "it ended with $code"
wait_for 2 said heard STOPPING=1 || fail "the end is not told"
cmp $ics before.ics || fail "the end changed the calendar"

#!/bin/sh
# Nothing is lost: neither when the disk is full nor when the daemon is killed
# at any moment.
set -eu

# The full disk is a small one of our own, seen by this test alone.
if [ -z "${LULL_OWN_MOUNTS-}" ] && unshare -r -m true 2>/dev/null; then
	LULL_OWN_MOUNTS=1 exec unshare -r -m sh "$0"
fi
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"
$python -c 'import icalendar' 2>/dev/null || skip "there is no icalendar module"

configure() {
	cat >lull.conf <<-END
		calendar = "$work/$1/lull.ics"
		contact = "keeper@example.net"
		poll-minimum = "1 s"
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
			forecast = "nws-grid $2"
		}
		product "warm" { label = "invented" rate = "1 fl oz/1000 ft2" temperature-floor = "at least 50 degF" rain-free = "2 h" }
	END
}

# A calendar that can be read, whatever happened.
events_of() {
	holds "events('$1') is not None"
}

# Is every job of the queue in the calendar?
all_published() {
	expect 0 lull queue --json
	holds "set(job['uid'] for job in out['jobs']) <= set(events('$1'))" \
		"len(out['jobs']) == $2"
}

# --- A disk that is full ---

mkdir small
if [ -n "${LULL_OWN_MOUNTS-}" ] && mount -t tmpfs -o size=64k none small; then
	fill_up() {
		dd if=/dev/zero of=small/filler bs=1k >fill.log 2>&1 || true
	}
	make_room() {
		rm small/filler
	}
else
	# Where nothing may be mounted: the new file cannot be made.
	fill_up() {
		mkdir small/lull.ics.new
	}
	make_room() {
		rmdir small/lull.ics.new
	}
fi

echo '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
configure small file:forecast.json
clock 2026-03-10T08:00-05:00
expect 0 lull refresh
expect 0 lull add front warm
cp small/lull.ics before.ics
all_published before.ics 1

# One message; the old calendar, and the job that was queued meanwhile, stay.
fill_up
expect 3 lull add front warm --after 2026-03-12
one_line err 'job 2 is queued, but: cannot write .*lull.ics: .*; the old file stays'
expect 3 pass
one_line err 'cannot write .*lull.ics: .*; the old file stays'
cmp small/lull.ics before.ics || fail "the old calendar is damaged"
[ "$(find small -type f -name '*.new')" = "" ] || fail "a half-written file is left"
expect 0 lull queue --json
holds "[job['job'] for job in out['jobs']] == [1, 2]" \
	"all(job['slot'] for job in out['jobs'])"

# With room again, the next pass publishes.
make_room
expect 0 pass
all_published small/lull.ics 2
[ "$(find small -type f -name '*.new')" = "" ] || fail "a half-written file is left"

# The queue itself on the full disk: what was not taken is said, what was taken
# is there.
if [ -n "${LULL_OWN_MOUNTS-}" ]; then
	umount small
	mount -t tmpfs -o size=1m none small
	ln -s "$work/small/state" linked
	mkdir small/state
	full() {
		timeout 20 "$builddir/lull" "$@" --config lull.conf \
			--state linked "--now=$now"
	}
	expect 0 full refresh
	expect 0 full add front warm
	fill_up
	taken=1
	for try in 1 2 3; do
		code=0
		full add front warm --note "try $try" >out 2>err || code=$?
		[ "$code" -eq 3 ] || [ "$code" -le 1 ] || fail "exit $code"
		[ "$code" -eq 3 ] && one_line err '^lull: '
		[ "$code" -eq 3 ] || taken=$((taken + 1))
	done
	make_room
	expect 0 full queue --json
	holds "len(out['jobs']) >= $taken"
	expect 0 full add front warm
	expect 0 full queue --json
	holds "len(out['jobs']) >= $taken + 1"
	expect 0 full refresh
	all_published small/lull.ics "len(out['jobs'])"
	rm linked
	umount small
fi

# --- Killed at any moment ---

command -v openssl >/dev/null || skip "the server needs openssl"
mkdir -p served public
rm -rf state
now=
$python - <<-'END' | grid served/grid.json
	import datetime, json
	now = datetime.datetime.now(datetime.timezone.utc)
	print(json.dumps({"issued": now.strftime("%Y-%m-%dT%H:00Z")}))
END
start server.log $python "$scenario/serve.py" --log requests.log \
	--folder served --max-age 1
wait_for 10 test -s server.log || fail "the server does not start"
read -r port rest <server.log
[ -n "$rest" ] || fail "the server said: $port"
configure public "http://127.0.0.1:$port/file/grid.json"

# Jobs are queued while the daemon starts, passes and is killed.
(
	for number in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16; do
		code=0
		lull add front warm --after "$(date -u -d "$number hours" \
			+%Y-%m-%dT%H:%MZ)" --json >add.out 2>>add.err || code=$?
		[ "$code" -gt 1 ] || cat add.out >>added
		sleep 0.5
	done
	touch all-added
) &
adding=$!
started="$started $adding"
kills=0
while [ ! -e all-added ] && [ $kills -lt 60 ]; do
	start daemon.log "$builddir/lulld" --config lull.conf --state state
	daemon=$process
	# From the first instructions to past the second pass.
	sleep "$($python -c "print($kills * 7 % 40 / 40)")"
	kill -9 $daemon 2>/dev/null || fail "it ended by itself: $(cat daemon.log)"
	wait $daemon 2>/dev/null || true
	kills=$((kills + 1))
	[ ! -e public/lull.ics ] || events_of public/lull.ics
done
wait $adding
[ $kills -ge 5 ] || fail "killed only $kills times"
[ ! -s add.err ] || fail "an add failed: $(cat add.err)"

# Every job that was taken is in the queue, and a last pass publishes them all.
grep -o '"uid":[^,]*' added | sort >uids
[ "$(wc -l <uids)" -eq 16 ] || fail "not every add was taken"
expect 0 pass
all_published public/lull.ics 16
holds "sorted(job['uid'] for job in out['jobs']) ==
	sorted(line.split('\"')[3] for line in open('uids'))"
[ "$(find public -name '*.new')" = "" ] || fail "a half-written file is left"

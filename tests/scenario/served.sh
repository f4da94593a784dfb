# shellcheck shell=sh
# A server of forecast documents, and what was asked of it. Source it instead of
# common.sh: it starts serve.py over the folder served/, with its address in
# $web. The clock is fixed; `moment` counts its seconds from FIRST.
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

command -v openssl >/dev/null || skip "the server needs openssl"

FIRST=2026-03-10T12:10:00Z
first=$(date -u -d $FIRST +%s)
mkdir served
: >requests.log
start server.log $python "$scenario/serve.py" --log requests.log \
	--folder served --max-age 1200
wait_for 10 test -s server.log || fail "the server does not start"
read -r port rest <server.log
[ -n "$rest" ] || fail "the server said: $port"
web=http://127.0.0.1:$port/file

stamp() {
	date -u -d "@$((first + $1))" +%Y-%m-%dT%H:%M:%SZ
}

moment() {
	clock "$(stamp "$1")"
}

# begin LINE: a configuration without sites, and an empty state.
begin() {
	rm -rf state
	cat >lull.conf <<-END
		contact = "keeper@example.net"
		$1
		sprayer "backpack" {
			tank = "4 gal"
			carrier = "1 gal/1000 ft2"
			pace = "150 ft2/min"
		}
		product "warm" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			temperature-floor = "at least 50 degF"
			rain-free = "2 h"
		}
	END
}

# site NAME FORECAST [LATITUDE [LINE]]: FORECAST as the configuration has it.
site() {
	cat >>lull.conf <<-END
		site "$1" {
			latitude = "${3:-33.6} deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "3000 ft2"
			sprayer = "backpack"
			forecast = $2
			${4-}
		}
	END
}

# document NAME KIND DESCRIPTION: replaced whole; the kind of grid.py is "grid".
document() {
	if [ "$2" = grid ]; then
		printf '%s' "$3" | grid "served/$1"
	else
		printf '%s' "$3" | $python "$scenario/services.py" "$2" >"$1.part"
		mv "$1.part" "served/$1"
	fi
}

# cell NAME SECONDS: a grid document that was issued then.
cell() {
	document "$1" grid "{\"issued\": \"$(stamp "$2")\"}"
}

# point NAME CELL: names where the cell is served, and holds for a day.
point() {
	document "$1" point "{\"grid\": \"$web/$2\"}"
	echo 86400 >"served/$1.age"
}

# asked [DOCUMENT...]: these were asked for since the last time, and no others.
asked() {
	sed -n 's|.*"path": "/file/\([^"]*\)".*|\1|p' requests.log |
		LC_ALL=C sort | tr '\n' ' ' >got
	printf '%s ' "$@" | tr ' ' '\n' | sed '/^$/d' |
		LC_ALL=C sort | tr '\n' ' ' >wanted
	cp requests.log last.log
	: >requests.log
	cmp -s got wanted || fail "at $now: wanted '$(cat wanted)', asked '$(cat got)'"
}

# is_within NUMBER LEAST MOST
is_within() {
	[ "$1" -ge "$2" ] && [ "$1" -le "$3" ]
}

# passes COUNT SECONDS LEAST MOST: so many passes, the first at $here and one
# every so many seconds, make that many requests together.
passes() {
	turn=0
	while [ $turn -lt "$1" ]; do
		moment $((here + turn * $2))
		expect 0 pass
		turn=$((turn + 1))
	done
	here=$((here + turn * $2))
	made=$(count requests.log '"path"')
	is_within "$made" "$3" "$4" || fail "$made requests in $1 passes"
	: >requests.log
}

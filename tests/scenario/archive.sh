#!/bin/sh
# What is kept: the budget of requests over restarts, forecasts as they were
# fetched so that an old verdict can be explained, and a clock that jumps.
set -eu
# shellcheck source=served.sh
. "${srcdir:?}/tests/scenario/served.sh"

# five LINE SECONDS: so many sites, each with a document that is good so long.
five() {
	begin "$1"
	for name in a b c d e; do
		site $name "\"nws-grid $web/$name\""
		cell $name 0
		echo "$2" >served/$name.age
	done
}

# The budget of a host: what is over waits for an hour, then comes first.
five 'requests-per-hour = "3"' 21600
moment 0
expect 0 pass
asked a b c
[ "$(count err '^site [de]: 127.0.0.1: the 3 requests for this hour are used up')" -eq 2 ] ||
	fail "the rest is not told: $(cat err)"
expect 1 lull weather d --json
holds "'used up' in out['trouble']"
here=600
passes 5 600 0 0
moment 3599
expect 1 lull refresh
asked
moment 3600
expect 0 pass
sed -n 's|.*"path": "/file/\(.\)".*|\1|p' requests.log | sort | tr -d '\n' >got
grep -qx '.*de' got || fail "asked $(cat got)"
: >requests.log

# What is refused to a refresh is told, and does not put the address off.
five 'requests-per-hour = "5"' 1200
moment 0
expect 0 pass
asked a b c d e
moment 60
expect 1 lull refresh
has out '^site a: 127.0.0.1: the 5 requests for this hour are used up'
asked
moment 3600
expect 0 pass
asked a b c d e

# Programs at work at once keep to the budget, and one of them asks.
begin 'requests-per-hour = "2"'
site front "\"nws-grid $web/a\""
expect 0 lull queue
: >running
for turn in 1 2 3 4 5 6; do
	expect 0 pass &
	echo $! >>running
done
while read -r child; do
	wait "$child" || fail "a pass at once with others"
done <running
asked a

# Documents that expire sooner than the budget allows: each has its turn.
five 'requests-per-hour = "3"' 600
: >turns
for hour in 0 1 2 3 4; do
	moment $((hour * 3600))
	expect 0 pass
	moment $((hour * 3600 + 1800))
	expect 0 pass
	sed -n 's|.*"path": "/file/\(.\)".*|\1|p' requests.log >>turns
	: >requests.log
	[ "$(wc -l <turns)" -eq $((hour * 3 + 3)) ] || fail "hour $hour: $(cat turns)"
done
[ "$(sort turns | uniq -c | awk '$1 > 1' | wc -l)" -eq 5 ] ||
	fail "turns: $(sort turns | uniq -c | tr '\n' ' ')"

# rows [DOCUMENT]: how many documents the archive holds; $bytes is their size.
rows() {
	$python -c 'import sqlite3, sys
store = sqlite3.connect("file:state/lull.db?mode=ro", uri=True)
print(*store.execute("SELECT count(*), coalesce(sum(length(body)), 0)"
                     " FROM document WHERE address LIKE ?",
                     ("%/" + sys.argv[1],)).fetchone())' "${1-%}" >rows
	read -r number bytes <rows
}

# issue DOCUMENT SECONDS TEMPERATURE [NOISE]: fetched one minute later; with so
# many bytes that cannot be packed.
issue() {
	printf '{"issued": "%s", "layers": {"temperature": %d}}' \
		"$(stamp "$2")" "$3" | grid plain
	$python -c 'import json, random, sys
document = json.load(open("plain"))
noise = random.Random(int(sys.argv[1])).getrandbits(8 * int(sys.argv[2]) + 8)
document["noise"] = "%x" % noise
json.dump(document, sys.stdout)' "$2" "${4:-0}" >"$1.part"
	mv "$1.part" "served/$1"
	moment $(($2 + 60))
	expect 0 pass
	asked "$1"
}

# Each verdict can be explained with the forecast of its time.
six=21600
rm served/*
begin 'archive-for = "2 d"'
site front "\"nws-grid $web/a\""
for turn in 0 1 2 3; do
	issue a $((turn * six)) $((14 + turn))
done
rows a
[ "$number" -eq 4 ] || fail "$number documents of four"
expect 0 lull add front warm --after 2026-03-12
for turn in 0 1 2 3; do
	for late in 60 7200; do
		moment $((turn * six + late))
		expect 0 lull why 1 --at "2026-03-12 10:00" --json
		holds "t(out['issued']) == t('$(stamp $((turn * six)))')" \
			"rule('temperature-floor')['value'] == 14 + $turn"
	done
done
asked

# Two days later the old ones go, but never the newest of an address.
site back "\"nws-grid $web/b\"" 33.61
cell b 64800
moment 64900
expect 0 pass
asked b
rm served/b
moment 172900
expect 0 pass
asked a b
rows a
[ "$number" -eq 3 ] || fail "$number documents after two days"
moment 400000
expect 0 pass
asked a b
rows a
[ "$number" -eq 1 ] || fail "$number documents after all is old"
rows b
[ "$number" -eq 1 ] || fail "$number documents of what is lost"

# The room that they take.
begin 'archive-megabytes = "1"'
site front "\"nws-grid $web/a\""
for turn in 0 1 2 3 4 5 6 7; do
	issue a $((turn * six)) 18 200000
	rows
	[ "$bytes" -le 1000000 ] || fail "$bytes bytes in the archive"
done
is_within "$number" 3 4 || fail "$number documents in a MB"
issue a $((8 * six)) 18 1500000
rows
[ "$number" -eq 1 ] || fail "$number documents beside a large one"
[ "$bytes" -gt 1000000 ] || fail "the newest is gone"
expect 0 lull weather front

# A clock that is set back by less than a week asks again, once.
rm served/*
begin ''
site front "\"nws-grid $web/a\""
cell a 0
moment 259200
expect 0 pass
asked a
for late in 0 60 120; do
	moment $late
	expect 0 pass
	[ $late != 0 ] || asked a
done
asked
expect 0 lull weather front
expect 0 lull refresh
asked a

# A clock that jumps a year and comes back: one request for each address and
# jump, and what was fetched in a year that was not serves none.
year=31622400
jump() {
	moment "$1"
	expect 0 pass
	expect 0 pass
	moment $(($1 + 30))
	expect 0 pass
	asked at a alerts
}
begin ''
site front "{ \"nws-grid $web/at\", \"nws-alerts $web/alerts\" }"
point at a
cell a 0
document alerts alerts "{\"updated\": \"$FIRST\"}"
jump 60
cell a 1200
jump $year
expect 1 lull weather front --json
holds "'is too old to be used' in out['trouble']"
jump 1320
expect 0 lull weather front --columns air-temperature,alert-wind --json
holds "out['trouble'] == ''" \
	"t(out['sources'][0]['issued']) == t('$(stamp 1200)')" \
	"t(out['sources'][1]['issued']) == t('$(stamp 1320)')" \
	"out['origin']['alert-wind'] == 'nws-alerts'"
# As at a first start with a clock that was wrong.
begin ''
site front "{ \"nws-grid $web/at\", \"nws-alerts $web/alerts\" }"
jump $year
for name in at a alerts; do
	echo 500 >served/$name.as
done
moment 1320
expect 0 pass
asked at alerts a
rm served/*.as
jump 1380
expect 0 lull weather front --columns air-temperature,alert-wind --json
holds "out['trouble'] == ''" "out['origin']['alert-wind'] == 'nws-alerts'"

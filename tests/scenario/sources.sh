#!/bin/sh
# The chain of sources of a site: a document of a place that leads to the
# forecast, a second source that fills and stands in, and how each kind of
# failure is told and waited out. Requests are counted throughout.
set -eu
# shellcheck source=served.sh
. "${srcdir:?}/tests/scenario/served.sh"

place="\"nws-grid $web/at-{latitude},{longitude}\""

# A place leads to its cell, and both are kept.
begin ''
site front "$place" 33.60001
point at-33.6,-99.4 cell-1
cell cell-1 0
moment 60
expect 0 pass
asked at-33.6,-99.4 cell-1
expect 0 pass
moment 660
expect 0 pass
asked
expect 0 lull refresh
asked at-33.6,-99.4 cell-1
[ "$(count last.log '"If-None-Match"')" -eq 2 ] || fail "no validators"
[ "$(count last.log '"status": 304')" -eq 2 ] || fail "not the same"
moment 1980
expect 0 pass
asked cell-1
expect 0 lull weather front --json
holds "out['sources'][0]['answers']" "out['trouble'] == ''" \
	"t(out['sources'][0]['issued']) == t('$FIRST')"

# Sites in one cell share it; sites at one rounded place share both.
begin ''
site front "$place" 33.6
site back "$place" 33.61
point at-33.61,-99.4 cell-1
moment 0
expect 0 pass
asked at-33.6,-99.4 at-33.61,-99.4 cell-1
begin ''
site front "$place" 33.60001
site back "$place" 33.60004
expect 0 pass
asked at-33.6,-99.4 cell-1

# The cell moves: once round, and the forecast is there.
begin ''
site front "$place"
expect 0 pass
asked at-33.6,-99.4 cell-1
expect 0 lull add front warm --after 2026-03-11
rm served/cell-1
point at-33.6,-99.4 cell-2
cell cell-2 3000
moment 7200
expect 0 pass
asked at-33.6,-99.4 cell-1 cell-2
expect 0 lull weather front --json
holds "t(out['sources'][0]['issued']) == t('$(stamp 3000)')" \
	"out['sources'][0]['fetch-trouble'] == ''"
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'go'"
here=7260
passes 19 60 0 0
moment 8520
expect 0 pass
asked cell-2

# A cell that is gone though its place still names it: no storm, and the old
# document is used until it is too old.
rm served/cell-2
here=10800
moment $here
expect 0 pass
asked at-33.6,-99.4 cell-2
has err 'cell-2: no such document (404)'
expect 1 lull refresh
asked at-33.6,-99.4 cell-2
passes 48 1800 2 8
moment $((3000 + 86400))
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'go'"
expect 0 lull weather front --json
holds "out['trouble'] == ''" \
	"'cell-2: no such document (404)' in out['sources'][0]['fetch-trouble']"
moment $((3000 + 86401))
expect 1 lull weather front --json
holds "'is too old to be used' in out['trouble']"
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'unknown'"

# A place that is gone: on with the cell that it named.
cell cell-2 86000
moment $((3000 + 90000))
: >requests.log
expect 0 lull refresh
asked at-33.6,-99.4 cell-2
rm served/at-33.6,-99.4
cell cell-2 95000
moment $((3000 + 97000))
expect 1 lull refresh
asked at-33.6,-99.4 cell-2
has out 'at-33.6,-99.4: no such document (404)'
expect 0 lull weather front --json
holds "t(out['sources'][0]['issued']) == t('$(stamp 95000)')"

# It may not lead to another server, nor on to yet another place.
refused() {
	moment 0
	begin ''
	site front "$place"
	document at-33.6,-99.4 point "{\"grid\": \"$1\"}"
	expect 1 lull refresh
	shift
	words=$1
	shift
	asked at-33.6,-99.4 "$@"
	one=$(sed 1d out)
	printf '%s\n' "$one" >said
	one_line said "$words"
	expect 0 pass
	asked
}
cell cell-1 0
refused "http://localhost:$port/file/cell-1" \
	'at-33.6,-99.4: it names a forecast on another server'
refused "https://127.0.0.1:$port/file/cell-1" 'on another server'
refused "file:$work/served/cell-1" 'on another server'
refused "cell-1" 'on another server'
refused "$web/at-33.6,-99.4" 'at-33.6,-99.4: it leads on to yet another document'

# Two places in a cell that moves: both are asked anew, each once.
begin ''
site front "$place" 33.6
site back "$place" 33.61
point at-33.6,-99.4 cell-1
point at-33.61,-99.4 cell-1
moment 0
expect 0 pass
asked at-33.6,-99.4 at-33.61,-99.4 cell-1
rm served/cell-1
point at-33.6,-99.4 cell-2
point at-33.61,-99.4 cell-3
cell cell-2 3000
cell cell-3 3000
moment 7200
expect 0 pass
asked at-33.6,-99.4 at-33.61,-99.4 cell-1 cell-2 cell-3

# Two sources: the first one answers, the second fills what it lacks.
meteo() {
	document b open-meteo "{\"start\": \"2026-03-10T00:00Z\",
		\"values\": {\"temperature_2m\": 16}}"
	echo "$1" >served/b.age
}
begin ''
site front "{ \"nws-grid $web/a\", \"open-meteo $web/b\" }"
cell a 0
meteo 600
moment 60
expect 0 pass
asked a b
all=air-temperature,dew-point,humidity,wind,gust,wind-direction,cloud,rain-block,rain-chance,soil-temperature
expect 0 lull weather front --columns $all --json
holds "[s['answers'] for s in out['sources']] == [True, False]" \
	"[s['format'] for s in out['sources']] == ['nws-grid', 'open-meteo']" \
	"{c for c, o in out['origin'].items() if o == 'open-meteo'} == {'soil-temperature'}" \
	"{c for c, o in out['origin'].items() if o == 'nws-grid'} == set('$all'.split(',')) - {'soil-temperature'}" \
	"'National Weather Service' in out['credit']" \
	"'Open-Meteo.com (CC BY 4.0)' in out['credit']"
expect 0 lull weather front
has out '^1 .*/a answers$'
has out '^2 .*/b fills soil-temperature$'
has out 'open-meteo, fetched Tue 10 Mar 07:11 (0 min ago)'
expect 0 lull add front warm --after 2026-03-11
moment 4260
expect 0 lull why 1 --at "2026-03-11 10:00" --json
holds "out['forecast'] == 'nws-grid'" "t(out['issued']) == t('$FIRST')" \
	"rule('temperature-floor')['value'] == 18"
expect 0 lull why 1 --at "2026-03-11 10:00"
has out '^forecast: nws-grid, issued Tue 10 Mar 07:10 (1 h 11 min ago)$'
asked

# What only an older document of the first one has comes from the second.
begin ''
site front "{ \"nws-grid $web/a\", \"open-meteo $web/c\" }"
document c open-meteo '{"start": "2026-03-10T00:00Z",
	"values": {"precipitation_probability": 90}}'
moment 60
expect 0 pass
document a grid "{\"issued\": \"$(stamp 3600)\",
	\"absent\": [\"probabilityOfPrecipitation\"]}"
moment 4260
expect 0 pass
expect 0 lull weather front --columns air-temperature,rain-chance --json
holds "out['origin']['rain-chance'] == 'open-meteo'" \
	"out['origin']['air-temperature'] == 'nws-grid'"
rm served/c
cell a 0
: >requests.log

# The first one fails, in whatever way: its document stays in use while it is
# good, then the second answers; when it is back, so is its answer.
for how in 500 403 404 /cut /html /hang-up; do
	begin ''
	site front "{ \"nws-grid $web/a\", \"open-meteo $web/b\" }"
	cell a 0
	moment 60
	expect 0 pass
	echo $how >served/a.as
	moment 86400
	expect 1 lull refresh
	has out '^site front: nws-grid: http://127.0.0.1:.*/a: '
	expect 0 lull add front warm --after 2026-03-12
	moment 86401
	expect 0 lull why 1 --at "2026-03-12 10:00" --json
	holds "out['forecast'] == 'open-meteo'" "out['trouble'] == ''" \
		"'nws-grid: the forecast of Tue 10 Mar 07:10 is too old' in out['fetch-trouble']" \
		"'/a: ' in out['fetch-trouble']" \
		"rule('temperature-floor')['value'] == 16"
	expect 0 lull weather front --json
	holds "[s['answers'] for s in out['sources']] == [False, True]"
	rm served/a.as
	cell a 86000
	asked a a b b
	expect 0 lull refresh
	asked a b
	expect 0 lull why 1 --at "2026-03-12 10:00" --json
	holds "out['forecast'] == 'nws-grid'" "out['fetch-trouble'] == ''"
done

# Neither of them: unknown, and both say why.
begin ''
site front "{ \"nws-grid $web/a\", \"open-meteo $web/b\" }"
echo 500 >served/a.as
echo /html >served/b.as
expect 1 lull add front warm --after 2026-03-12
expect 1 lull refresh
asked a b
has out 'nws-grid: http:.*/a: the server failed (500); open-meteo: http:.*/b: is not JSON'
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'unknown'" "out['jobs'][0]['slot'] is None"
expect 1 lull windows 1
has out 'unknown: nws-grid: .* (500); open-meteo: .* not JSON'
rm served/a.as served/b.as

# waits SECONDS...: after a failure nothing is asked for that long; then, within
# half a minute, once. With the next number the failure after that.
waits() {
	begin ''
	site front "\"nws-grid $web/a\""
	here=0
	moment $here
	expect 0 pass
	asked a
	for wait in "$@"; do
		moment $((here + wait - 1))
		expect 0 pass
		asked
		here=$((here + wait + 30))
		moment $here
		expect 0 pass
		asked a
	done
	has err "^site front: http:.*/a: $words"
}
words='the server failed (500)' && echo 500 >served/a.as
waits 10 60 600 1800 1800
words='is not JSON' && echo /html >served/a.as
waits 10 60 600
words='the answer was cut off' && echo /cut >served/a.as
waits 10 60 600
words='too many requests (429); it asks to wait 900 s' &&
	echo 429 900 >served/a.as
waits 900 900
words='the server refuses us (403)' && echo 403 >served/a.as
waits 3600 3600
words='no such document (404)' && echo 404 >served/a.as
waits 21600
# A server may not send us away for ever.
words='the server failed (503)' && echo 503 9999999 >served/a.as
waits 86400
rm served/a.as

# A professional site may not ask what is free for others.
begin ''
site front '"open-meteo"' 33.61234 'use = "professional"'
expect 2 lull check
has err '^lull.conf:[0-9]*: forecast: .*free for uses that are not commercial'
begin ''
site front "{ \"met-norway $web/m?lat={latitude}&lon={longitude}\", \"open-meteo $web/b?{query}&apikey=1\" }" \
	33.61234 'use = "professional"'
document m met-norway "{\"issued\": \"$(stamp 0)\"}"
expect 0 lull check
moment 60
expect 0 pass
asked m b
holds "not {c for one in asked('b') + asked('m') for c in one['query']} & set('{}[]')" \
	"asked('m')[0]['query'] == 'lat=33.61&lon=-99.4'" \
	"asked('b')[0]['query'].startswith('latitude=33.61&longitude=-99.4&hourly=temperature_2m,')" \
	"asked('b')[0]['query'].endswith('&timezone=GMT&apikey=1')"
expect 0 lull weather front --columns $all --json
holds "out['origin']['air-temperature'] == 'met-norway'" \
	"out['origin']['soil-temperature'] == 'open-meteo'"

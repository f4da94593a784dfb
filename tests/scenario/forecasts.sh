#!/bin/sh
# Whatever comes instead of a forecast: one clear message, the queued job is
# still there, and nothing is ever go. And forecasts that are odd but good.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

configure() {
	cat >lull.conf <<-END
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
			forecast = "${2-nws-grid} file:forecast.json"
			$1
		}
		practice "wind-maximum" { limit = "at most 10 mph" source = "common practice, no source" }
		product "warm" { label = "invented" rate = "1 fl oz/1000 ft2" temperature-floor = "at least 50 degF" rain-free = "2 h" }
	END
}

# A fresh state folder with one job that was queued before any forecast.
queue_one() {
	rm -rf state
	expect 1 lull add front warm --after 2026-03-11
}

# The lines that tell of trouble, without the count of jobs.
trouble() {
	cat err >said
	sed 1d out >>said
	one_line said "$1"
	sed -n 1p out >counted
	one_line counted '^1 waiting, 0 with a slot, 0 moved$'
}

no_go() {
	expect 0 lull queue --json
	holds "[job['job'] for job in out['jobs']] == [1]" \
		"out['jobs'][0]['verdict'] == 'unknown'" \
		"out['jobs'][0]['slot'] is None" "out['jobs'][0]['reason'] != ''"
	expect 1 lull windows 1 --json
	holds "out['windows'] == []"
	expect 1 lull why 1 --at "2026-03-11 10:00" --json
	holds "out['verdict'] == 'unknown'" \
		"all(rule['verdict'] != 'go' for rule in out['rules'])"
	! grep -q '^SUMMARY:GO' state/lull.ics || fail "the calendar says go"
	has state/lull.ics '^SUMMARY:UNKNOWN'
}

# bad WORDS: a refresh tells them in one line; the job stays, unknown.
bad() {
	queue_one
	expect 1 lull refresh
	trouble "$1"
	no_go
}

good() {
	queue_one
	expect 0 lull refresh
	expect 0 lull queue --json
	holds "out['jobs'][0]['verdict'] == 'go'"
}

describe() {
	printf '{"issued": "2026-03-10T12:00Z", "hours": 60%s}' "$1"
}

configure ''
clock 2026-03-10T08:00-05:00
describe '' | grid good.json

rm -f forecast.json
bad 'forecast.json: .*No such file'
: >forecast.json
bad 'forecast.json: .*empty'
head -c 4000 good.json >forecast.json
bad 'forecast.json: '
cp "$srcdir/tests/data/nws/page.html" forecast.json
bad 'forecast.json: '
cp "$srcdir/tests/data/nws/problem.json" forecast.json
bad 'forecast.json: the service answered'
head -c 50000000 /dev/zero | tr '\0' ' ' >forecast.json
bad 'forecast.json: .*\(longer\|larger\) than'
mkdir forecast.d && rm forecast.json && mv forecast.d forecast.json
bad 'forecast.json: '
rmdir forecast.json

# Three days old: kept, but not used.
describe '' | sed 's/10T12/07T12/' | grid forecast.json
bad 'the forecast of Sat 7 Mar 06:00 is too old'

# Units: Fahrenheit is as good as Celsius when it is said; without that, 64.4
# is no air temperature.
describe ', "layers": {"temperature": 64.4}, "units": {"temperature": "wmoUnit:degF"}' |
	grid forecast.json
good
expect 0 lull why 1 --at "2026-03-11 10:00" --json
holds "rule('temperature-floor')['value'] == 18"
describe ', "units": {"temperature": "wmoUnit:km_h-1"}' | grid forecast.json
bad 'temperature: .wmoUnit:km_h-1. is not a unit of'
describe ', "units": {"windSpeed": "wmoUnit:furlong"}' | grid forecast.json
bad 'windSpeed: .wmoUnit:furlong. is not a unit of'
describe ', "layers": {"temperature": 64.4}' | grid forecast.json
bad 'no air temperature'

# Numbers that are none.
for value in '"NaN"' '"18"' true '[18]'; do
	sed "s/\"value\":18/\"value\":$value/" good.json >forecast.json
	bad 'forecast.json: temperature: .* neither a number nor null'
done
for value in NaN Infinity 1e999 -; do
	sed "s/\"value\":18/\"value\":$value/" good.json >forecast.json
	bad 'forecast.json: '
done

# A layer with nothing in it is not a good hour: no wind is no verdict.
describe ', "layers": {"windSpeed": null}' | grid forecast.json
queue_one
expect 0 lull refresh
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] != 'go'" "out['jobs'][0]['slot'] is None"
expect 1 lull why 1 --at "2026-03-11 10:00" --json
holds "out['verdict'] == 'unknown'" "rule('wind-maximum')['verdict'] == 'unknown'"
describe ', "absent": ["temperature"]' | grid forecast.json
bad 'no air temperature'

# A bad document after a good one: told, and the good one stays in use.
cp good.json forecast.json
good
echo '<html>sorry</html>' >forecast.json
expect 1 lull refresh
sed 1d out >said
one_line said 'forecast.json: '
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'go'"

# A change of the clocks inside: the preferred hours are those of the wall, and
# a window over the night lasts as long as it lasts.
change() {
	clock "$1"
	printf '{"issued": "%s", "hours": 78}' "$1" | grid forecast.json
	configure 'hours = { "07:00-11:00" }'
	rm -rf state
	expect 1 lull add front warm
	expect 0 lull refresh
	expect 0 lull windows 1 --json
	holds "len(out['windows']) == 3" \
		"[w['opens'] for w in out['windows']] == $2" \
		"[w['closes'][11:16] for w in out['windows']] == ['11:00'] * 3"
	configure ''
	expect 0 lull windows 1 --json
	holds "len(out['windows']) == 1" \
		"t(out['windows'][0]['opens']) == t('$1')" \
		"h(-0.25) < t(out['windows'][0]['closes']) - t('$1') - h(78 - 7 - 2) <= h(0)"
}
change 2026-03-07T12:00+00:00 \
	"['2026-03-07T07:00:00-06:00', '2026-03-08T07:00:00-05:00', '2026-03-09T07:00:00-05:00']"
change 2026-10-31T12:00+00:00 \
	"['2026-10-31T07:00:00-05:00', '2026-11-01T07:00:00-06:00', '2026-11-02T07:00:00-06:00']"

# A format that does not say when the forecast was made: it is as old as its
# fetching, and the same bytes again make it no younger.
hourly() {
	$python -c 'if True:
		import json, sys
		# 2026-03-10T00:00Z and a week
		hours = [1773100800 + 3600 * i for i in range(24 * 7)]
		means = {"temperature_2m": ["°C", 18], "precipitation": ["mm", 0],
			"wind_speed_10m": ["m/s", 2], "wind_gusts_10m": ["m/s", 4],
			"dew_point_2m": ["°C", 9], "precipitation_probability": ["%", 5]}
		print(json.dumps({"generationtime_ms": float(sys.argv[1]),
			"utc_offset_seconds": 0,
			"hourly_units": {"time": "unixtime", **{n: u for n, (u, v) in means.items()}},
			"hourly": {"time": hours, **{n: [v] * len(hours) for n, (u, v) in means.items()}}}))
	' "$1" >forecast.json
}
clock 2026-03-10T08:00-05:00
configure '' open-meteo
hourly 0.25
good
expect 0 lull weather front
has out 'open-meteo, fetched Tue 10 Mar 08:00 (0 min ago)'
has out 'CC BY 4.0'
clock 2026-03-11T07:55-05:00
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'go'"
clock 2026-03-11T08:05-05:00
expect 1 lull refresh
has out 'the forecast of Tue 10 Mar 08:00 is too old'
hourly 0.5
expect 0 lull refresh
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'go'"

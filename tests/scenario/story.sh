#!/bin/sh
# A keeper's week: what a ceiling, rain, dormancy and re-treatment do to the
# windows. What is right is worked out from the week's own numbers here, not
# from what the program says. All limits: common practice, no source.
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
			fill = "10 min"
		}
		site "front" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "3000 ft2"
			sprayer = "backpack"
			forecast = "nws-grid file:forecast.json"
			turf = { $1 }
		}
		practice "daylight" { limit = "yes" source = "common practice, no source" }
		product "open" { label = "invented" rate = "1 fl oz/1000 ft2" }
		product "ceiling" { label = "invented" rate = "1 fl oz/1000 ft2" temperature-ceiling = "below 85 degF" }
		product "dry-12" { label = "invented" rate = "1 fl oz/1000 ft2" rain-free = "12 h" }
		product "dry-24" { label = "invented" rate = "1 fl oz/1000 ft2" rain-free = "24 h" }
		product "sleeper" { label = "invented" rate = "1 fl oz/1000 ft2" turf = { dormant } }
		product "again" { label = "invented" rate = "1 fl oz/1000 ft2" re-treatment = "21 d" }
	END
}

# A week from Tuesday's local midnight on: Thursday is hot, and rain begins on
# Wednesday at six in the morning.
week() {
	$python - "$1" "$2" <<-'END' | grid forecast.json
		import json, math, sys
		def air(hour):
		    high = 33.0 if hour // 24 == 2 else 22.0
		    low = 12.0
		    part = (1 - math.cos(math.pi * (hour % 24 - 4) / 12)) / 2
		    return round(low + (high - low) * part, 1)
		rain = json.loads(sys.argv[2])
		print(json.dumps({
		    "issued": sys.argv[1], "fine": 72,
		    "layers": {"temperature": [air(hour) for hour in range(180)]},
		    "spells": rain}))
	END
}

configure '"2026-03-01 dormant"'
week 2026-03-10T12:00Z '[
	["quantitativePrecipitation", "2026-03-11T11:00Z", "2026-03-11T17:00Z", 2.5],
	["probabilityOfPrecipitation", "2026-03-11T11:00Z", "2026-03-11T17:00Z", 80]]'
clock 2026-03-10T07:00-05:00
expect 0 lull refresh

# Jobs that share no hours, so that each one's windows are its own.
job=0
for product in open ceiling dry-12 dry-24 sleeper; do
	job=$((job + 1))
	expect 0 lull add front $product --json
	cp out "$product.added"
	holds "out['jobs'][0]['job'] == $job" "out['jobs'][0]['verdict'] == 'go'"
	expect 0 lull windows $job --json
	cp out "$product.windows"
done

# A ceiling takes the hot afternoon and nothing else. 85 degF is 29.44 degC.
thursday='t("2026-03-12T00:00-05:00")'
hot="[span for span in hours('forecast.json', 'temperature') if span[2] >= (85 - 32) / 1.8]"
took="(lambda slot: t(slot['to']) - t(slot['from']))(read('open.added')['jobs'][0]['slot'])"
holds "len($hot) > 0" \
	"all($thursday <= span[0] < $thursday + h(24) for span in $hot)" \
	"open_at(read('open.windows')['windows'], $thursday + h(15))" \
	"not open_at(read('ceiling.windows')['windows'], $thursday + h(15))" \
	"[w for w in read('ceiling.windows')['windows']
		if ${hot}[0][0] - m(15) < t(w['closes']) <= ${hot}[0][0]]" \
	"all(open_at(read('ceiling.windows')['windows'], s) ==
		all(span[0] >= s + $took or span[1] <= s for span in $hot)
		for w in read('open.windows')['windows']
		for s in step(t(w['opens']), t(w['last-start'])) if s.minute % 15 == 0)"
expect 1 lull why 2 --at "2026-03-12 15:00" --json
holds "rule('temperature-ceiling')['verdict'] == 'no-go'" \
	"rule('temperature-ceiling')['value'] == max(v for a, b, v in hours('forecast.json', 'temperature')
		if a < $thursday + h(15) + $took and b > $thursday + h(15))" \
	"abs(rule('temperature-ceiling')['limit'] - 29.444) < 0.001" \
	"rule('temperature-ceiling')['origin'] == 'label'"

# Rain twenty hours after the job: far enough for 12 h, not for 24 h.
first_rain="min(a for a, b, mm in hours('forecast.json', 'quantitativePrecipitation') if mm >= 0.25)"
expect 0 lull why 3 --at "2026-03-10 10:00" --json
holds "out['verdict'] == 'go'" "rule('rain-free')['verdict'] == 'go'"
expect 1 lull why 4 --at "2026-03-10 10:00" --json
holds "out['verdict'] == 'no-go'" "rule('rain-free')['verdict'] == 'no-go'" \
	"t(rule('rain-free')['time']) == $first_rain" \
	"rule('rain-free')['margin-unit'] == 'h'" \
	"abs(h(rule('rain-free')['margin']) - ($first_rain - (t(out['at']) + $took + h(24)))) < m(1)"
expect 0 lull why 4 --at "2026-03-12 10:00" --json
holds "all(open_at(read('dry-%d.windows' % need)['windows'], s) ==
	(s + $took + h(need) <= $first_rain or s >= $first_rain + h(6))
	for need in (12, 24) for w in read('open.windows')['windows']
	for s in step(t(w['opens']), t(w['last-start'])) if s.minute % 15 == 0
	and s < t(w['closes']) and s < t('2026-03-15T00:00Z'))"

# Dormant turf: windows while it is told dormant, none after green-up is told.
holds "len(read('sleeper.windows')['windows']) >= 6"
configure '"2026-03-01 dormant", "2026-03-09 green-up"'
expect 1 lull windows 5 --json
holds "out['windows'] == []"
expect 1 lull windows 5
has out 'green-up'
expect 1 lull why 5 --at "2026-03-12 10:00" --json
holds "out['verdict'] == 'no-go'" \
	"rule('turf', 'green-up')['verdict'] == 'no-go'" \
	"rule('turf', 'green')['verdict'] == 'go'" \
	"'green-up' in rule('turf', 'green-up')['sentence']"
expect 0 lull refresh
expect 0 lull queue --json
holds "[j for j in out['jobs'] if j['job'] == 5][0]['slot'] is None" \
	"'green-up' in [j for j in out['jobs'] if j['job'] == 5][0]['reason']"
# A look is trusted for three weeks only; then the state is not known.
configure '"2026-02-01 dormant"'
expect 1 lull why 5 --at "2026-03-12 10:00" --json
holds "out['verdict'] == 'unknown'" \
	"rule('turf', 'green-up')['verdict'] == 'unknown'"

# Re-treatment: 21 local days after Saturday the seventh is the twenty-eighth,
# though the clocks change in between.
expect 0 lull add front again
clock 2026-03-10T11:00-05:00
expect 0 lull "done" 6 --from "2026-03-07 08:00"
expect 1 lull add front again --json
holds "out['jobs'][0]['job'] == 7" "out['jobs'][0]['verdict'] == 'no-go'" \
	"out['jobs'][0]['slot'] is None" "'again' in out['jobs'][0]['reason']"
expect 1 lull windows 7 --json
holds "out['windows'] == []"
expect 1 lull why 7 --at "2026-03-12 10:00" --json
holds "rule('re-treatment')['value'] == 5" "rule('re-treatment')['limit'] == 21"
week 2026-03-26T12:00Z '[]'
clock 2026-03-26T08:00-05:00
lull refresh >out || true
expect 1 lull why 7 --at "2026-03-27 18:00" --json
holds "rule('re-treatment')['value'] == 20"
expect 0 lull why 7 --at "2026-03-28 10:00" --json
holds "rule('re-treatment')['value'] == 21" "rule('re-treatment')['margin'] == 0"
expect 0 lull windows 7 --json
holds "t(out['windows'][0]['opens']).date() == t('2026-03-28T00:00Z').date()"

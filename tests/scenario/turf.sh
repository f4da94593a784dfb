#!/bin/sh
# The turf's state over two weeks of a spring: what the keeper saw stands until
# the soil says that it may have changed, and until when is told ahead.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

cat >lull.conf <<'CONF'
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
	forecast = "open-meteo file:forecast.json"
	turf = { "2026-03-03 dormant" }
}
product "sleeper" { label = "invented" rate = "1 fl oz/1000 ft2" turf = { dormant } }
CONF

# The soil at 45 degF, and from the local midnight of 12 March on at 59.
spring() {
	printf '{"start": "%s", "hours": 300}' "$1" |
		$python "$scenario/services.py" open-meteo >plain.json
	$python - <<-'CODE' >forecast.json
		import json
		turn = 1773291600  # 2026-03-12T05:00Z
		document = json.load(open("plain.json", encoding="utf-8"))
		hourly = document["hourly"]
		hourly["soil_temperature_6cm"] = [
		    7.2 if time < turn else 15 for time in hourly["time"]]
		print(json.dumps(document))
	CODE
}

# day NUMBER: the morning of that day of March, with a new forecast.
day() {
	before=$(date -u -d "2026-03-$1 -3 days" +%Y-%m-%d)
	spring "${before}T00:00Z"
	clock "2026-03-${1}T07:00-0${2}:00"
	expect 0 lull refresh
}

# Nobody has seen enough of the soil to foretell anything, at first.
day 02 6
expect 0 lull weather front --hours 1
has out '^turf: cannot tell: look at the lawn$'
expect 0 lull weather front --json
holds "out['turf']['state'] is None" "out['turf']['since'] is None" \
	"out['turf']['why'] == 'cannot tell: look at the lawn'" \
	"out['soil']['mean-of-5-days'] is None" "out['soil']['trend'] is None"

# The forecast of the fifth sees the warmth of the twelfth and the thirteenth,
# and the mean of five days is cold until then.
for number in 03 04 05; do
	day $number 6
done
expect 0 lull weather front --hours 1
has out '^turf: dormant, seen Tue 3 Mar; look again by Tue 24 Mar; green-up not before Sat 14 Mar$'
has out '^soil: mean of 5 days 45 °F'
expect 0 lull weather front --json
holds "out['turf']['state'] == 'dormant'" \
	"out['turf']['green-up'] is None" \
	"out['turf']['green-up-not-before'] == '2026-03-14'" \
	"out['turf']['look-again'] == '2026-03-24'"

# (7.2 + 4 x 15) / 5 is the first mean of 55 degF or more: on the fifteenth.
day 06 6
day 07 6
day 08 5
day 09 5
day 10 5
expect 0 lull weather front --hours 1
has out '^turf: dormant, seen Tue 3 Mar; look again by Sun 15 Mar; green-up may begin Sun 15 Mar$'
has out '^soil: mean of 5 days 45 °F, steady; 55 °F on Sun 15 Mar: pre-emergents'
expect 0 lull weather front --json
holds "out['turf']['since'] == '2026-03-03'" \
	"out['turf']['why'] == 'seen Tue 3 Mar'" \
	"out['turf']['green-up'] == '2026-03-15'" \
	"out['turf']['green-up-not-before'] is None" \
	"out['soil']['mark'] == 12.8" "out['soil']['on'] == '2026-03-15'" \
	"out['soil']['not-before'] is None"
# So long does a product for dormant turf fit, and not an hour longer.
expect 0 lull add front sleeper --after 2026-03-13
expect 0 lull windows 1 --json
holds "t(out['windows'][-1]['last-start']) < t('2026-03-15T00:00-05:00')" \
	"t(out['windows'][-1]['last-start']) > t('2026-03-14T22:00-05:00')"

# The warmth has come: nobody can tell until somebody looks.
for number in 11 12 13 14 15 16; do
	day $number 5
done
expect 0 lull weather front --hours 1
has out '^turf: cannot tell: look at the lawn (soil at 55 °F or more on Sun 15 Mar)$'
expect 0 lull weather front --json
holds "out['turf']['state'] is None" "out['turf']['since'] == '2026-03-15'" \
	"out['turf']['look-again'] is None"

# What is seen stands, at first against the soil.
expect 0 lull observe front --green '4 %'
expect 0 lull weather front --hours 1
has out '^turf: dormant, seen Mon 16 Mar; look again by Thu 19 Mar; green-up may begin Thu 19 Mar$'
expect 0 lull observe front --green '30 %'
expect 0 lull weather front --hours 1
has out '^turf: green-up, seen Mon 16 Mar; look again by Mon 6 Apr$'
expect 0 lull weather front --columns dormant,green-up,green --json
holds "set(out['columns']['green-up']) == {1}" \
	"set(out['columns']['dormant']) == {0}"

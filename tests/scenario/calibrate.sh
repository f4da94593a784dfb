#!/bin/sh
# A catch test becomes the carrier of every job: on a course, on a free area, and
# from a nozzle and a walking speed; worn nozzles are named, and what cannot be
# is refused.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

# configure UNITS [SETTING]: of the boom, the second sprayer.
configure() {
	cat >lull.conf <<CONF
units = $1
sprayer "backpack" {
	tank = "4 gal"
	carrier = "1 gal/1000 ft2"
	pace = "150 ft2/min"
	fill = "10 min"
}
sprayer "boom" {
	tank = "60 gal"
	carrier = "1 gal/1000 ft2"
	pace = "5000 ft2/min"
	swath = "222 in"
	${2-}
}
site "front" {
	latitude = "33.6 deg"
	longitude = "-99.4 deg"
	zone = "America/Chicago"
	area = "6000 ft2"
	sprayer = "backpack"
	forecast = "nws-grid file:forecast.json"
	hours = { "07:00-11:00" }
}
product "hold" { label = "invented label" rate = "1 fl oz/1000 ft2" }
CONF
}
configure us
echo '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
clock 2026-03-10T07:00-05:00
expect 0 lull refresh
expect 0 lull add front hold

# known SPRAYER N: how many calibrations are listed.
known() {
	expect 0 lull calibrate "$1" --json
	holds "out['format'] == 1" "out['sprayer'] == '$1'" \
		"len(out['calibrations']) == $2"
}

# mix_is LITRES: of the job, at the carrier in use.
mix_is() {
	expect 0 lull mix 1 --json
	holds "abs(out['mix-litres'] - $1) < 0.01"
}

# Nothing was caught yet: the configuration's carrier, without a date.
expect 0 "$builddir/lull" help
has out '^  calibrate '
known backpack 0
holds "out['in-use']['day'] is None" "out['in-use']['stale'] is False" \
	"out['in-use']['carrier']['gallons-per-acre'] == 43.56"
expect 0 lull calibrate backpack
has out '1 gal/1000 ft2 (43\.6 gal/acre, 407 L/ha), at 150 ft2/min$'
has out 'Nobody has said when'
mix_is 22.712

# The course of the worksheet: 6 ft is 57 ft. It stores nothing.
expect 0 lull calibrate backpack --width "6 ft"
has out '^A swath of 6 ft covers 1/128 acre in 56\.7 ft\.$'
has out 'fluid ounce in the jug: 1 gal/acre'
expect 0 lull calibrate backpack --width "6 ft" --json
holds "abs(out['course-m'] / 0.3048 - 56.72) < 0.005" "out['width-m'] == 1.8288"
known backpack 0

# Its runs and its catch: 7.5 gal/acre. A try is not stored.
worksheet() {
	expect 0 lull calibrate backpack --width "6 ft" --caught "7.5 fl oz" \
		--time "16 s" --time "18 s" "$@"
}
worksheet --try
has out '(7\.50 gal/acre, 70\.2 L/ha)$'
has out '^Walk 2\.3 mph: 100 ft in 30\.0 s$'
has out '^One tank of 4 gal covers 23,232 ft2, at 1,201 ft2/min$'
has out '82\.8 % less$'
has out '^Not stored'
known backpack 0
worksheet --try --json
holds "out['calibration'] is None" "out['in-use'] is False" \
	"out['carrier']['gallons-per-acre'] == 7.5"
mix_is 22.712

# Stored, and the mix sheet uses it at once.
worksheet --json
holds "out['calibration'] == 1" "out['in-use'] is True" \
	"out['at'] == '2026-03-10T07:00:00-05:00'" \
	"out['carrier-before']['gallons-per-acre'] == 43.56" \
	"out['change-percent'] == -82.78" \
	"'7.5 fl oz on a' in out['method']" \
	"'covered in 17.0 s (the mean of 2)' in out['method']"
mix_is 3.911
known backpack 1
holds "out['in-use']['day'] == '2026-03-10'" \
	"out['calibrations'][0]['carrier'] == out['in-use']['carrier']" \
	"out['calibrations'][0]['pace-m2-per-min'] == out['in-use']['pace-m2-per-min'] == 111.586"
# Twice the water in twice the time, and a course of another length: the same.
expect 0 lull calibrate backpack --width "6 ft" --caught "15 fl oz" \
	--time "17 s" --catch-time "34 s" --try --json
holds "out['carrier']['gallons-per-acre'] == 7.5"
expect 0 lull calibrate backpack --width "6 ft" --length "113.4375 ft" \
	--caught "15 fl oz" --time "34 s" --try --json
holds "out['carrier']['gallons-per-acre'] == 7.5"

# A free area, three days later; its pace when it was timed, else that of before.
clock 2026-03-13T07:00-05:00
expect 0 lull calibrate backpack --area "1000 ft2" --caught "1.5 gal"
has out '^backpack: 1\.5 gal/1000 ft2 (65\.3 gal/acre, 611 L/ha)$'
has out '^For a spot: 1\.5 gal on 1000 ft2, 6\.11 L on 100 m2$'
has out '^Stored as calibration 2: it counts from 2026-03-13 on, for every job\.$'
mix_is 34.069
known backpack 2
holds "[c['calibration'] for c in out['calibrations']] == [2, 1]" \
	"[c['age-days'] for c in out['calibrations']] == [0, 3]" \
	"out['calibrations'][0]['pace-m2-per-min'] is None" \
	"out['in-use']['pace-m2-per-min'] == 111.586"
expect 0 lull calibrate backpack
has out '^   2  2026-03-13, today  '
has out '^   1  2026-03-10, 3 days ago  '
[ "$(grep -n 'today' out | cut -d : -f 1)" -lt \
	"$(grep -n 'days ago' out | cut -d : -f 1)" ] || fail "the newest is not first"
expect 0 lull calibrate backpack --area "340.3125 ft2" --caught "40 fl oz" \
	--time "51 s" --json
holds "out['carrier']['gallons-per-acre'] == 40" \
	"abs(out['pace-m2-per-min'] - 37.195) < 0.001"
mix_is 20.861
# What is not known yet does not count: the mix sheet of three days ago.
clock 2026-03-10T07:30-05:00
mix_is 3.911
known backpack 1

# After 180 days it is old.
clock 2026-09-09T07:00-05:00
known backpack 3
holds "out['in-use']['stale'] is False"
clock 2026-09-10T07:00-05:00
known backpack 3
holds "out['in-use']['stale'] is True"
expect 0 lull calibrate backpack
has out '^It is older than 180 d: catch again\.$'
clock 2026-03-13T07:00-05:00

# The swath of the configuration stands in for --width; UTC where no site sprays.
expect 0 lull calibrate boom --caught "80 fl oz" --time "17 s" --json
holds "out['carrier']['gallons-per-acre'] == 80" \
	"t(out['at']) == t('2026-03-13T12:00:00Z') and '-' not in out['at'][10:]"
known boom 1
known backpack 3
# A date in the configuration that is later counts over it.
configure us 'calibrated = "2026-05-01"'
expect 0 lull calibrate boom --area "1000 ft2" --caught "1 gal"
has out ', but the configuration has a later one, of 2026-05-01\.$'
known boom 2
holds "out['in-use']['day'] == '2026-05-01'"
configure us

# Flow, width, speed and carrier: any three give the fourth.
expect 0 lull calibrate boom --flow "3.75 gal/min" --speed "5 mph"
has out '(20\.1 gal/acre, 188 L/ha) from 3\.75 gal/min over 18\.5 ft$'
has out '^Walk 5 mph: 100 ft in 13\.6 s$'
expect 0 lull calibrate backpack --carrier "1 gal/1000 ft2" --width "5 ft" \
	--flow "0.4 gal/min"
has out '^Walk 0\.9 mph: 100 ft in 75\.0 s$'
expect 0 lull calibrate backpack --carrier "1 gal/1000 ft2" --width "5 ft" \
	--speed "80 ft/min" --json
holds "abs(out['flow-litres-per-min'] - 0.4 * 3.785411784) < 0.0001" \
	"abs(out['tank-m2'] / 0.09290304 - 4000) < 0.1"
expect 0 lull calibrate boom --carrier "1 gal/1000 ft2" --flow "0.4 gal/min" \
	--speed "80 ft/min" --json
holds "abs(out['width-m'] / 0.3048 - 5) < 0.0001"
known boom 2

# Nozzles: against their mean, and against a new one.
expect 0 lull calibrate boom --nozzle "20 fl oz" --nozzle "20 fl oz" \
	--nozzle "22.5 fl oz" --nozzle "17.5 fl oz"
has out '^mean: 20 fl oz$'
has out '^nozzle 1: 20 fl oz, 0\.0 % over the mean$'
has out '^nozzle 3: 22\.5 fl oz, 12\.5 % over the mean: replace it$'
has out '^nozzle 4: 17\.5 fl oz, 12\.5 % under the mean: clean it'
expect 0 lull calibrate boom --nozzle "21 fl oz" --nozzle "19 fl oz" --json
holds "[n['uneven'] for n in out['nozzles']] == [False, False]" \
	"out['rated-litres'] is None" "out['unlike-new'] is False"
expect 0 lull calibrate backpack --nozzle "28.2 fl oz" --rated "0.4 gal/min" \
	--catch-time "30 s"
has out '^nozzle: 28\.2 fl oz, 10\.2 % over what a new one gives: replace it$'
expect 0 lull calibrate backpack --nozzle "26 fl oz" --rated "25.6 fl oz" --json
holds "out['unlike-new'] is False" "len(out['nozzles']) == 1"
expect 0 lull calibrate boom --nozzle "30 fl oz" --nozzle "30 fl oz" \
	--rated "25.6 fl oz"
has out '^mean: 30 fl oz, 17\.2 % over what a new one gives: replace all$'

# The metric keeper.
configure metric
expect 0 lull calibrate backpack --width "1 m"
has out '^A swath of 1 m covers 1/128 acre in 31\.62 m\.$'
has out '^Each 100 mL in the jug: 31\.6 L/ha\.$'
expect 0 lull calibrate backpack --carrier "400 L/ha" --flow "1.2 L/min" \
	--width "1 m"
has out '^4 L/100 m2 (42\.8 gal/acre, 400 L/ha) from 1\.2 L/min over 1 m$'
has out '^Walk 1\.8 km/h: 30 m in 60\.0 s$'
configure us

# refused WORDS ARGUMENTS...: nothing is stored of it.
refused() {
	words=$1
	shift
	expect 2 lull calibrate "$@"
	one_line err "$words"
	[ ! -s out ] || fail "something on standard output: calibrate $*"
}
wants='--caught wants --area, or --width and --time$'
refused "$wants" backpack --caught "1 qt"
refused "$wants" backpack --caught "1 qt" --time "17 s"
refused "$wants" backpack --caught "1 qt" --width "6 ft"
refused "$wants" boom --caught "1 qt"
refused '--area wants --caught$' backpack --area "1000 ft2"
refused '--area wants --caught$' backpack --area "1000 ft2" --time "17 s"
refused '--catch-time wants --time$' backpack --area "1000 ft2" \
	--caught "1 qt" --catch-time "17 s"
refused '--catch-time wants --caught and --time$' boom --catch-time "17 s"
refused '--time wants --caught$' backpack --width "6 ft" --time "17 s"
refused '--length wants --caught and --time$' backpack --length "100 ft"
refused '--try wants --caught$' backpack --try
refused '--try wants --caught$' backpack --width "6 ft" --try
refused '--width does not go with --area$' backpack --area "1000 ft2" \
	--caught "1 qt" --width "6 ft"
refused '--caught does not go with --flow$' backpack --flow "1 gal/min" \
	--caught "1 qt"
refused '--area does not go with --nozzle$' backpack --nozzle "1 qt" \
	--area "9 ft2"
three='three of --flow, --width, --speed and --carrier give the fourth$'
refused "$three" backpack --flow "1 gal/min" --speed "3 mph"
refused "$three" boom --flow "1 gal/min"
refused "$three" boom --flow "1 gal/min" --speed "3 mph" --width "6 ft" \
	--carrier "1 gal/1000 ft2"
refused '--nozzle wants a second --nozzle, or --rated$' boom --nozzle "1 qt"
refused '--rated wants --nozzle$' boom --rated "1 qt"
refused 'want each other$' boom --nozzle "1 qt" --rated "1 gal/min"
refused 'want each other$' boom --nozzle "1 qt" --rated "1 qt" \
	--catch-time "9 s"
refused 'too little$' boom --nozzle "1 qt" --rated "0 qt"
# Slips of a unit, and what is none.
refused 'dry ounce; write fl oz$' backpack --area "9 ft2" --caught "7 oz"
refused 'unit is missing' backpack --area 1000 --caught "1 qt"
refused 'unit is missing' backpack --width "6 ft" --caught "1 qt" --time 17
refused 'too little$' backpack --area "1000 ft2" --caught "0 qt"
refused 'too little$' backpack --area "1000 ft2" --caught "-1 qt"
refused 'too little$' backpack --area "0 ft2" --caught "1 qt"
refused 'too little$' backpack --width "6 ft" --caught "1 qt" --time "0 s"
refused 'too much$' backpack --width "6 mi" --caught "1 qt" --time "17 s" \
	--length "7 mi"
refused 'a carrier of .*is a unit mistaken?$' backpack --area "9 ft2" \
	--caught "90 gal"
refused 'a pace of .*is a unit mistaken?$' backpack --area "200 acre" \
	--caught "1000 gal" --time "1 s"
refused 'a carrier of .*is a unit mistaken?$' boom --flow "3.75 gal/min" \
	--width "1 ft" --speed "0.05 ft/s"
refused 'a speed of .*is a unit mistaken?$' backpack --flow "3.75 gal/min" \
	--width "5 ft" --carrier "2 gal/acre"
refused '--area is given twice$' backpack --area "9 ft2" --area "9 ft2" \
	--caught "1 qt"
refused '^lull: usage' backpack boom
refused '^lull: usage'
refused '^lull: usage' backpack --depth "1 in"
expect 1 lull calibrate trailer --width "6 ft"
one_line err "there is no sprayer 'trailer'$"
known backpack 3
known boom 2

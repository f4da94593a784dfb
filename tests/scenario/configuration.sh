#!/bin/sh
# Every mistake in a configuration, one by one: exit 2 and one line that names
# the file and the line of the mistake. Mistakes in a command: exit 2 and one
# line. And what is queued stays queued.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

cat >good.conf <<'END'
units = us
evening-alarm = "19:00"
keep-off = "4 h"
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
	turf = { "2026-03-01 dormant", "2026-03-09 green-up" }
	hours = { "07:00-11:00" }
}
product "warm" {
	label = "invented"
	rate = "1 fl oz/1000 ft2"
	temperature-floor = "at least 50 degF"
	temperature-ceiling = "below 85 degF"
}
practice "wind-maximum" {
	limit = "at most 10 mph"
	source = "common practice, no source"
}
END

echo '{"issued": "2026-03-10T12:00Z", "hours": 60}' | grid forecast.json
clock 2026-03-10T08:00-05:00
cp good.conf lull.conf
expect 0 lull check
expect 0 lull refresh
expect 0 lull add front warm
cp state/lull.ics before.ics

# Every program that reads the configuration refuses it with the same line.
refused() {
	expect 2 lull check
	one_line err "^lull.conf:$1: .*$2"
	cp err first
	expect 2 lull add front warm
	cmp err first || fail "add does not say the same"
	expect 2 pass
	cmp err first || fail "lulld does not say the same"
	cmp state/lull.ics before.ics || fail "the calendar changed"
	cp good.conf lull.conf
	expect 0 lull queue --json
	holds "[job['job'] for job in out['jobs']] == [1]"
}

# mistake LINE WORDS SCRIPT: sed's script makes the mistake. What a whole section
# lacks may be told at its first or at its last line.
mistake() {
	sed -e "$3" good.conf >lull.conf
	! cmp -s good.conf lull.conf || fail "no mistake was made: $3"
	refused "$1" "$2"
}

mistake 3 keep-of 's/^keep-off/keep-of/'
mistake 22 temperature-flor 's/temperature-floor/temperature-flor/'
mistake 3 'keep-off: .*4 acre' 's/"4 h"/"4 acre"/'
mistake 22 'temperature-floor: .*50 mph' 's/50 degF/50 mph/'
mistake 22 'temperature-floor: .*50' 's/50 degF/50/'
mistake 22 'temperature-floor: .*50 degF' 's/"at least 50/"at most 50/'
mistake 23 'temperature-ceiling: .*range' 's/below 85 degF/below 850 degF/'
mistake 22 'floor .*the ceiling' 's/at least 50 degF/at least 95 degF/'
mistake 10 'latitude: .*91 deg.*range' 's/33.6 deg/91 deg/'
mistake 11 'longitude: .*range' 's/-99.4 deg/-199.4 deg/'
mistake 12 'zone: .*America/Chicgo' 's/Chicago/Chicgo/'
mistake 12 'zone: .*CST' 's,America/Chicago,CST,'
mistake 2 'evening-alarm: .*25:00' 's/"19:00"/"25:00"/'
mistake 2 'evening-alarm: .*7 pm' 's/"19:00"/"7 pm"/'
mistake 17 'hours: .*11:00-07:00' 's/07:00-11:00/11:00-07:00/'
mistake 17 'hours: ' 's/07:00-11:00/7-11/'
mistake 16 'turf: .*2026-02-09' 's/2026-03-09/2026-02-09/'
mistake 16 'turf: .*2026-02-30' 's/2026-03-01/2026-02-30/'
mistake 16 'turf: .*brown' 's/green-up/brown/'
mistake '\(25\|28\)' 'practice "wind-most"' 's/^practice "wind-maximum"/practice "wind-most"/'
mistake '\(25\|28\)' 'practice "turf"' 's/^practice "wind-maximum"/practice "turf"/'
mistake 26 'limit: .*10 degF' 's/at most 10 mph/at most 10 degF/'
mistake 14 'sprayer: .*wheelbarrow' 's/sprayer = "backpack"/sprayer = "wheelbarrow"/'
mistake 15 'forecast: .*contact' 's,"nws-grid file:forecast.json","nws-grid https://weather.example/x",'
mistake 15 'forecast: .*ftp' 's,"nws-grid file:forecast.json","nws-grid ftp://weather.example/x",'
mistake 15 'forecast' 's,"nws-grid file:forecast.json","",'
mistake 21 'rate: .*1 fl oz' 's,1 fl oz/1000 ft2,1 fl oz,'
mistake 21 'rate: .*0 fl oz' 's,1 fl oz/1000 ft2,0 fl oz/1000 ft2,'
mistake 1 'units: .*imperial' 's/units = us/units = imperial/'
mistake 3 'evening-alarm.*twice.*line 2' '2a evening-alarm = "18:00"'
mistake 22 'rate.*twice.*line 21' '21a rate = "2 fl oz/1000 ft2"'
mistake 29 'warm' '28a product "warm" { label = "another" }'
mistake 27 '}' '28d'
mistake 24 '' '24d'
mistake '\(3\|29\)' '' '3s/"4 h"/"4 h/'
mistake '\(9\|17\)' 'site "front".*latitude is missing' '/latitude/d'
mistake '\(19\|23\)' 'product "warm".*label is missing' '/label/d'
mistake '\(25\|27\)' 'practice "wind-maximum".*source is missing' '/source/d'
mistake '\(4\|7\)' 'sprayer "backpack".*pace is missing' '/pace/d'
mistake 3 '' '2a include("nowhere.conf")'
mistake 3 '' '2a product "warm" = "yes"'
mistake '\(19\|24\)' 'product' 's/product "warm"/product "warm wet"/'
mistake 2 'evening-alarm' 's/"19:00"/""/'

# A file that is not there, or is none.
rm lull.conf
expect 2 lull check
one_line err 'lull.conf: No such file'
: >lull.conf
expect 2 lull check
one_line err '^lull.conf:1: '
head -c 1000 /dev/zero >lull.conf
expect 2 lull check
one_line err '^lull.conf:1: '
cp good.conf lull.conf

# A card that says too little is used, and named: no fault. "None on label"
# says enough. What no limit holds is a note on the mix sheet.
expect 0 lull check
has out '^warm: the card does not say: rain-free period; type it, or none on'
has out '^warm: the card does not say: season maximum; type it, or none on label'
[ "$(wc -l <out)" -eq 3 ] || fail "more is missing than two things"
expect 0 lull check --json
holds "out['good']" "[p['product'] for p in out['missing']] == ['warm']" \
	"len(out['missing'][0]['says-nothing-of']) == 2"
sed '21a rain-free = "none on label | | page 2"\
season-count = "none on label"\
notes = { "Gloves, page 1" }' good.conf >lull.conf
expect 0 lull check
[ "$(wc -l <out)" -eq 1 ] || fail "something is missing yet"
expect 0 lull check --json
holds "out['missing'] == []"
expect 0 lull mix 1
has out '^warm: Gloves, page 1'
expect 0 lull mix 1 --json
holds "out['products'][0]['notes'] == ['Gloves, page 1']"
cp good.conf lull.conf

# A product that jobs wait for is taken off the file: told, not lost.
sed 's/product "warm"/product "other"/' good.conf >lull.conf
expect 0 lull queue --json
holds "out['jobs'][0]['job'] == 1" "out['jobs'][0]['verdict'] == 'unknown'" \
	"'warm' in out['jobs'][0]['reason']"
expect 1 lull refresh
sed 1d out >said
one_line said 'job 1: .*warm'
cp good.conf lull.conf
expect 0 lull refresh

# Mistakes in commands: one line, and nothing is queued or lost.
wrong() {
	refused 2 "$@"
}

# refused CODE WORDS COMMAND ...
refused() {
	code=$1
	words=$2
	shift 2
	expect "$code" lull "$@"
	[ ! -s out ] || fail "it printed something: $*"
	one_line err "^lull: .*$words"
	expect 0 lull queue --json
	holds "[job['job'] for job in out['jobs']] == [1]" \
		"out['jobs'][0]['verdict'] == 'go'"
}

wrong 'cold' add front cold
refused 1 'nowhere' add nowhere warm
wrong 'twice' add front warm warm
wrong 'warm.*acre' add front warm=1acre
wrong 'what to spray.*what against' add front
wrong 'usage' add
wrong 'usage' add front warm --colour red
wrong 'after.*2026-02-30' add front warm --after 2026-02-30
wrong 'before.*soon' add front warm --before soon
wrong 'end before it starts' add front warm --after 2026-03-12 --before 2026-03-11
wrong 'does not fit' add front warm --after "2026-03-12 08:00" --before "2026-03-12 08:01"
wrong 'area.*3 h' add front warm --area "3 h"
wrong 'area.*too little' add front warm --area "0 ft2"
wrong 'area' add front warm --area "-5 ft2"
wrong 'priority.*10' add front warm --priority 10
wrong 'priority' add front warm --priority high
wrong 'repeat' add front warm --repeat "5 ft2"
wrong 'note.*twice' add front warm --note a --note b
wrong 'note' add front warm --note "$(printf 'caf\351')"
wrong 'note.*twice' add front warm --note a --note b
wrong 'note' add front warm --note "$(printf 'gate\nopen')"
wrong 'note' observe front --mowed --note "$(printf '\033[2Jgate')"
wrong 'number of a job' why one
wrong 'at.*yesterday' why 1 --at yesterday
wrong 'UNTIL.*soon' postpone 1 soon
wrong 'wind.*3 h' "done" 1 --wind "3 h"
wrong 'future' "done" 1 --from "2026-03-11 08:00"
wrong 'ended before it began' "done" 1 --from "2026-03-10 07:00" --to "2026-03-10 06:00"
wrong 'columns.*colour' weather front --columns colour
wrong 'hours' weather front --hours 0
wrong 'now.*noon' queue --now noon
wrong 'there is no command' frobnicate

# What is not there is an answer, not a mistake.
absent() {
	expect 1 lull "$@"
	one_line err '^lull: .*7'
}
absent windows 7
absent why 7
absent mix 7
absent drop 7
absent "done" 7
absent postpone 7 2026-03-12

#!/bin/sh
# What the keeper saw, did and plans moves the slots: mowing holds the job off on
# both sides, what falls through is taken back, and a season is used up.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

cat >lull.conf <<'CONF'
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
	area = "6000 ft2"
	sprayer = "backpack"
	forecast = "nws-grid file:forecast.json"
	hours = { "07:00-11:00" }
}
product "hold" { label = "invented label" rate = "1 fl oz/1000 ft2" since-mowing = "2 d" until-mowing = "2 d" }
product "lean" { label = "invented label" rate = "1 fl oz/1000 ft2" season-amount = "2.5 fl oz/1000 ft2" }
CONF
echo '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
clock 2026-03-10T07:00-05:00
expect 0 lull refresh

# slot_of JOB: where its slot begins.
slot_is() {
	lull queue --json >out 2>err || true
	holds "[job['slot'] and job['slot']['from'] for job in out['jobs'] if job['job'] == $1] == [$2]"
}

# known N: how many observations are listed.
known() {
	expect 0 lull observe front --json
	holds "out['format'] == 1" "len(out['observations']) == $1"
}

expect 0 "$builddir/lull" help
has out '^  observe '
expect 0 lull observe front
has out '^Nothing has been observed.$'
known 0

# Nobody has told of the last mowing: it cannot be told.
expect 1 lull add front hold
has out 'time since mowing'
slot_is 1 None

# Mown yesterday, at whatever hour: two days from its end.
expect 0 lull observe front --mowed --on 2026-03-09 --note "the gate"
has out '^   1  2026-03-09  *mowing  the gate$'
slot_is 1 "'2026-03-12T07:00:00-05:00'"

# To be mown on Friday: neither from Wednesday on nor until Monday.
expect 0 lull observe front --mowed --on 2026-03-13
has out '^   2  2026-03-13  *mowing, planned$'
slot_is 1 "'2026-03-16T07:00:00-05:00'"

# On Saturday noon instead: Thursday morning is just early enough, and Monday
# too early. Then at seven, which is the other way round, and then not at all: the
# slot is still good and stays, but it could be earlier.
expect 0 lull observe front --replaces 2 --mowed --on "2026-03-14 12:00"
has out '^   3  2026-03-14 12:00  mowing, planned$'
slot_is 1 "'2026-03-12T07:00:00-05:00'"
expect 0 lull observe front --replaces 3 --mowed --on "2026-03-14 07:00"
slot_is 1 "'2026-03-16T07:00:00-05:00'"
expect 1 lull observe front --replaces 3
one_line err 'observation 3 is already replaced by observation 4$'
expect 0 lull observe front --replaces 4
has out '^observation 4 is taken back$'
slot_is 1 "'2026-03-16T07:00:00-05:00'"
expect 0 lull why 1 --at "2026-03-12 07:00"
known 1

# Several at once; the newest first, in both units.
clock 2026-03-10T08:30-05:00
expect 0 lull observe front --green "5 %" --soil "50 degF" --rain "0.5 in" --json
holds "[o['kind'] for o in out['observations']] == ['rain', 'soil', 'green']" \
	"[o['amount'] for o in out['observations']] == [12.7, 10, 5]" \
	"[o['unit'] for o in out['observations']] == ['mm', '°C', '%']" \
	"all(o['from'] == o['to'] == o['told'] == '2026-03-10T08:30:00-05:00' for o in out['observations'])" \
	"not any(o['plan'] for o in out['observations'])"
expect 0 lull observe front --irrigation "0.25 in" --on 2026-03-11 --json
holds "out['observations'][0]['plan'] is True" \
	"out['observations'][0]['from'] == '2026-03-11T00:00:00-05:00'" \
	"out['observations'][0]['to'] == '2026-03-12T00:00:00-05:00'"
expect 0 lull observe front --seeded --sodded --overseeded --aerated --on 2015-04-01
[ "$(wc -l <out)" -eq 4 ] || fail "four kinds are not four lines"
expect 0 lull observe front
has out ' 2026-03-10 08:30  rain 0\.5 in$'
has out ' 2026-03-10 08:30  soil 50 °F$'
has out ' 2026-03-11  *irrigation 0\.25 in, planned$'
[ "$(head -n 1 out | cut -c 7-16)" = 2026-03-11 ] || fail "the newest is not first"
known 9

# refused WORDS ARGUMENTS...: nothing is stored of it.
refused() {
	words=$1
	shift
	expect 2 lull observe "$@"
	one_line err "$words"
	[ ! -s out ] || fail "something on standard output: observe $*"
}
refused 'too much' front --green "101 %"
refused 'too little' front --green "-1 %"
refused 'in the future' front --green "5 %" --on 2026-03-11
refused 'in the future' front --rain "1 in" --on "2026-03-10 08:31"
refused 'in the future' front --soil "50 degF" --on 2026-03-11
refused 'too little' front --irrigation "0 in"
refused 'too much' front --rain "30 in"
refused 'rain' front --rain 1
refused 'not a time' front --mowed --on yesterday
refused 'usage' front --mowed=yes
refused 'usage' front --trampled
refused 'usage' front back
refused 'say what' front --on 2026-03-09
refused 'takes the place of one' front --replaces 1 --mowed --aerated
refused 'number of an observation' front --replaces first --mowed
expect 1 lull observe side --mowed
one_line err 'there is no site'
# One wrong of two: neither is told.
refused 'too much' front --mowed --green "101 %"
known 9
expect 1 lull observe front --replaces 77 --mowed
one_line err 'there is no observation 77 of front$'
known 9

# Two of 1 fl oz/1000 ft2 leave no room for a third under 2.5 in a year.
for job in 2 3; do
	expect 0 lull add front lean
	expect 0 lull "done" $job --from "2026-03-10 07:30" --to "2026-03-10 08:30"
done
expect 1 lull add front lean
has out 'this year'
slot_is 4 None
expect 0 lull why 1 --at "2026-03-12 07:00" --json
holds "rule('since-mowing')['verdict'] == 'go'" \
	"rule('until-mowing')['verdict'] == 'go'"

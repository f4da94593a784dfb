#!/bin/sh
# Every command, as text and as JSON, with its exit code: 0 done, 1 the answer
# is no, 2 usage or configuration, 3 the system.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

cat >lull.conf <<'END'
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
practice "wind-maximum" { limit = "at most 10 mph" source = "common practice, no source" }
product "warm" { label = "invented label" rate = "1.5 fl oz/1000 ft2" temperature-floor = "at least 50 degF" rain-free = "2 h" re-treatment = "2 d" }
product "hot" { label = "invented label" rate = "0.4 oz/1000 ft2" temperature-floor = "at least 95 degF" }
product "dye" { label = "invented label" rate = "0.5 fl oz/gal" }
END
echo '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
clock 2026-03-10T07:00-05:00

# both CODE COMMAND...: text first, without a trace on standard error; then the
# same as JSON, which is left in ./out.
both() {
	wanted=$1
	shift
	expect "$wanted" lull "$@"
	[ -s out ] || fail "no text: $*"
	[ ! -s err ] || fail "something on standard error: $*"
	cp out text
	expect "$wanted" lull "$@" --json
	[ ! -s err ] || fail "something on standard error: $* --json"
	holds "list(out)[0] == 'format'" "out['format'] == 1"
}

# help needs no configuration.
expect 0 "$builddir/lull" help
for command in add check "done" drop help mix postpone queue refresh weather why windows; do
	has out "^  $command "
done
cp out text
expect 0 "$builddir/lull"
cmp out text || fail "lull alone is not lull help"
expect 0 "$builddir/lull" --help
cmp out text || fail "lull --help is not lull help"

both 0 check
has text '^lull.conf is good: sites 1, sprayers 1, products 3, packages 0, practice limits 1$'
holds "out['good'] is True" "out['products'] == 3" "out['sites'] == 1"

both 0 queue
has text '^Nothing is queued.$'
holds "out['jobs'] == []"
both 1 weather front
has text 'no forecast has been fetched yet'
holds "out['trouble'] != ''" "out['sources'][0]['issued'] is None" \
	"out['sources'][0]['answers'] is False" "out['origin']['wind'] is None"

both 0 refresh
has text '^0 waiting, 0 with a slot, 0 moved$'
holds "out['jobs'] == 0" "out['trouble'] == ''"
both 0 weather front --hours 3 --columns air-temperature,wind
holds "len(out['time']) == 3" "out['trouble'] == ''" \
	"out['sources'][0]['issued'] == '2026-03-10T07:00:00-05:00'" \
	"out['sources'][0]['answers'] is True" "out['origin']['wind'] == 'nws-grid'" \
	"out['columns'] == {'air-temperature': [18] * 3, 'wind': [9.26] * 3}" \
	"out['units'] == {'air-temperature': '°C', 'wind': 'km/h'}"
has text '64\.4 .* 5\.8$'
has text 'National Weather Service'

# Each of both queues one: jobs 1 and 2 share a product, 3 and 4 never find
# a window.
both 0 add front warm dye --weed dandelion --note "the gate" --priority 2
has text '^  1  front, warm + dye$'
holds "len(out['jobs']) == 1" "out['jobs'][0]['job'] == 2" \
	"out['jobs'][0]['verdict'] == 'go'" "out['jobs'][0]['site'] == 'front'" \
	"out['jobs'][0]['tank'] == ['warm', 'dye']" "out['jobs'][0]['priority'] == 2" \
	"out['jobs'][0]['slot']['from'][:10] == '2026-03-12'"
both 1 add front warm hot
has text 'no window: air temperature under 95'
holds "out['jobs'][0]['verdict'] == 'no-go'" "out['jobs'][0]['slot'] is None"

both 0 queue
holds "[job['job'] for job in out['jobs']] == [1, 2, 3, 4]" \
	"all(t(job['slot']['from']) < t(job['slot']['to']) for job in out['jobs'][:2])"
has text '^  4  front, warm + hot$'

both 0 windows 1
has text '^Tue 10 Mar 07:00 to 11:00, start by '
holds "out['job'] == 1" "out['windows'][0]['opens'] == '2026-03-10T07:00:00-05:00'" \
	"out['windows'][0]['closes'] == '2026-03-10T11:00:00-05:00'" \
	"all(w['opened-by'] and w['closed-by'] for w in out['windows'])"
both 1 windows 3
has text '^no window: '
holds "out['windows'] == []"

both 0 why 1
has text '^Tue 10 Mar 07:00: go$'
holds "out['verdict'] == 'go'" "out['at'] == '2026-03-10T07:00:00-05:00'" \
	"{r['origin'] for r in out['rules']} == {'label', 'practice', 'preference'}" \
	"all(r['source'] for r in out['rules'] if r['origin'] != 'preference')" \
	"abs(rule('temperature-floor')['limit'] - 10) < 0.001" \
	"rule('temperature-floor')['value'] == 18" \
	"abs(rule('temperature-floor')['margin'] - 8) < 0.001" \
	"rule('temperature-floor')['unit'] == '°C'"
both 1 why 1 --at "2026-03-10 15:00"
has text 'outside the preferred hours'
holds "out['verdict'] == 'no-go'" \
	"[r['rule'] for r in out['rules'] if r['verdict'] == 'no-go'] == ['hours']"
both 1 why 3 --at "2026-03-10 08:00"
has text '^- Without hot: '
holds "[item['product'] for item in out['helps'] if item['change'] == 'leave out'] == ['hot']"

# 6000 ft2 at one gallon for a thousand: a full tank of four, then two.
both 0 mix 1
has text '^TANK 1: 4 gal for 4,000 ft2$'
has text '^  3\. warm: 6 fl oz (177 mL); its label says when'
has text '^TANK 2: 2 gal for 2,000 ft2$'
has text '^  2\. dye: 1 fl oz (29.6 mL); its label says when'
holds "out['tanks'] == 2" "abs(out['mix-litres'] - 6 * 3.785412) < 0.001" \
	"abs(out['area-m2'] - 6000 * 0.09290304) < 0.01" \
	"[item['unit'] for item in out['products']] == ['mL', 'mL']" \
	"abs(out['products'][0]['amount'] - 9 * 29.57353) < 0.01" \
	"abs(out['products'][1]['amount'] - 3 * 29.57353) < 0.01"
both 0 mix 3
holds "[item['unit'] for item in out['products']] == ['mL', 'g']" \
	"abs(out['products'][1]['amount'] - 2.4 * 28.349523) < 0.01"

both 0 postpone 2 2026-03-14
has text '^  2  front, warm + dye$'
holds "out['jobs'][0]['job'] == 2" \
	"out['jobs'][0]['slot']['from'] == '2026-03-14T07:00:00-05:00'"

expect 0 lull drop 3
has out '^job 3 is off the queue$'
expect 1 lull drop 3
expect 0 lull drop 4 --json
holds "out['format'] == 1" "out['job'] == 4"

clock 2026-03-10T09:00-05:00
expect 0 lull "done" 1 --from "2026-03-10 08:00" --to "2026-03-10 08:40" \
	--used "6 gal" --wind "5 mph" --direction "180 deg" --air "61 degF" --humidity "60 %"
has out '^job 1 is recorded: front, Tue 10 Mar 08:00-08:40$'
expect 1 lull "done" 1
expect 0 lull "done" 2 --json
holds "out['format'] == 1" "out['job'] == 2"
both 0 queue
holds "out['jobs'] == []"

# Two days of re-treatment from what was recorded; a job that repeats comes
# again.
expect 0 lull add front warm --repeat "3 d" --json
holds "out['jobs'][0]['slot']['from'] == '2026-03-12T07:00:00-05:00'"
clock 2026-03-12T09:00-05:00
lull "done" 5 >out 2>err || true
expect 0 lull queue --json
holds "[job['job'] for job in out['jobs']] == [6]"

# The system's faults are 3: a state folder that cannot be made, a full output.
expect 3 "$builddir/lull" queue --config lull.conf --state lull.conf/state
one_line err '^lull: '
if [ -w /dev/full ]; then
	code=0
	lull queue >/dev/full 2>err || code=$?
	[ $code -eq 3 ] || fail "a full output: exit $code"
	one_line err '^lull: '
fi

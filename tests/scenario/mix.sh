#!/bin/sh
# The mix sheet at the bench: amounts, tools, order, stock solution, shelf and
# refusals. The doses are worked out here, from area and rate. All rates and
# limits: common practice, no source.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

# configure SCALE CALIBRATED
configure() {
	cat >lull.conf <<-END
		units = us
		currency = "USD"
		scale = "$1"
		cylinder = "1 mL"
		spoons = { "1 tbsp", "1 tsp", "0.5 tsp", "0.25 tsp" }
		sprayer "backpack" {
			tank = "4 gal"
			carrier = "1 gal/1000 ft2"
			pace = "500 ft2/min"
			fill = "10 min"
			droplets = coarse
			height = "18 in"
			$2
		}
		site "front" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "6500 ft2"
			sprayer = "backpack"
			forecast = "nws-grid file:forecast.json"
		}
		practice "daylight" { limit = "yes" source = "common practice, no source" }
		product "post-a" {
			label = "invented"
			kind = herbicide
			formulation = "WG"
			rate = "0.56 oz/acre"
			actives = { "otherin 60 %" }
			rate-maximum = "1 oz/acre"
			notes = { "Gloves, page 1" }
		}
		product "post-b" {
			label = "invented"
			kind = herbicide
			formulation = "SL"
			rate = "1.5 fl oz/1000 ft2"
			carrier-minimum = "30 gal/acre"
			actives = { "activin 4 lb/gal" }
			active-maximum = { "activin 3 lb/acre" }
			season-count = "2"
		}
		product "post-c" {
			label = "invented"
			kind = herbicide
			formulation = "EC"
			rate = "1 fl oz/1000 ft2"
			actives = { "activin 4 lb/gal" }
			active-maximum = { "activin 3 lb/acre" }
		}
		product "grain" { label = "invented" formulation = "SG" rate = "0.64 g/gal" scoop = "0.8 g" }
		product "surfactant-n" { label = "invented" kind = adjuvant rate = "0.25 %" }
		product "marker" { label = "invented" kind = other rate = "0.5 fl oz/gal" mix-order = dye }
		package "can" { product = "post-b" size = "64 fl oz" price = "64" opened = "2026-03-01" }
		package "jar" { product = "post-a" size = "1 oz" price = "28.349523125" opened = "2026-03-01" }
	END
}

configure "0.01 g" 'calibrated = "2026-03-01"'
echo '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
clock 2026-03-10T07:00-05:00
expect 0 lull refresh
expect 0 lull add front marker surfactant-n post-b post-a

# A full tank of 4 gal and one of 2.5. 0.56 oz/acre on 4,000 ft2 is 1.458 g.
dose='0.56 * 28.349523125 / 43.560'
expect 0 lull mix 1
[ ! -s err ] || fail "something on standard error"
cp out sheet.txt
[ "$(wc -l <out)" -le 60 ] || fail "more than a page"
awk 'length > 80 { exit 1 }' out || fail "wider than the page"
has out '^backpack was calibrated on 2026-03-01\.$'
has out '^TANK 1: 4 gal for 4,000 ft2$'
has out '^  1\. Water to about 2.4 gal\.'
has out '^  2\. post-a: weigh 1.46 g$'
has out '^  3\. post-b: 177 mL in the cylinder (6 fl oz)$'
has out '^  4\. surfactant-n: 2 tbsp + 1 tsp + 1/2 tsp: .*it foams$'
has out '^  5\. marker: 4 tbsp: 2 fl oz '
has out '^  6\. Top up gently to 4 gal, agitate, spray 4,000 ft2\.$'
has out '^TANK 2: 2.5 gal for 2,500 ft2$'
has out '^  1\. Water to about 1.5 gal\.'
has out '^  5\. marker: 2 tbsp + 1 tsp + 1/2 tsp: 1.25 fl oz '
has out '^  post-b: 9.75 fl oz; on hand .*, left .*, 9.75 USD$'
has out '^JAR TEST: never in one tank before: 2+3, 2+4, 2+5, 3+4, 3+5, 4+5$'
has out '1\. 1 pint of water, 2\. 0.0456 g of post-a, 3\. '
has out '^post-a: Gloves, page 1$'
has out '^Keep everybody 25 ft away'
has out 'Dye fades from concrete'
expect 0 lull mix 1 --json
cp out sheet.json
holds "out['format'] == 1" "out['job'] == 1" "out['tanks'] == 2" \
	"abs(out['mix-litres'] - 6.5 * 3.785412) < 0.001" \
	"[p['product'] for p in out['products']] == ['marker', 'surfactant-n', 'post-b', 'post-a']" \
	"[p['order'] for p in out['products']] == [4, 3, 2, 1]" \
	"[p['step'] for p in out['products']] == ['dye', 'adjuvant', 'solution', 'dry']" \
	"abs(out['products'][3]['amount'] - 6.5 * $dose) < 0.001" \
	"[f['tanks'] for f in out['fills']] == [1, 1]" \
	"all(abs(sum(f['steps'][i]['amount'] for f in out['fills'])
		- [p for p in out['products'] if p['order'] == i + 1][0]['amount']) < 0.002 for i in range(4))" \
	"all(abs(s['told'] - s['amount']) <= s['amount'] * (s['off-percent'] + 0.01) / 100 + 0.001
		for f in out['fills'] for s in f['steps'])" \
	"[s['tool'] for s in out['fills'][0]['steps']] == ['scale', 'cylinder', 'spoons', 'spoons']" \
	"abs(out['products'][2]['cost'] - 9.75) < 0.01" \
	"abs(out['products'][3]['left'] - (28.3495 - 6.5 * $dose)) < 0.001" \
	"out['products'][0]['on-hand'] is None" "out['cost'] is None" \
	"out['currency'] == 'USD'" "out['calibration'] == 'good'" \
	"len(out['jar-test']['new-pairs']) == 6" \
	"abs(out['keep-away-m'] - 7.62) < 0.001" "out['foams'] and out['dye']"

# Split evenly: both tanks alike, the sums as before.
expect 0 lull mix 1 --even --json
holds "[f['tanks'] for f in out['fills']] == [2]" \
	"abs(out['fills'][0]['mix-litres'] - 3.25 * 3.785412) < 0.001" \
	"abs(out['fills'][0]['steps'][0]['amount'] - 3.25 * $dose) < 0.001" \
	"out['products'] == read('sheet.json')['products']"
expect 0 lull mix 1 --even
has out '^TANKS 1 AND 2, EACH: 3.25 gal for 3,250 ft2$'
expect 2 lull mix 1 --made
one_line err 'needs no new stock solution'
[ ! -s out ] || fail "a refused --made prints"

# Scoops: 0.64 g in each of 2.5 gal are 1.6 g, two of 0.8 g.
expect 0 lull add front grain --area "2500 ft2"
expect 0 lull mix 2
has out '^  2\. grain: 2 level scoops of 0.8 g (1.6 g); one must weigh 0.78 g to 0.82 g,$'
expect 0 lull drop 2

# The doses are too small for a coarser scale: 5 g in 500 mL, as 50 of its steps
# are 5 g. Once it is made, it is used until midnight.
configure "0.1 g" 'calibrated = "2025-03-01"'
expect 0 lull mix 1
has out 'more than 180 d ago: do it again'
has out '^STOCK SOLUTION of post-a: weigh 5.0 g'
has out '^  2\. post-a: stock solution for 1.46 g: 146 mL in the cylinder$'
has out '^  2\. post-a: stock solution for 0.911 g: 91 mL in the cylinder'
expect 0 lull mix 1 --json
holds "out['calibration'] == 'stale'" \
	"out['products'][3]['stock-solution'] == {'weigh-g': 5, 'make-up-to-mL': 500, 'strength-g-L': 10}" \
	"out['products'][3]['taken'] == 5" \
	"out['fills'][0]['steps'][0]['draw-mL']['told'] == 146"
expect 0 lull mix 1 --made --json
holds "out['products'][3]['stock-solution']['made'] == '2026-03-10T07:00:00-05:00'" \
	"out['products'][3]['stock-solution']['until'] == '2026-03-11T00:00:00-05:00'" \
	"out['products'][3]['taken'] == 0" "out['products'][3]['cost'] == 0" \
	"abs(out['products'][3]['left'] - 23.3495) < 0.001"
clock 2026-03-10T09:00-05:00
expect 0 lull mix 1
has out '^STOCK SOLUTION of post-a: take the one of Tue 10 Mar 07:00, 10 g/L'
clock 2026-03-11T00:00-05:00
expect 0 lull mix 1
has out '^STOCK SOLUTION of post-a: weigh 5.0 g'
configure "0.01 g" ''
expect 0 lull mix 1
has out '^backpack was never calibrated'

# Each refusal is one sentence, and nothing is printed.
refused() {
	said=$1
	shift
	expect 1 lull mix "$@"
	[ ! -s out ] || fail "a refused sheet is printed"
	one_line err "$said"
}
configure "0.01 g" 'calibrated = "2026-03-01"'
cp lull.conf good.conf
expect 0 lull add front "post-a=0.9 oz/acre" --area "500 ft2"
expect 1 lull add front "post-a=1.1 oz/acre"
one_line err 'post-a allows at most .*, the dose is'
sed 's/rate-maximum = "1 oz/rate-maximum = "0.8 oz/' good.conf >lull.conf
refused 'post-a allows at most .*, the dose is' 3
refused 'post-a allows at most .*, the dose is' 3 --made
sed 's/carrier-minimum = "30/carrier-minimum = "50/' good.conf >lull.conf
refused 'post-b allows at least .*, the carrier of backpack is' 1
cp good.conf lull.conf
expect 0 lull drop 3

# Annual maximum across two tank mixes: 3 lb of activin to the acre. 1.5 fl oz
# of 4 lb/gal on 1,000 ft2 are 2.04 lb/acre; the next mix, of another product,
# would bring 1.36 more.
clock 2026-03-10T08:00-05:00
expect 0 lull "done" 1 --from "2026-03-09 10:00" --to "2026-03-09 10:40"
expect 1 lull add front post-c surfactant-n
refused 'activin.*(post-c)' 4
expect 0 lull drop 4
# In the next year it may be; the pair is known, so there is no jar test.
clock 2027-01-10T08:00-06:00
echo '{"issued": "2027-01-10T12:00Z"}' | grid forecast.json
expect 0 lull refresh
expect 0 lull add front post-b surfactant-n --area "1000 ft2"
expect 0 lull mix 5
has out '^TANK 1: 1 gal for 1,000 ft2$'
if grep -q 'JAR' out; then fail "a pair that was in one tank is news"; fi

# A maximum that nobody can tell is a caution on the sheet: the records have a
# herbicide that names no active.
sed '/actives = { "otherin/d' good.conf >lull.conf
clock 2026-03-10T09:00-05:00
echo '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
lull refresh >out || true
lull add front post-c >out 2>err || true
expect 0 lull mix 6
has out '^Caution: cannot tell: .*activin'
expect 0 lull mix 6 --json
holds "'activin' in out['cautions'][0]"

# A solution is told of once: a second telling would take another 5 g off the
# shelf. What a job has sprayed of it is gone, and the rest is not enough.
rm -rf state
configure "0.1 g" 'calibrated = "2026-03-01"'
clock 2026-03-10T07:00-05:00
expect 0 lull refresh
expect 0 lull add front post-a
expect 0 lull add front post-a --area "13000 ft2"
expect 0 lull mix 1 --made
expect 2 lull mix 1 --made
one_line err 'needs no new stock solution'
[ ! -s out ] || fail "a refused --made prints"
expect 0 lull mix 2
has out '^STOCK SOLUTION of post-a: take the one of Tue 10 Mar 07:00, 10 g/L, of'
has out '^  mL should be there; it goes by Wed 11 Mar 00:00'
clock 2026-03-10T09:00-05:00
expect 0 lull "done" 1 --area "8000 ft2" --from "2026-03-10 08:00" \
	--to "2026-03-10 08:40"
expect 0 lull mix 2
has out '^STOCK SOLUTION of post-a: weigh 5.0 g'
expect 0 lull mix 2 --json
holds "out['products'][0]['taken'] == 5" \
	"'made' not in out['products'][0]['stock-solution']"
expect 0 lull mix 2 --made --json
holds "out['products'][0]['stock-solution']['made'] == '2026-03-10T09:00:00-05:00'" \
	"out['products'][0]['stock-solution']['made-left-g'] == 5" \
	"out['products'][0]['taken'] == 0"

# Granules alone: no water, no tank, no fill.
sed 's/formulation = "SG" rate = "0.64 g\/gal"/formulation = "GR" rate = "2 lb\/1000 ft2"/' \
	good.conf >lull.conf
expect 0 lull add front grain
expect 0 lull mix 3
has out '^  grain: 13 lb$'
if grep -q 'gal\|TANK' out; then fail "granules are dissolved"; fi
expect 0 lull mix 3 --json
holds "out['fills'] == []" "out['tanks'] == 0" "out['mix-litres'] == 0" \
	"out['jar-test']['products'] == []" "out['products'][0]['granule']"

# What the sprayer was caught to put down may be what a label forbids.
expect 0 lull drop 3
cp good.conf lull.conf
expect 0 lull add front post-b
expect 0 lull mix 4
expect 0 lull calibrate backpack --area "1000 ft2" --caught "0.6 gal"
refused 'post-b allows at least .*, the carrier of backpack is' 4

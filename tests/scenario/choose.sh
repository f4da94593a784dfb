#!/bin/sh
# Tanks for weeds: what is proposed from the shelf, with its first window, and
# that the command that stands there queues just that.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

# configure LINE...: what stands behind the cards, packages above all.
configure() {
	cat >lull.conf <<-END
		units = us
		currency = USD
		sprayer "backpack" {
			tank = "4 gal"
			carrier = "1 gal/1000 ft2"
			pace = "150 ft2/min"
			droplets = medium
		}
		site "front" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "3000 ft2"
			sprayer = "backpack"
			species = bermuda
			forecast = "nws-grid file:forecast.json"
		}
		practice "daylight" { limit = "yes" source = "common practice, no source" }
		product "su-b" {
			label = "invented"
			rate = "0.9 g/1000 ft2"
			groups = { "2" }
			adjuvant = required
			effect-after = "35 d"
			controls = { "yellow nutsedge", "purple nutsedge" }
		}
		product "broad-c" {
			label = "invented"
			rate-minimum = "1.2 fl oz/1000 ft2"
			rate-maximum = "1.5 fl oz/1000 ft2"
			groups = { "4" }
			controls = { "white clover", "keeper's bane" }
			not-with = { arid-d }
		}
		product "arid-d" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			groups = { "2" }
			temperature-floor = "at least 75 degF"
			controls = { "Yellow nutsedge", "crabgrass" }
		}
		product "zoysia-e" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			species = { zoysia }
			controls = { "crabgrass", "torpedograss" }
		}
		product "quiet-f" { label = "invented" rate = "1 fl oz/1000 ft2" groups = { "14" } }
		product "surfactant-n" { label = "invented" kind = adjuvant rate = "0.25 %" }
		product "oil-o" { label = "invented" kind = adjuvant rate = "1 %" }
		$*
	END
}

# Every product on the shelf; su-b has just enough for one job.
shelf='
package "p1" { product = su-b size = "2.7 g" price = "27" }
package "p2" { product = broad-c size = "32 fl oz" price = "32" }
package "p3" { product = arid-d size = "32 fl oz" price = "64" }
package "p4" { product = surfactant-n size = "1 gal" price = "20" }
package "p5" { product = oil-o size = "1 gal" price = "2" }
package "p6" { product = zoysia-e size = "1 gal" price = "10" }'

# paste: runs the commands that a proposal told, as a shell reads them.
mkdir bin
ln -s "$builddir/lull" bin/lull
paste() {
	grep '^     lull add ' out | sed 's/^ *//' >pasted.sh
	[ -s pasted.sh ] || fail "there is no command"
	expect 0 env PATH="$work/bin:$PATH" timeout 20 sh -e pasted.sh
}

# as_given ARGUMENTS...: lull with just these, in this folder.
as_given() {
	timeout 20 "$builddir/lull" "$@"
}

clock 2026-03-10T07:00-05:00
# Warm enough for arid-d (24 degC) on Thursday afternoon only.
printf '{"issued": "2026-03-10T12:00Z", "fine": 72, "spells": [
	["temperature", "2026-03-12T18:00Z", "2026-03-12T23:00Z", 26]]}' |
	grid forecast.json

# Neither products nor weeds.
configure ''
expect 0 lull refresh
expect 2 lull add front
one_line err 'lull add front PRODUCT.*lull add front --weed W'
expect 1 lull add nowhere --weed crabgrass
one_line err "there is no site 'nowhere'"

# Names that no card has.
expect 2 lull add front --weed nutsedge
one_line err "'nutsedge'.*: purple nutsedge, .ellow nutsedge$"
expect 2 lull add front --weed 'white clover' --weed dandelion
one_line err "'dandelion' under controls"
expect 2 lull add front --weed ''
one_line err "''"
expect 2 lull add front --weed crabgrass --area '1 mph'
one_line err '^lull: --area: '
expect 2 lull add front --weed crabgrass --after 2026-03-12 --before 2026-03-11
one_line err '--before is not later'

# No package at all: every card counts, and nothing has a cost.
expect 0 lull add front --weed ' YELLOW  nutsedge' --json
holds "out['format'] == 1" "out['weeds'] == [' YELLOW  nutsedge']" \
	"out['shelf-known'] is False" "out['found'] == 2" \
	"[[p['product'] for p in o['tanks'][0]['products']] for o in out['proposals']] ==
		[['arid-d'], ['su-b', 'oil-o']]" \
	"all(o['has-window'] and o['cost'] is None for o in out['proposals'])"
expect 0 lull add front --weed 'yellow nutsedge'
has out 'no package is configured: every card counts'
if grep -q cost out; then fail "a cost without a price"; fi
expect 0 lull queue
has out '^Nothing is queued.$'

# The shelf: the cheaper adjuvant, the cost, the rate in full.
configure "$shelf"
expect 0 lull add front --weed 'purple nutsedge' --json
holds "len(out['proposals']) == 1" "out['currency'] == 'USD'" \
	"out['shelf-known'] is True" "out['not-proposed'] == []"
tank="out['proposals'][0]['tanks'][0]"
holds "[p['product'] for p in ${tank}['products']] == ['su-b', 'oil-o']" \
	"${tank}['products'][0]['rate'] == '0.9 g/1000 ft2'" \
	"${tank}['products'][0]['amount'] == 2.7" \
	"${tank}['products'][0]['unit'] == 'g'" \
	"${tank}['products'][0]['covers'] == ['purple nutsedge']" \
	"${tank}['products'][1]['covers'] == []" \
	"${tank}['verdict'] == 'go'" "${tank}['rotation-kept'] is True" \
	"${tank}['groups'] == ['2']" \
	"abs(${tank}['cost'] - (27 + 2 * 0.03)) < 0.005" \
	"out['proposals'][0]['cost'] == ${tank}['cost']" \
	"t(${tank}['window']['opens']).date() == t('2026-03-10T00:00Z').date()" \
	"t(${tank}['products'][0]['effect-from']).date() == t('2026-04-14T00:00Z').date()" \
	"${tank}['products'][1]['effect-from'] is None" \
	"'lull add front su-b oil-o --weed \"purple nutsedge\"' in ${tank}['command']"
# su-b goes with the cheaper one of two unless its card forbids that.
sed 's/effect-after/not-with = { oil-o } &/' lull.conf >edited
mv edited lull.conf
expect 0 lull add front --weed 'purple nutsedge'
has out 'su-b + surfactant-n$'
has out 'su-b 0.9 g/1000 ft2 (2.7 g): purple nutsedge$'
has out 'first window: Tue 10 Mar'
has out 'su-b shows its effect after 35 d, about Tue 14 Apr$'
has out 'resistance groups: 2; rotation kept$'
has out 'cost 27.15 USD$'

# One tank for two weeds; two tanks where the cards want it so; each window
# after the tank before it.
expect 0 lull add front --weed 'Purple Nutsedge' --weed 'white clover' --json
holds "out['proposals'][0]['tanks'][0]['products'][0]['product'] == 'broad-c'" \
	"len(out['proposals'][0]['tanks']) == 1" \
	"[len(o['tanks']) for o in out['proposals']] == [1, 2]"
second="out['proposals'][1]['tanks']"
holds "t(${second}[1]['window']['opens']) > t(${second}[0]['window']['opens'])"
expect 0 lull add front --weed crabgrass --weed 'white clover' --json
holds "[len(o['tanks']) for o in out['proposals']] == [2]" \
	"[p['product'] for p in out['proposals'][0]['tanks'][0]['products']] == ['broad-c']" \
	"t(out['proposals'][0]['tanks'][1]['window']['opens']).date() == t('2026-03-12T00:00Z').date()" \
	"[n['product'] for n in out['not-proposed']] == ['zoysia-e']"
expect 0 lull add front --weed crabgrass --weed 'white clover'
has out '^1. Two tanks$'
has out '^not proposed: zoysia-e is for zoysia, front is bermuda$'
has out '^   in all: cost '

# What is pasted queues just that, with what was given and nothing else.
paste
expect 0 lull queue --json
holds "sorted(j['tank'] for j in out['jobs']) == [['arid-d'], ['broad-c']]" \
	"all(j['verdict'] == 'go' and j['cautions'] == [] for j in out['jobs'])"
has pasted.sh 'lull add front "broad-c=1.2 fl oz/1000 ft2" --weed "white clover" --config lull.conf --state state --now '
expect 0 lull drop 1
expect 0 lull drop 2

# Without the three there are none of them; quotes survive the shell.
# shellcheck disable=SC2016 # a shell's own signs, as they are
odd='say "hi" $HOME `id` \ it'"'s 50% !x"
(
	HOME=$work/home
	export HOME
	mkdir -p home/.config/lull home/.local/state
	cp lull.conf home/.config/lull/lull.conf
	cp forecast.json home/.config/lull/forecast.json
	# the real clock; no forecast is asked for
	expect 0 as_given add front --weed "keeper's bane" --note "$odd" \
		--area '1000 ft2' --priority 2
	has out '^1. One tank$'
	grep '^     lull add ' out >line
	if grep -q -e --config -e --state -e --now line; then
		fail "an option that was not given"
	fi
) || exit 1
expect 0 lull add front --weed "keeper's bane" --note "$odd" \
	--area '1000 ft2' --priority 2
paste
has pasted.sh '--weed "keeper'"'"'s bane"'
expect 0 lull queue --json
holds "len(out['jobs']) == 1" "out['jobs'][0]['priority'] == 2" \
	"out['jobs'][0]['tank'] == ['broad-c']"
expect 0 lull mix 3 --json
holds "abs(out['area-m2'] - 92.9) < 0.01"
printf '%s' "$odd" >odd.txt
printf "%s" "keeper's bane" >bane.txt
$python - <<-'END' || fail "the note or the weed changed on the way"
	import sqlite3, sys
	row = sqlite3.connect("state/lull.db").execute(
	    "SELECT note, weeds FROM job WHERE id = 3").fetchone()
	sys.exit(row != (open("odd.txt").read(), open("bane.txt").read()))
END
expect 0 lull drop 3

# The shelf is what the records and the queue leave of it.
expect 0 lull add front su-b surfactant-n --weed 'purple nutsedge'
expect 1 lull add front --weed 'purple nutsedge'
has out 'not proposed: nothing of su-b that is still good is on hand'
one_line err 'nothing that can be used controls purple nutsedge$'
expect 1 lull add front --weed 'purple nutsedge' --json
holds "out['proposals'] == []" "out['not-proposed'][0]['product'] == 'su-b'"
# Half of what is wanted is a caution.
expect 0 lull drop 4
expect 0 lull add front --weed 'purple nutsedge' --area '6000 ft2'
has out 'caution: this job takes 5.4 g of su-b, 2.7 g is on the shelf'
has out 'cost not known'
# Thursday is the day of the job.
configure "$(printf '%s' "$shelf" |
	sed 's/price = "64"/& expires = "2026-03-11"/')"
expect 0 lull add front --weed crabgrass
has out 'caution: arid-d would come from package p3, which is good until 2026-03-11 and not on the day'
configure "$shelf"

# Torpedograss: its only card is for another turf.
expect 1 lull add front --weed torpedograss
has out 'zoysia-e is for zoysia, front is bermuda'
one_line err 'controls torpedograss$'

# Rotation: the group that was sprayed last comes behind, and says so.
expect 0 lull add front arid-d
expect 0 lull "done" 5 --from '2026-03-09 15:00'
expect 0 lull add front --weed 'yellow nutsedge' --json
holds "all(o['tanks'][0]['rotation-kept'] is False for o in out['proposals'])" \
	"all('same resistance group twice in a row: 2' in o['tanks'][0]['cautions']
		for o in out['proposals'])"
expect 0 lull add front --weed 'yellow nutsedge'
has out 'resistance groups: 2; rotation not kept$'
has out 'caution: same resistance group twice in a row: 2$'

# No window for the hot one in a cold week: it comes behind, with the reason.
printf '{"issued": "2026-03-10T12:00Z"}' | grid forecast.json
expect 0 lull refresh
expect 0 lull add front --weed 'yellow nutsedge' --json
holds "[o['has-window'] for o in out['proposals']] == [True, False]" \
	"out['proposals'][1]['tanks'][0]['products'][0]['product'] == 'arid-d'" \
	"out['proposals'][1]['tanks'][0]['verdict'] == 'no-go'" \
	"'temperature under 75' in out['proposals'][1]['tanks'][0]['reason']"
expect 1 lull add front --weed crabgrass --weed 'white clover'
has out '^1. Two tanks, without a window$'
has out 'no window: air temperature under 75 .*F'
# With two that are shut, one of them is not looked at any more.
expect 0 lull add front --weed 'yellow nutsedge' --weed 'white clover' --json
holds "[o['has-window'] for o in out['proposals']] == [True, True, False]" \
	"[t['verdict'] for t in out['proposals'][2]['tanks']] == ['go', 'no-go']"
expect 1 lull add front --weed 'white clover' --weed crabgrass \
	--before '2026-03-10 07:40' --json
holds "[t['verdict'] for t in out['proposals'][0]['tanks']] == ['no-go', 'unknown']" \
	"out['proposals'][0]['tanks'][1]['reason'] == ''"
expect 1 lull add front --weed 'white clover' --weed crabgrass \
	--before '2026-03-10 07:40'
has out 'not looked at: the tank before it has no window$'

# Without a forecast nobody can tell.
mv state aside
expect 1 lull add front --weed crabgrass
has out '^     unknown: '
expect 1 lull add front --weed crabgrass --json
holds "out['proposals'][0]['tanks'][0]['verdict'] == 'unknown'"
rm -rf state
mv aside state

# Weeds beside products: kept, and one that no card in the tank has is told.
expect 0 lull add front broad-c='1.2 fl oz/1000 ft2' \
	--weed 'White  clover' --weed dandelion
has out 'caution: no card in the tank lists dandelion among the weeds'
if grep -q 'lists White' out; then fail "a weed that is on the card"; fi
expect 0 lull add front broad-c='1.2 fl oz/1000 ft2' --weed moss --json
holds "[c for c in out['jobs'][0]['cautions'] if 'lists moss' in c]"
# A tank whose cards list none has nothing to say of it.
expect 0 lull add front quiet-f --weed dandelion
if grep -q dandelion out; then fail "no card lists any weed"; fi

# More cards than are searched: the only one for a weed is among them.
cards=
for number in 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26; do
	cards="$cards
		product \"same-$number\" {
			label = \"invented\" rate = \"1 fl oz/1000 ft2\"
			controls = { \"white clover\" }
		}"
done
configure "$cards"
expect 0 lull add front --weed 'white clover'
has out '^16 of 18 herbicides were searched'
expect 0 lull add front --weed 'white clover' --json
holds "(out['herbicides'], out['searched'], len(out['proposals'])) == (18, 16, 3)" \
	"out['looked-at'] == 3"
configure "$cards" 'product "zz-last" {
	label = "invented" rate = "1 fl oz/1000 ft2" controls = { spurge }
}'
expect 0 lull add front --weed 'white clover' --weed spurge
has out '^16 of 19 herbicides were searched'
has out '^   same-[0-9]* + zz-last$'

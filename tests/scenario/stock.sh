#!/bin/sh
# The shelf: what was sprayed is gone from it, a corrected record corrects it,
# a job that takes more than there is says so, and what expires stands in the
# calendar. Products and prices are invented.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

# configure PACKAGES: one job on front takes 3 fl oz of post-a.
configure() {
	lawn lull.conf "species = bermuda"
	cat >>lull.conf <<-END
		currency = "USD"
		scale = "0.1 g"
		product "post-a" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			controls = { "white clover" }
		}
		product "su-a" {
			label = "invented"
			rate = "0.5 oz/acre"
			season-count = "1"
			stock-solution = "10 g/L"
			stock-keeps = "2 d"
			controls = { "White Clover", "annual bluegrass" }
		}
		product "dye" {
			label = "invented"
		}
		$1
	END
}

# left PACKAGE NUMBER: so much of it, in g or mL, to a tenth.
left() {
	expect 0 lull stock --json
	holds "[round(p['left'], 1) for r in out['products'] for p in \
		r['packages'] if p['package'] == '$1'] == [$2]"
}

# says WORDS: without regard to where a line is broken.
says() {
	expect 0 lull stock
	tr -s ' \n' '  ' <out >joined
	has joined "$1"
}

# An ounce of a liquid is 29.5735 mL; without any package there is a hint.
clock 2026-03-10T07:00-05:00
printf '{"issued": "2026-03-10T07:00-05:00"}' | grid forecast.json
configure ''
expect 0 lull stock
has out '^No package is on file.*package'
expect 0 lull stock --json
holds "out['format'] == 1" "out['products'] == []" \
	"out['without-package'] == ['post-a', 'su-a', 'dye']"
expect 1 lull stock su-b
one_line err "product 'su-b' is not on file"
configure 'package "post-1" { product = "su-b" size = "8 fl oz" }'
expect 2 lull stock
one_line err '^lull.conf:.*product: there is no product "su-b"'

# One that is open, 8 fl oz of it.
bottle='package "post-1" { product = "post-a" size = "8 fl oz" price = "40"
	opened = "2026-03-01" expires = "2026-04-05" }'
configure "$bottle"
expect 0 lull stock post-a
has out '^  post-1: 8 fl oz of 8 fl oz left (100 %)$'
has out 'opened 2026-03-01, good until 2026-04-05 (26 d), worth 40.00 USD'
has out 'warning: post-1 expires in 26 days'
! grep -q dye out || fail "it tells of what was not asked"
expect 0 lull stock dye
one_line out '^No package on file: dye$'
left post-1 236.6

# A job that is queued takes nothing yet; one that is recorded does.
expect 0 lull add front post-a
! grep -q caution out || fail "there is enough"
left post-1 236.6
expect 0 lull "done" 1 --from "2026-03-10 06:30" --to "2026-03-10 07:00"
left post-1 147.9
expect 0 lull stock
has out '^  post-1: 5 fl oz of 8 fl oz left (62.5 %)$'
has out 'worth 25.00 USD'
has out '^No package on file: su-a, dye$'

# The correction: 2 gal of the 3 were used, so 2 fl oz.
expect 0 lull "done" 1 --replaces 1 --used "2 gal"
left post-1 177.4
expect 0 lull "done" 1 --replaces 2 --used "3 gal"
left post-1 147.9

# 5 fl oz: the first of two jobs has its 3, the second lacks 1 of them.
expect 0 lull add front post-a --after 2026-03-11
! grep -q caution out || fail "the first one has enough"
expect 0 lull add front post-a --after 2026-03-12
has out 'caution: this job takes 3 fl oz of post-a, 2 fl oz is on the shelf'
has out 'after the jobs before it'
expect 0 lull queue --json
holds "[len(j['cautions']) for j in out['jobs']] == [0, 1]"
sed -e ':a' -e 'N;$!ba' -e 's/\r\n //g' state/lull.ics >unfolded
has unfolded 'Caution: this job takes 3 fl oz of post-a'
expect 0 lull drop 2
expect 0 lull queue --json
holds "[len(j['cautions']) for j in out['jobs']] == [0]"

# The records took more than there was, until somebody looks.
expect 0 lull "done" 3 --from "2026-03-10 06:30" --to "2026-03-10 07:00"
expect 0 lull add front post-a --after 2026-03-11
has out 'takes 3 fl oz of post-a, 2 fl oz is on the shelf'
expect 0 lull "done" 4 --from "2026-03-10 06:40" --to "2026-03-10 07:00"
left post-1 0
says 'the records took 1 fl oz more of post-a than the open packages held: say'
says 'running out: nothing is on hand, one job on front takes 3 fl oz'
configure "$bottle
	package \"post-2\" { product = post-a size = \"8 fl oz\"
	opened = \"2026-03-10\" expires = \"2026-03-31\" }"
left post-2 207
expect 0 lull stock
! grep -q 'the records took' out || fail "the next one was opened"
expect 0 lull refresh
expiry="[e for e in events('state/lull.ics').values()
	if e['UID'].startswith('package-')]"
holds "[str(e['SUMMARY']) for e in $expiry] == \
		['EXPIRES: post-2 (post-a), 7 fl oz left']" \
	"str(${expiry}[0]['DTSTART'].dt) == '2026-03-31'" \
	"'never into a drain' in ${expiry}[0]['DESCRIPTION']"
cp state/lull.ics before.ics
clock 2026-03-10T22:00-05:00
expect 0 lull refresh
cmp before.ics state/lull.ics || fail "the clock changed the calendar"

# The last day comes before the job.
expect 0 lull add front post-a --after 2026-03-16 --before 2026-03-18
! grep -q caution out || fail "it is good until then"
sed 's/2026-03-31/2026-03-15/' lull.conf >new && mv new lull.conf
expect 0 lull refresh
expect 0 lull queue
has out 'caution: post-a would come from package post-2, which is good until'

# Far more than the lawn can use, and what else would do. 3000 ft2 at 0.5
# oz/acre are 0.976 g, once a year.
configure 'package "su-1" { product = "su-a" size = "1.5 oz" price = "84.50"
	opened = "2026-03-01" shelf-life = "730 d"
	left = { "2026-03-09 31.2 g" } }'
left su-1 31.2
says 'su-1 is far too much: 1.1 oz is left'
says 'post-a controls White Clover, too'
expect 0 lull stock --json
holds "out['products'][0]['packages'][0]['too-much']" \
	"out['products'][0]['packages'][0]['substitutes'][0]['product'] == \
		'post-a'" \
	"round(out['products'][0]['season'], 2) == 0.98" \
	"round(out['products'][0]['packages'][0]['usable'], 2) == 2.93"

# A stock solution takes all of its 5 g when it is made; what is sprayed while
# it is good is of it.
rm -rf state
expect 0 lull refresh
expect 0 lull add front su-a
left su-1 31.2
expect 0 lull mix 1 --made
left su-1 26.2
expect 0 lull "done" 1 --from "2026-03-10 21:30" --to "2026-03-10 22:00"
left su-1 25.2
clock 2026-03-10T23:00-05:00
expect 0 lull "done" 1 --replaces 1 --from "2026-03-10 22:10" \
	--to "2026-03-10 22:40"
left su-1 26.2

# Within 80 columns.
expect 0 lull stock
awk 'length($0) > 80 { exit 1 }' out || fail "a line is too long"

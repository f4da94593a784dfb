#!/bin/sh
# What no weather makes right: such a tank is not queued, and one that waits
# when its card changes says so everywhere. What should not be, but may, is said
# beside the slot.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

# configure DROPLETS LINE: the nozzle's droplets, and a line of the card "one".
configure() {
	cat >lull.conf <<-END
		units = us
		sprayer "backpack" {
			tank = "4 gal"
			carrier = "1 gal/1000 ft2"
			pace = "150 ft2/min"
			$1
		}
		site "front" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "3000 ft2"
			sprayer = "backpack"
			forecast = "nws-grid file:forecast.json"
			species = bermuda
		}
		product "one" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			actives = { "foramsulfuron 27 g/L" }
			groups = { "2" }
			temperature-ceiling = "below 85 degF"
			rain-free = "24 h"
			$2
		}
		product "other" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			temperature-floor = "at least 90 degF"
			water-in = "0.5 in within 12 h"
		}
		product "same" {
			label = "invented"
			rate = "1 fl oz/1000 ft2"
			groups = { "2" }
		}
		product "oil" {
			label = "invented"
			kind = adjuvant
			rate = "0.25 %"
		}
	END
}

# refused WORDS ARGUMENTS...: exit 1, one line that has the words, nothing queued.
refused() {
	words=$1
	shift
	expect 1 lull add front "$@"
	one_line err "not queued: .*$words"
	expect 0 lull queue
	has out '^Nothing is queued.$'
}

clock 2026-03-10T07:00-05:00
printf '{"issued": "2026-03-10T07:00-05:00"}' | grid forecast.json
configure 'droplets = medium' ''
expect 0 lull refresh
refused 'one.*other' one other
configure 'droplets = medium' 'adjuvant = required'
refused 'adjuvant' one
configure 'droplets = medium' 'adjuvant = forbidden'
refused 'adjuvant.*oil' one oil
configure 'droplets = medium' 'not-with = { other }'
refused 'other' same one other
configure 'droplets = medium' 'species = { zoysia }'
refused 'bermuda' one
configure 'droplets = fine' 'droplets = medium'
refused 'fine' one
configure 'droplets = medium' 'rate-maximum = "1.1 fl oz/1000 ft2"'
refused '1.2 fl oz' 'one=1.2 fl oz/1000 ft2'

# A caution: nobody says how fine the drops are. The job has its slot.
configure '' 'droplets = medium'
expect 0 lull add front one
has out 'caution: .*droplets'
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'go'" "len(out['jobs'][0]['cautions']) == 1"
has state/lull.ics '^SUMMARY:GO'
sed -e ':a' -e 'N;$!ba' -e 's/\r\n //g' state/lull.ics >unfolded
has unfolded 'Caution: .*droplets'

# The card changes under it.
configure 'droplets = fine' 'droplets = medium'
expect 1 lull refresh
has out 'job 1: .*fine'
expect 0 lull queue
has out 'no-go: .*fine'
expect 0 lull queue --json
holds "out['jobs'][0]['verdict'] == 'no-go'"
expect 2 lull why 1
one_line err 'job 1: .*fine'
has state/lull.ics '^SUMMARY:NO-GO: front'
! grep -q '^SUMMARY:GO' state/lull.ics || fail "the calendar says go"

# And back: the slot is there again.
configure 'droplets = coarse' 'droplets = medium'
expect 0 lull refresh
has state/lull.ics '^SUMMARY:GO'
! grep -q 'NO-GO' state/lull.ics || fail "the calendar still says no-go"
expect 0 lull "done" 1 --from '2026-03-10 06:00' --to '2026-03-10 06:30'

# The same resistance group twice in a row is a caution, too.
expect 0 lull add front same --after 2026-03-11
has out 'caution: .*resistance group.*2'

# A season's maximum holds for the queue: once a year is once, also before it is
# recorded.
rm -rf state
configure 'droplets = medium' 'season-count = "1"'
expect 0 lull refresh
expect 0 lull add front one
expect 1 lull add front one
has out 'no window: .*this year'
expect 0 lull queue --json
holds "[j['verdict'] for j in out['jobs']] == ['go', 'no-go']"

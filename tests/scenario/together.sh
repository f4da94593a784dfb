#!/bin/sh
# Jobs that take from one season get their first slots in one pass: a forecast
# comes when they have waited for it. The season has to hold for all of them at
# once, in that very pass.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

lawn lull.conf
cat >>lull.conf <<'CONF'
product "once" { label = "invented" rate = "1 fl oz/1000 ft2" rain-free = "4 h" season-count = "1" }
product "twice" { label = "invented" rate = "1 fl oz/1000 ft2" rain-free = "4 h" season-count = "2" }
CONF

clock 2026-04-14T07:30-05:00
for product in once once once twice twice twice; do
	lull add front $product >/dev/null 2>&1 || true
done
expect 0 lull queue --json
holds "len(out['jobs']) == 6" "all(j['slot'] is None for j in out['jobs'])"

echo '{"issued": "2026-04-14T12:00Z", "fine": 180}' | grid forecast.json
expect 0 lull refresh
expect 0 lull queue --json
holds "[j['verdict'] for j in out['jobs']]
	== ['go', 'no-go', 'no-go', 'go', 'go', 'no-go']" \
	"[j['slot'] is not None for j in out['jobs']]
	== [True, False, False, True, True, False]" \
	"'too often this year' in out['jobs'][1]['reason']"

# It was settled in that pass: the next one changes nothing.
cp state/lull.ics before.ics
expect 0 lull refresh
cmp before.ics state/lull.ics || fail "another pass changed the calendar"

# What held the season goes, and the next in the row has it.
expect 0 lull drop 1
expect 0 lull queue --json
holds "[j['verdict'] for j in out['jobs']]
	== ['go', 'no-go', 'go', 'go', 'no-go']"

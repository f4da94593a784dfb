#!/bin/sh
# The last look on site: readings stand in for the forecast while the job lasts
# and for nothing else; what nobody measured stays what it was. And what `why`
# tells with a rule: its own words, and how to learn what is not known.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

cat >lull.conf <<'END'
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
	area = "4000 ft2"
	sprayer = "backpack"
	forecast = "nws-grid file:forecast.json"
	sides = { "east vegetable bed" }
}
product "cool" {
	label = "invented label"
	rate = "1 fl oz/1000 ft2"
	temperature-ceiling = "below 85 degF | Do not apply above 85 F | page 3"
	wind-minimum = "at least 3 mph"
	wind-maximum = "at most 10 mph"
	delta-t-maximum = "at most 14 degF"
	dry-leaf = "2 h"
	rain-free = "2 h"
	season-count = "none on label"
}
product "winter" {
	label = "invented label"
	rate = "1 fl oz/1000 ft2"
	temperature-ceiling = "none on label"
	rain-free = "1 h"
	season-count = "none on label"
	turf = { dormant }
	no-drift = yes
}
product "mown" {
	label = "invented label"
	rate = "1 fl oz/1000 ft2"
	temperature-ceiling = "none on label"
	temperature-floor = "at least 70 degF"
	rain-free = "1 h"
	season-count = "none on label"
	since-mowing = "2 d"
}
END

# forecast LAYERS SPELLS: 64 degF, dry, a south wind of 6 mph but for these.
forecast() {
	echo "{\"issued\": \"2026-03-10T12:00Z\", \"layers\": {$1}, \"spells\": [$2]}" |
		grid forecast.json
	expect 0 lull refresh
}

# answer CODE WORD JOB OPTIONS...: the answer as text and as JSON.
answer() {
	wanted=$1 word=$2
	shift 2
	expect "$wanted" lull now "$@" --json
	holds "list(out)[0] == 'format'" "out['verdict'].upper() == '$word'"
	expect "$wanted" lull now "$@"
	[ "$(head -n 1 out | cut -d : -f 1)" = "$word" ] || fail "$word: $*"
	has out 'The label in your hand is the law'
}

# Five past eleven, inside of a step.
clock 2026-03-10T11:05-05:00
forecast '"windSpeed": null, "windGust": null' ''
lull add front cool >/dev/null || true
lull add front winter >/dev/null || true

# Nobody knows the wind, until somebody measures it.
answer 1 UNKNOWN 1
has out '^UNKNOWN: front, cool, Tue 10 Mar 11:05-11:45$'
[ "$(count out 'still unknown: look, and say --wind W$')" -eq 2 ] || fail "no hint for the wind"
has out '^go .*air temperature 64\.4.*(cool) \[forecast\]$'
answer 1 UNKNOWN 1 --air "70 degF" --humidity "50 %"
has out '^go .*air temperature 70 .*\[measured\]$'
has out '^go .*delta T .*\[measured\]$'
has out '^unknown .*wind not known.*\[forecast\]$'
answer 0 GO 1 --wind "5 mph"
has out '^go .*wind 5 mph Tue 10 Mar 11:00, wanted at most 10 mph .*\[measured\]$'
answer 0 GO 1 --wind "3 mph"
answer 1 NO-GO 1 --wind "2 mph"
answer 1 NO-GO 1 --wind "11 mph"
sed -n 3p out >first
has first '^no-go .*wind 11 mph'
answer 1 NO-GO 1 --wind "5 mph" --gust "12 mph"
has out '^no-go .*gust 12 mph .*wanted at most 10 mph during the job: 2 mph over (cool) \[measured\]$'
expect 1 lull now 1 --wind "5 mph" --gust "12 mph" --json
holds "out['at'] == '2026-03-10T11:05:00-05:00'" \
	"abs(out['readings']['wind'] - 8.047) < 0.001" \
	"out['readings']['air-temperature'] is None" \
	"rule('wind-maximum', 'gust')['basis'] == 'measured'" \
	"rule('temperature-ceiling')['basis'] == 'forecast'" \
	"all(r['hint'] is None for r in out['rules'])"

# Forecasts are no law: the thermometer in the hand is nearer, both ways.
answer 1 NO-GO 1 --wind "5 mph" --air "86 degF" --humidity "80 %"
forecast '"temperature": 31, "dewpoint": 24, "relativeHumidity": 66' ''
answer 1 NO-GO 1
has out '^no-go .*air temperature 87\.8.*\[forecast\]$'
answer 0 GO 1 --air "84 degF" --humidity "70 %"
# With one of the two, delta T is not as forecast any more.
answer 1 UNKNOWN 1 --air "84 degF"
answer 1 NO-GO 1 --air "84 degF" --humidity "30 %"
has out '^no-go .*delta T .*\[measured\]$'

# Leaves can be looked at, rain to come cannot.
forecast '' '["quantitativePrecipitation", "2026-03-10T15:00Z", "2026-03-10T16:00Z", 2]'
answer 1 NO-GO 1
answer 0 GO 1 --dry
has out '^go .*dry leaves .*\[measured\]$'
forecast '' ''
answer 0 GO 1
answer 1 NO-GO 1 --wet
forecast '' '["quantitativePrecipitation", "2026-03-10T18:00Z", "2026-03-10T19:00Z", 2]'
answer 1 NO-GO 1 --dry --wind "5 mph" --air "70 degF" --humidity "50 %"
has out '^no-go .*rain Tue 10 Mar 13:00.*\[forecast\]$'

# Inside of a step the job is counted to its real end: from 11:21 it is over at
# 12:01, and the 2 h after it reach into the rain at 14:00; from 11:16 not.
forecast '' '["quantitativePrecipitation", "2026-03-10T19:00Z", "2026-03-10T20:00Z", 2]'
clock 2026-03-10T11:16-05:00
answer 0 GO 1
clock 2026-03-10T11:21-05:00
answer 1 NO-GO 1
has out '^NO-GO: .* 11:21-12:01$'
clock 2026-03-10T11:30-05:00

# The state of the turf, and where the wind blows.
forecast '' ''
answer 1 UNKNOWN 2
has out 'still unknown: look, and say --green P$'
answer 0 GO 2 --green "0 %"
has out '^go .*turf not green .*\[measured\]$'
answer 1 NO-GO 2 --green "40 %"
answer 1 NO-GO 2 --green "0 %" --direction "270 deg"
has out '^no-go .*\[measured, forecast\]$'
answer 1 NO-GO 2 --green "0 %" --direction "270 deg" --wind "6 mph"
has out '^no-go .*towards a side.*\[measured\]$'
answer 0 GO 2 --green "0 %" --direction "90 deg" --wind "6 mph"
answer 1 UNKNOWN 2 --green "0 %" --direction "90 deg" --wind "1 mph"
has out 'still unknown: .*so light$'

# The keeper's own dates are said, and bind nobody who stands there.
expect 0 lull postpone 1 2026-03-12
answer 0 GO 1
has out '^This job was not to start before Thu 12 Mar 00:00\.$'

# Nothing was left behind, and nothing moved.
expect 0 lull queue
expect 0 lull why 1 --at "2026-03-10 12:00"

for wrong in "--dry --wet" "--wind 5" "--humidity 101%" "--wind 5mph --gust 4mph" "--green dormant"; do
	# shellcheck disable=SC2086
	expect 2 lull now 1 $wrong
	one_line err "$(echo "$wrong" | cut -d ' ' -f 1)\|--gust"
done
expect 1 lull now 9
one_line err 'no job 9 is waiting'

# Without any forecast a look can tell what is there, not what comes.
rm forecast.json
clock 2026-03-13T11:05-05:00
answer 1 UNKNOWN 1 --wind "5 mph" --air "70 degF" --humidity "50 %" --dry
has out '^go .*wind 5 mph.*\[measured\]$'
has out '^unknown .*rain not known'
clock 2026-03-10T11:30-05:00

# Why: the label's words and place; spans in seconds; what to tell.
forecast '"temperature": 25, "dewpoint": 15' ''
lull add front mown >/dev/null || true
lull add front cool mown >/dev/null || true
expect 0 lull why 1
has out '^         label of cool: invented label: page 3: "Do not apply above 85 F"$'
expect 0 lull why 1 --json
holds "rule('temperature-ceiling')['wording'] == 'Do not apply above 85 F'" \
	"rule('temperature-ceiling')['exposure'] == 'during the job'" \
	"rule('temperature-ceiling')['fold'] == 'max'" \
	"rule('rain-free')['wording'] is None" "rule('rain-free')['value'] == 0" \
	"rule('rain-free')['margin'] is None" "rule('rain-free')['margin-text'] == 'clear'"
expect 1 lull why 3
has out '^         cannot tell: lull observe front --mowed$'
has out '^What is not known has to be known first\.$'
expect 1 lull why 3 --json
holds "rule('since-mowing')['hint'] == 'lull observe front --mowed'" \
	"rule('since-mowing')['unit'] == 's'" "rule('since-mowing')['limit'] == 2 * 86400" \
	"rule('temperature-floor')['hint'] is None"
# A forecast that leaves out the wind: the next one would, too.
forecast '"windSpeed": null' ''
echo 'product "calm" { label = "invented label" rate = "1 fl oz/1000 ft2" no-inversion = yes }' >>lull.conf
calm=$(lull add front calm | awk 'NR == 1 { print $1 }')
expect 1 lull why "$calm" --at "2026-03-10 23:00"
has out '^         cannot tell: the wind, cloud or rain of that night is not known$'
expect 0 lull drop "$calm"

# A week in which one product finds it too cold and the other too hot: the tank
# is split, the one that is ready first goes first.
expect 0 lull observe front --mowed --on 2026-03-06
forecast '' '["temperature", "2026-03-12T05:00Z", "2026-03-18T05:00Z", 32]'
expect 1 lull why 4 --at "2026-03-10 12:00"
has out '^- In two tanks: cool .* and, once that has dried, mown Thu 12 Mar '
expect 1 lull why 4 --at "2026-03-10 12:00" --json
holds "[item['change'] for item in out['helps']] == ['leave out', 'leave out', 'split']" \
	"[tank['tank'] for tank in out['helps'][2]['tanks']] == [['cool'], ['mown']]" \
	"t(out['helps'][2]['tanks'][0]['start']) + m(40) <= t(out['helps'][2]['tanks'][1]['start'])" \
	"rule('since-mowing')['value'] >= 3 * 86400" "rule('since-mowing')['hint'] is None"

# Within a quarter of an hour what happened since its beginning counts, too: the
# rain that has begun, and the job that was recorded.
cat >>lull.conf <<'END'
product "once" {
	label = "invented label"
	rate = "1 fl oz/1000 ft2"
	temperature-ceiling = "none on label"
	rain-free = "none on label"
	season-count = "1"
	re-treatment = "21 d"
}
product "leaf" {
	label = "invented label"
	rate = "1 fl oz/1000 ft2"
	temperature-ceiling = "none on label"
	rain-free = "none on label"
	season-count = "none on label"
	dry-leaf = "2 h"
}
END
rm -rf state
clock 2026-03-10T12:00-05:00
forecast '' '["quantitativePrecipitation", "2026-03-10T17:00Z", "2026-03-10T18:00Z", 3]'
lull add front leaf >/dev/null || true
clock 2026-03-10T12:14-05:00
expect 1 lull now 1
has out '^no-go .*rain Tue 10 Mar 12:00'
rm -rf state
clock 2026-03-10T12:00-05:00
forecast '' ''
lull add front once --area '50 ft2' >/dev/null || true
lull add front once --area '50 ft2' >/dev/null || true
expect 0 lull "done" 1 --from '2026-03-10 11:46' --to '2026-03-10 11:51'
clock 2026-03-10T11:52-05:00
expect 1 lull now 2
has out '^no-go .*this year'

# What was used counts, not what was planned.
rm -rf state
clock 2026-03-10T12:00-05:00
forecast '' ''
lull add front winter >/dev/null || true
expect 0 lull "done" 1 --used '8 gal'
$python -c 'import sqlite3
amount, = sqlite3.connect("state/lull.db").execute("SELECT amount FROM amount").fetchone()
# 8 gal of a mix of 4 gal: twice 4 fl oz
assert abs(amount - 8 * 0.0295735295625) < 1e-6, amount'

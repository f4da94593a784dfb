#!/bin/sh
# Official alerts beside the forecast: they move a slot and say so, clear again,
# and where nobody can say whether there are any, nothing is go.
set -eu
# shellcheck source=served.sh
. "${srcdir:?}/tests/scenario/served.sh"
$python -c 'import icalendar' 2>/dev/null || skip "there is no icalendar module"

ics=state/lull.ics

# An updated list: alerts SECONDS [ALERT...].
alerts() {
	updated=$(stamp "$1")
	shift
	document alerts alerts "{\"updated\": \"$updated\", \"alerts\": [$*]}"
}

begin ''
cat >>lull.conf <<-END
	practice "no-alert" { limit = "yes" source = "common practice, no source" }
END
site front "{ \"nws-grid $web/grid\", \"nws-alerts $web/alerts\" }" 33.6 \
	'hours = { "07:00-11:00" }'
cell grid 0
alerts -864000

# The answer for the job: its verdict, and where its slot is.
queue() {
	expect 0 lull queue --json
	holds "out['jobs'][0]['verdict'] == '$1'" "$2"
}
slot="out['jobs'][0]['slot']"

# Nothing is announced, and the list has not changed for ten days: go.
moment 60
expect 0 pass
asked grid alerts
expect 0 lull add front warm --after 2026-03-11
queue go "t(${slot}['from']) == t('2026-03-11T07:00-05:00')"
expect 0 lull why 1 --at "2026-03-11 07:00" --json
holds "rule('no-alert', 'alert-wind')['verdict'] == 'go'" \
	"len([r for r in out['rules'] if r['rule'] == 'no-alert']) == 5"

# A wind advisory over the slot: it moves to the next morning, and says why.
alerts 600 '["Wind Advisory", "2026-03-11T06:00:00-05:00", "2026-03-11T14:00:00-05:00"]'
moment 1320
expect 0 pass
asked grid alerts
queue go "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"
holds "len(notices('$ics')) == 1" \
	"'an official wind alert' in notices('$ics')[0]['DESCRIPTION']"
expect 1 lull why 1 --at "2026-03-11 07:00" --json
holds "rule('no-alert', 'alert-wind')['verdict'] == 'no-go'" \
	"'an official wind alert' in rule('no-alert', 'alert-wind')['sentence']" \
	"rule('no-alert', 'alert-freeze')['verdict'] == 'go'"
expect 0 lull weather front --columns air-temperature,alert-wind --json
holds "out['origin'] == {'air-temperature': 'nws-grid', 'alert-wind': 'nws-alerts'}"
expect 0 lull weather front
has out '^2 .*/alerts fills alert-wind, alert-freeze, alert-heat, alert-flood, alert-smoke$'

# One of other hours is none, nor is one that does not bear on spraying.
alerts 1400 '["Dense Fog Advisory", "2026-03-12T06:00:00-05:00", "2026-03-12T14:00:00-05:00"]' , \
	'["Wind Advisory", "2026-03-12T14:00:00-05:00", "2026-03-12T18:00:00-05:00"]'
expect 0 lull refresh
asked grid alerts
queue go "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"

# An empty list clears all.
alerts 1500
moment 2700
expect 0 pass
asked grid alerts
expect 0 lull why 1 --at "2026-03-11 07:00"
expect 0 lull windows 1 --json
holds "t(out['windows'][0]['opens']) == t('2026-03-11T07:00-05:00')"

# The service is silent: good for six hours, then unknown, and the slot that
# was promised is kept without a go. The forecast itself stays in use.
echo 500 >served/alerts.as
moment $((2700 + 21600))
expect 1 lull refresh
has out '^site front: nws-alerts: http:.*/alerts: the server failed (500)'
queue go "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"
moment $((2700 + 21601))
expect 1 lull refresh
has out 'nws-alerts: the list of alerts of .* is too old to be used'
queue unknown "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"
holds "'official alerts' in out['jobs'][0]['reason']"
! grep -q '^SUMMARY:GO' $ics || fail "the calendar says go"
expect 1 lull why 1 --at "2026-03-12 07:00" --json
holds "out['verdict'] == 'unknown'" \
	"{r['verdict'] for r in out['rules'] if r['rule'] == 'no-alert'} == {'unknown'}" \
	"rule('temperature-floor')['verdict'] == 'go'" "out['trouble'] == ''"
: >requests.log

# It is back with the list that we have: fresh again at once.
rm served/alerts.as
moment 25200
cell grid 25000
expect 0 lull refresh
asked grid alerts
[ "$(count last.log '"status": 304')" -eq 1 ] || fail "the list is sent again"
queue go "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"

# The same bytes stay fresh for longer than six hours, whether the server says
# that they are the same or sends them again.
here=25200
for status in 304 200; do
	echo 200 >served/alerts.as
	[ $status = 200 ] || rm served/alerts.as
	for hour in 1 2 3 4 5 6 7 8; do
		here=$((here + 3600))
		cell grid $((here - 60))
		moment $here
		expect 0 pass
		asked alerts grid
		[ "$(count last.log "\"status\": $status")" -ge 1 ] ||
			fail "no $status in hour $hour"
		queue go "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"
	done
done

# A stored list that is damaged: 304 is no answer then, the next one is whole.
rm served/alerts.as
alerts $here
expect 0 lull refresh
$python -c 'import sqlite3
store = sqlite3.connect("state/lull.db")
store.execute("DROP TRIGGER document_is_final")
store.execute("UPDATE document SET body = zeroblob(length(body))"
              " WHERE address LIKE \"%/alerts\"")
store.commit()'
: >requests.log
moment $((here + 1260))
expect 0 pass
asked alerts grid
here=$((here + 1320))
moment $here
expect 0 pass
asked alerts
[ "$(count last.log '"status": 200')" -eq 1 ] || fail "the list is not sent again"
queue go "t(${slot}['from']) == t('2026-03-12T07:00-05:00')"

# Not one window, and the hours that would be good are unknown.
never_go() {
	expect 0 lull queue --json
	holds "out['jobs'][0]['verdict'] == 'unknown'" "$slot is None"
	expect 1 lull windows 1 --json
	holds "out['windows'] == []"
	expect 1 lull why 1 --at "2026-03-12 08:00" --json
	holds "out['verdict'] == 'unknown'"
}

# Never a list: never go. A list that cannot be read is none; and without a
# source of alerts nobody is asked.
for how in 404 /html; do
	rm -rf state
	echo $how >served/alerts.as
	expect 1 lull refresh
	expect 1 lull add front warm --after 2026-03-11
	expect 1 lull refresh
	asked alerts alerts grid grid
	never_go
done
rm served/alerts.as
for broken in '{}' '{"features": []}' '{"features": [{}], "updated": "2026-03-10T12:00:00Z"}'; do
	rm -rf state
	printf '%s' "$broken" >served/alerts
	expect 1 lull refresh
	asked alerts grid
	expect 1 lull add front warm --after 2026-03-11
	never_go
done
rm -rf state
sed -i "s|, \"nws-alerts [^\"]*\"||" lull.conf
expect 0 lull refresh
asked grid
expect 0 lull add front warm --after 2026-03-11
queue go "$slot is not None"

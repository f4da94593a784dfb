#!/bin/sh
# What was done: the record, its corrections, and every form in which it is
# handed out. What is right is worked out here, or by somebody else's parser.
# All limits: common practice, no source.
set -eu
# shellcheck source=common.sh
. "${srcdir:?}/tests/scenario/common.sh"

who='A. Müller, "the" keeper; 2nd'

# configure DROPLETS-OF-WARM [MORE-CARDS]
configure() {
	cat >lull.conf <<-END
		units = us
		applicator = "A. Müller, \"the\" keeper; 2nd"
		certification = "TX-77"
		sprayer "backpack" {
			tank = "4 gal"
			carrier = "1 gal/1000 ft2"
			pace = "150 ft2/min"
			fill = "10 min"
			droplets = medium
		}
		site "front" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "6000 ft2"
			sprayer = "backpack"
			species = bermuda
			client = "the owner"
			address = "1 Hill Road, \"The Oaks\""
			forecast = "nws-grid file:forecast.json"
		}
		site "back" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "2000 ft2"
			sprayer = "backpack"
			forecast = "nws-grid file:forecast.json"
		}
		practice "wind-maximum" { limit = "10 mph" source = "common practice, no source" }
		product "dye" { kind = other label = "invented" rate = "0.5 fl oz/gal" }
		product "granule" {
			label = "invented"
			actives = { "active-a 50 %" }
			temperature-ceiling = "none on label"
			rain-free = "none on label"
		}
		$2
	END
	[ "$1" = gone ] || cat >>lull.conf <<-END
		product "warm" {
			label = "invented"
			registration = "0-1"
			rate = "1.5 fl oz/1000 ft2"
			rate-maximum = "2 fl oz/1000 ft2"
			season-amount = "2.5 fl oz/1000 ft2"
			actives = { "active-a 240 g/L" }
			droplets = $1
			temperature-ceiling = "90 degF"
			rain-free = "4 h"
			re-treatment = "21 d"
			keep-off = "4 h"
			effect-after = "14 d"
		}
	END
}

# The wind rises hour by hour, so that a mean is not a value of it; rain on
# Thursday.
forecast() {
	$python - "$1" "$2" <<-'END' | grid forecast.json
		import json, sys
		print(json.dumps({
		    "issued": sys.argv[1], "fine": 72,
		    "layers": {"windSpeed": [float(sys.argv[2]) + hour % 24 / 2
		                             for hour in range(180)],
		               "windDirection": [10 * (hour % 24) for hour in range(180)]},
		    "spells": [["quantitativePrecipitation", "2026-03-12T15:00Z",
		                "2026-03-12T18:00Z", 3]]}))
	END
}

# The record of that number in ./all.
cat >record.py <<'END'
def record(number):
    found = [one for one in read("all")["records"] if one["record"] == number]
    assert len(found) == 1, found
    return found[0]

FT2, GAL, FLOZ, MPH = 0.09290304, 3.785411784, 0.0295735295625, 1.609344
END

# holds, with the above.
about() {
	expect 0 lull records --all --json
	cp out all
	for condition; do
		holds "exec(open('record.py').read(), globals()) or ($condition)"
	done
}

configure medium ''
forecast 2026-03-10T12:00Z 5
clock 2026-03-10T07:00-05:00

# Nothing yet, in each form.
expect 0 lull records
one_line out '^Nothing is recorded\.$'
expect 0 lull records --totals
one_line out '^Nothing is recorded\.$'
expect 0 lull records --json
holds "out['records'] == []"
expect 0 lull records --totals --json
holds "out['totals'] == []"
expect 0 lull records --csv
one_line out '^record,job,status,'
expect 0 lull records --vjournal
$python "$oracle/ics_lint.py" --allow-empty out || fail "an empty journal"

expect 0 lull refresh
expect 0 lull add front warm dye --weed 'dandelion, "the" clover'

# What the rules would have said is what a last look would have said then, with
# the same readings.
code=0
lull now 1 --now 2026-03-10T08:30-05:00 --wind "12 mph" --direction "180 deg" \
	--air "61 degF" --json >look 2>err || code=$?
[ $code -eq 1 ] || fail "12 mph is no no-go on site"
clock 2026-03-10T10:00-05:00
expect 0 lull "done" 1 --from "2026-03-10 08:30" --wind "12 mph" \
	--direction "180 deg" --air "61 degF" --humidity "60 %" --used "5 gal" \
	--unusual 'a fox, "red"' --note 'one; two, "three" ü'
has out '^job 1 is recorded: front, Tue 10 Mar 08:30-09:30$'
has out '^record 1: 6,000 ft2, 5 gal of mix used$'
has out '^warm: 7.5 fl oz at 1.5 fl oz/1000 ft2, sprayed at 1.25 fl oz/1000 ft2, registration number 0-1$'
has out '^wind 12 mph measured, 5.* mph forecast$'
has out '^Recorded; at the weather you measured it was no-go:$'
has out '^- wind 12 mph .*2 mph over'
has out '^Left over: 1 gal of mix\. Spray it out'
has out 'rinse three times; never$'
has out '^lull done 1 --replaces 1 --leftover '
has out '^- keep off until Tue 10 Mar 13:30 and until dry$'
has out '^- warm: look at the result from Tue 24 Mar$'
has out '^- warm: not again before Tue 31 Mar$'
! grep -q 'Not told' out || fail "all of the usual fields are told"

# Hours of the document that the job lay in; it is 13:30 to 14:30 in UTC.
cp forecast.json then.json
layer() {
	echo "[v for a, b, v in hours('then.json', '$1') if a <= t('2026-03-10T$2Z') < b][0]"
}
about "record(1)['verdict'] == read('look')['verdict'] == 'no-go'" \
	"record(1)['reasons'] == [
		'%s: %s: %s (%s)' % (r['verdict'], r['sentence'], r['margin-text'], r['owner'])
		for r in read('look')['rules'] if r['verdict'] != 'go']" \
	"abs(record(1)['forecast']['wind'] -
		($(layer windSpeed 13:30) + $(layer windSpeed 14:00)) / 2) < 0.002" \
	"$(layer windSpeed 13:30) != $(layer windSpeed 14:00)" \
	"record(1)['forecast']['wind-direction'] == $(layer windDirection 13:30)" \
	"record(1)['forecast-source'] == 'nws-grid'" \
	"t(record(1)['forecast-issued']) == t('2026-03-10T12:00Z')" \
	"abs(record(1)['measured']['wind'] - 12 * MPH) < 0.001" \
	"record(1)['measured']['gust'] is None" \
	"abs(record(1)['area-m2'] - 6000 * FT2) < 0.001" \
	"abs(record(1)['used-litres'] - 5 * GAL) < 0.001" \
	"abs(record(1)['products'][0]['amount'] - 5 / 6 * 9 * FLOZ) < 1e-6" \
	"abs(record(1)['products'][1]['amount'] - 5 * 0.5 * FLOZ) < 1e-6" \
	"record(1)['products'][0]['registration'] == '0-1'" \
	"record(1)['products'][0]['rate-unit'] == 'L/m2'" \
	"abs(record(1)['products'][0]['rate'] - 1.5 * FLOZ / (1000 * FT2)) < 1e-9" \
	"record(1)['applicator'] == '$who'" \
	"record(1)['certification'] == 'TX-77'" \
	"record(1)['client'] == 'the owner'" \
	"record(1)['place'] == '1 Hill Road, \"The Oaks\"'" \
	"record(1)['weeds'] == 'dandelion, \"the\" clover'" \
	"record(1)['turf'] == 'bermuda'" \
	"record(1)['sprayer'] == 'backpack'" \
	"record(1)['note'] == 'one; two, \"three\" ü'" \
	"record(1)['not-told'] == []"

# A correction is a new record; of the old one nothing changes.
rows() {
	$python -c 'import sqlite3, sys
store = sqlite3.connect("state/lull.db")
print(store.execute("SELECT * FROM record WHERE id = ?", sys.argv[1:]).fetchall(),
      store.execute("SELECT * FROM amount WHERE record = ?", sys.argv[1:]).fetchall())' "$1"
}
rows 1 >before
clock 2026-03-10T11:00-05:00
expect 0 lull "done" 1 --replaces 1 --wind "5 mph" --leftover "sprayed out, rinsed 3 times"
has out '^record 2 replaces record 1: front, Tue 10 Mar 08:30-09:30$'
has out '^wind 5 mph measured, 5.* mph forecast$'
has out '^Left over: 1 gal of mix: sprayed out, rinsed 3 times$'
clock 2026-03-10T12:00-05:00
expect 0 lull "done" 1 --replaces 2 --who "B. Other" --note ''
rows 1 >after
cmp before after || fail "a correction changed the old record"
about "record(1)['replaced-by'] == 2" "record(2)['replaces'] == 1" \
	"record(2)['replaced-by'] == 3" "record(3)['replaced-by'] is None" \
	"record(2)['verdict'] == 'go'" "record(2)['reasons'] == []" \
	"record(2)['forecast'] == record(1)['forecast']" \
	"record(2)['products'] == record(1)['products']" \
	"[key for key in record(3) if record(3)[key] != record(2)[key]] ==
		['record', 'replaces', 'replaced-by', 'created', 'applicator', 'note']" \
	"record(3)['note'] is None" "t(record(3)['created']) == t('2026-03-10T17:00Z')"
expect 0 lull records --json
holds "[one['record'] for one in out['records']] == [3]"
expect 0 lull records
has out '^  3  2026-03-10  08:30-09:30  front        6,000 ft2  warm             7.5 fl oz$'
has out '^     warm at 1.5 fl oz/1000 ft2, sprayed at 1.25 fl oz/1000 ft2, registration$'
has out '^     for the owner, at 1 Hill Road, "The Oaks", on bermuda, against dandelion,$'
has out '^     "the" clover, with backpack, 5 gal of mix used$'
has out '^     by B. Other (TX-77), wind 5 mph (forecast 5\..* mph), '
! grep -q 'REPLACED' out || fail "what was replaced is shown unasked"
expect 0 lull records --all
has out '^     replaces record 1, REPLACED by record 3$'

# What cannot be replaced.
refused() {
	code=$1
	sentence=$2
	shift 2
	expect "$code" lull "$@"
	one_line err "^lull: .*$sentence"
}
refused 1 'record 1 is already replaced by record 2' "done" 1 --replaces 1 --note x
refused 1 'there is no record 9' "done" 1 --replaces 9 --note x
refused 1 'no job 8' "done" 8 --replaces 3 --note x
refused 1 'no job 1 is waiting' "done" 1
refused 2 'replaces.*not the number of a record' "done" 1 --replaces three
refused 2 'replaces.*not the number of a record' "done" 1 --replaces -3
refused 2 'ended before it began' "done" 1 --replaces 3 --to "2026-03-10 08:00"
refused 2 'future' "done" 1 --replaces 3 --from "2026-03-11 08:00" --to "2026-03-11 09:00"
refused 2 'ended in the future' "done" 1 --replaces 3 --to "2026-03-10 12:05"
refused 2 'longer than a day' "done" 1 --replaces 3 --from "2025-03-10 08:30"
refused 2 'gust: less than the wind' "done" 1 --replaces 3 --gust "3 mph"
refused 2 'area.*too little' "done" 1 --replaces 3 --area "0 ft2"
refused 2 'used' "done" 1 --replaces 3 --used "-1 gal"
refused 2 'leftover.*one line' "done" 1 --replaces 3 --leftover "$(printf 'a\nb')"
refused 2 'who.*one line' "done" 1 --replaces 3 --who "$(printf 'caf\351')"
refused 2 'wind.*3 h' "done" 1 --replaces 3 --wind "3 h"
expect 0 lull add back warm
refused 2 'record 3 is of job 1, not of job 2' "done" 2 --replaces 3 --note x
refused 2 'stand alone' records --csv --vjournal
refused 2 'stand alone' records --csv --json
refused 2 'stand alone' records --vjournal --totals
refused 2 'exclude each other' records --totals --all
refused 2 'since.*soon' records --since soon
refused 2 'until: before --since' records --since 2026-03-10 --until 2026-03-09
refused 1 'no site .side' records --site side
about "len(read('all')['records']) == 3"

# The rules count what had been done before, not the record that is corrected,
# and no promise: the same weather at another time is go, as it was. A forecast
# that came later, here a gale for the same hours, is not that of then.
clock 2026-03-10T13:00-05:00
forecast 2026-03-10T17:00Z 60
expect 0 lull refresh
expect 0 lull weather front --hours 1 --columns wind --json
holds "out['columns']['wind'][0] > 60"
expect 0 lull "done" 1 --replaces 3 --from "2026-03-10 09:00" --to "2026-03-10 10:00" \
	--area "3000 ft2" --used "3 gal"
about "record(4)['verdict'] == 'go'" "record(4)['reasons'] == []" \
	"abs(record(4)['forecast']['wind'] -
		$(layer windSpeed 14:30)) < 0.002" \
	"t(record(4)['forecast-issued']) == t('2026-03-10T12:00Z')" \
	"abs(record(4)['products'][0]['amount'] - 4.5 * FLOZ) < 1e-6" \
	"abs(record(4)['products'][1]['amount'] - 1.5 * FLOZ) < 1e-6"

# The area alone: the planned rate over it. Late in the evening, which is
# another day in UTC. Another application of the same product, too soon.
lull add front warm dye --area "2000 ft2" --json >out || true
holds "out['jobs'][0]['job'] == 3"
clock 2026-03-11T08:00-05:00
expect 0 lull "done" 3 --from "2026-03-10 22:30" --area "1000 ft2" --who '' --certification ''
has out '^record 5: 1,000 ft2$'
has out '^Recorded; by the forecast, for nothing was measured, it was no-go:$'
has out '^- last warm 0 days before'
has out '^Not told: applicator, certification, weeds, mix used, wind, wind direction, air$'
about "record(5)['applicator'] is None" \
	"record(5)['not-told'] == ['applicator', 'certification', 'weeds', 'mix used',
		'wind', 'wind direction', 'air temperature']" \
	"abs(record(5)['products'][0]['amount'] - 1.5 * FLOZ) < 1e-6" \
	"abs(record(5)['products'][1]['amount'] - 0.5 * FLOZ) < 1e-6" \
	"t(record(5)['to']) - t(record(5)['from']) == m(20)"
only() {
	numbers=$1
	shift
	expect 0 lull records "$@" --json
	holds "[one['record'] for one in out['records']] == $numbers"
}
only '[4, 5]' --since 2026-03-10 --until 2026-03-10
only '[]' --since 2026-03-11
only '[]' --until 2026-03-09
only '[4, 5]' --site front
only '[]' --site back
expect 0 lull records --site back
one_line out '^No record is like that\.$'

# An amount that nobody can tell, of a card without a rate and a number.
lull add back granule >/dev/null || true
expect 0 lull "done" 4 --from "2026-03-11 07:00"
has out '^granule: amount not known$'
has out '^Not told: client, turf, weeds, mix used, '
has out 'registration number of granule, amount of granule'
about "record(6)['products'][0]['amount'] is None" \
	"record(6)['place'] == '33.60000, -99.40000'" \
	"'registration number of granule' in record(6)['not-told']" \
	"'rate of granule' in record(6)['not-told']"

# What is put into the configuration later fills what the record lacks, and no
# more than that.
sed -e 's/product "granule" {/& registration = "0-2"/' \
	-e 's/client = "the owner"/client = "somebody else"/' \
	-e 's/area = "2000 ft2"/& client = "the neighbour"/' lull.conf >lull.new
mv lull.new lull.conf
expect 0 lull "done" 4 --replaces 6
about "record(7)['products'][0]['registration'] == '0-2'" \
	"record(7)['client'] == 'the neighbour'" \
	"record(6)['client'] is None" \
	"[key for key in record(7) if record(7)[key] != record(6)[key]] ==
		['record', 'replaces', 'replaced-by', 'products', 'client', 'not-told']"
expect 0 lull "done" 3 --replaces 5 --note again
about "record(8)['client'] == 'the owner'"

# Totals: 4.5 and 1.5 fl oz of warm on 3000 and 1000 ft2, 240 g of active-a in a
# litre; the granules may hold any amount of it.
expect 0 lull records --totals --json
cp out totals
cat >>record.py <<'END'

def total(kind, name, site):
    found = [one for one in read("totals")["totals"] if one["kind"] == kind
             and one["name"] == name and one["site"] == site]
    assert len(found) == 1, found
    return found[0]
END
about "{one['year'] for one in read('totals')['totals']} == {2026}" \
	"total('site', 'front', 'front')['count'] == 2" \
	"total('product', 'warm', 'front')['count'] == 2" \
	"abs(total('product', 'warm', 'front')['amount'] - 6 * FLOZ) < 1e-5" \
	"abs(total('product', 'warm', 'front')['area-m2'] - 4000 * FT2) < 1e-3" \
	"abs(total('product', 'warm', 'front')['per-area'] - 3 * FLOZ / (1000 * FT2)) < 1e-8" \
	"abs(total('active', 'active-a', 'front')['amount'] - 6 * FLOZ * 240) < 1e-3" \
	"total('active', 'active-a', 'front')['amount-not-known'] == 0" \
	"total('active', 'active-a', 'back')['amount-not-known'] == 1" \
	"total('active', 'active-a', None)['count'] == 3" \
	"total('active', 'active-a', None)['amount-not-known'] == 1" \
	"'per-area' not in total('active', 'active-a', None)"
expect 0 lull records --totals
has out '^2026$'
has out '^front: 2 records on 4,000 ft2$'
has out '^  warm: 2 times, 6 fl oz on 4,000 ft2; the rates add up to 3 fl oz/1000 ft2$'
has out '^all sites:$'
has out '^  active active-a: 3 times, at least 1.5 oz, one amount is not known, on'

# A spreadsheet's reader gets every text as it was typed, and numbers that agree
# with the JSON.
expect 0 lull records --all --csv
cp out all.csv
$python - <<'END' || fail "the CSV"
import csv, io, json
data = open("all.csv", "rb").read()
assert data.count(b"\n") == data.count(b"\r\n") == data.count(b"\r"), "CRLF"
rows = list(csv.reader(io.StringIO(data.decode("utf-8"), newline=""), strict=True))
assert len({len(row) for row in rows}) == 1, "rows of other lengths"
rows = [dict(zip(rows[0], row)) for row in rows[1:]]
records = json.load(open("all"))["records"]
pairs = [(record, product) for record in records for product in record["products"]]
assert len(rows) == len(pairs)

def same(cell, value, scale=1, within=1e-5):
    assert (cell == "") == (value is None), (cell, value)
    assert value is None or abs(float(cell) * scale - value) < within, (cell, value)

for row, (record, product) in zip(rows, pairs):
    for column, key in (("site", "site"), ("place", "place"), ("client", "client"),
                        ("applicator", "applicator"), ("weeds", "weeds"),
                        ("turf", "turf"), ("sprayer", "sprayer"), ("unusual", "unusual"),
                        ("left_over", "left-over"), ("note", "note"), ("from", "from"),
                        ("to", "to"), ("created", "created"), ("verdict", "verdict"),
                        ("certification", "certification"),
                        ("forecast_source", "forecast-source"),
                        ("forecast_issued", "forecast-issued")):
        assert row[column] == (record[key] or ""), (column, row[column], record[key])
    for column, key in (("record", "record"), ("job", "job"), ("replaces", "replaces"),
                        ("replaced_by", "replaced-by"), ("area_m2", "area-m2"),
                        ("mix_used_L", "used-litres"), ("carrier_L_per_m2", "carrier-litres-per-m2")):
        same(row[column], record[key], within=1e-4)
    for column, key, scale in (("wind_m_per_s", "wind", 3.6), ("gust_m_per_s", "gust", 3.6),
                               ("wind_from_degrees", "wind-direction", 1),
                               ("air_degC", "air-temperature", 1),
                               ("humidity_percent", "humidity", 1)):
        same(row[column], record["measured"][key], scale, 1e-3)
        same(row["forecast_" + column], record["forecast"][key], scale, 1e-3)
    assert row["date"] == record["from"][:10]
    assert row["product"] == product["product"]
    assert row["registration"] == (product["registration"] or "")
    assert row["status"] == ("replaced" if record["replaced-by"] else "final")
    assert row["reasons"] == "; ".join(record["reasons"])
    assert row["not_told"] == ", ".join(record["not-told"])
    assert row["amount"] == (product["amount-text"] if product["amount"] is not None else "")
    assert row["rate"] == (product["rate-text"] or "")
    units = {"amount_g": "g", "amount_L": "L"}
    for column, unit in units.items():
        same(row[column], product["amount"] if product["unit"] == unit else None)
    for column, unit in (("rate_g_per_m2", "g/m2"), ("rate_L_per_m2", "L/m2"),
                         ("rate_g_per_L", "g/L"), ("rate_L_per_L", "L/L")):
        same(row[column], product["rate"] if product["rate-unit"] == unit else None)
assert {row["applicator"] for row in rows} >= {'A. Müller, "the" keeper; 2nd', "B. Other", ""}
END

# And a calendar's.
expect 0 lull records --all --vjournal
cp out all.ics
$python "$oracle/ics_lint.py" all.ics || fail "the linter"
$python -c 'import icalendar' 2>/dev/null || skip "there is no icalendar"
$python - <<'END' || fail "the journal"
import datetime, json, icalendar
calendar = icalendar.Calendar.from_ical(open("all.ics", "rb").read())
assert not [part.errors for part in calendar.walk() if part.errors]
records = json.load(open("all"))["records"]
journals = calendar.walk("VJOURNAL")
assert len(journals) == len(records) == len(calendar.walk()) - 1
stamp = lambda text: int(datetime.datetime.fromisoformat(text).timestamp())
uid = {one["record"]: "record-%d-%d" % (stamp(one["created"]), one["record"])
       for one in records}
for journal, record in zip(journals, records):
    assert str(journal["UID"]) == uid[record["record"]]
    assert int(journal["DTSTART"].dt.timestamp()) == stamp(record["from"])
    assert int(journal["CREATED"].dt.timestamp()) == stamp(record["created"])
    replaced = record["replaced-by"]
    assert str(journal["STATUS"]) == ("CANCELLED" if replaced else "FINAL")
    assert journal.get("RELATED-TO", "") == (uid[replaced] if replaced else "")
    text = str(journal["DESCRIPTION"])
    for key in ("applicator", "client", "place", "weeds", "turf", "sprayer",
                "unusual", "left-over", "note"):
        assert record[key] is None or record[key] in text, (key, text)
    for line in record["reasons"]:
        assert line.split(": ", 1)[1] in text, line
    for product in record["products"]:
        assert product["product"] + ": " + product["amount-text"] in text
        assert product["product"] in str(journal["SUMMARY"])
END
# A record that is not shown still cancels what it replaces.
expect 0 lull records --all --vjournal --until 2026-03-10
$python "$oracle/ics_lint.py" out || fail "the linter"
[ "$(count out '^STATUS:CANCELLED')" -eq 4 ] || fail "four are replaced"
# It skips by itself without a server to try.
$python "$oracle/ics_radicale.py" all.ics >radicale.log || {
	cat radicale.log
	fail "Radicale journals"
}
# The calendar's own entries of a record begin with the same name.
uid=$(sed -n 's/^UID:\(record-[0-9]*-7\)\r$/\1/p' all.ics)
[ -n "$uid" ] || fail "record 7 has no uid"
has state/lull.ics "^UID:$uid-off"

# A tank that the card forbids was sprayed all the same: that is recorded, too.
lull add front warm --area "100 ft2" --after 2026-04-20 --json >out || true
holds "out['jobs'][0]['job'] == 5"
configure coarse ''
expect 0 lull "done" 5 --from "2026-03-11 07:30" --wind "5 mph"
has out '^- .*coarse'
about "record(9)['verdict'] == 'no-go'" "'coarse' in record(9)['reasons'][0]"

# A card that is gone: words can still be corrected; the rules cannot be asked,
# and the amounts follow from what the record keeps.
configure gone ''
clock 2026-03-11T09:00-05:00
expect 0 lull "done" 1 --replaces 4 --note "looked at again"
about "record(10)['verdict'] == 'go'" "record(10)['note'] == 'looked at again'"
expect 0 lull "done" 1 --replaces 10 --wind "6 mph" --used "2 gal"
has out 'the rules could not be asked: product .*warm.* is not on file'
about "record(11)['verdict'] is None" "record(11)['reasons'] == []" \
	"abs(record(11)['measured']['wind'] - 6 * MPH) < 0.001" \
	"abs(record(11)['products'][0]['amount'] - 3 * FLOZ) < 1e-6" \
	"record(11)['products'][0]['registration'] == '0-1'"
expect 0 lull records --totals --json
cp out totals
about "total('product', 'warm', 'front')['count'] == 3" \
	"[one for one in read('totals')['totals'] if one['kind'] == 'active'
		and one['site'] == 'front'] == []"

# More mix than planned on the same ground: the label's rate is exceeded, and
# that is said before all else; 3 gal were planned for its 3000 ft2.
configure medium ''
expect 0 lull "done" 1 --replaces 11 --used "6 gal"
has out '^warm: 9 fl oz at 1.5 fl oz/1000 ft2, sprayed at 3 fl oz/1000 ft2, registration'
has out '^- sprayed at 3 fl oz/1000 ft2, the label allows at most 2 fl oz/1000 ft2 (warm)$'
about "record(12)['verdict'] == 'no-go'" \
	"record(12)['reasons'][0].startswith('no-go: sprayed at 3 fl oz')" \
	"'3 fl oz/1000 ft2 this year' in record(12)['reasons'][1]" \
	"len(record(12)['reasons']) == 2"
expect 0 lull "done" 1 --replaces 12 --area "4500 ft2"
about "record(13)['verdict'] == 'go'" "record(13)['reasons'] == []"
# Without a number of the mix nobody can tell what is left of it.
lull add back warm --json >out || true
holds "out['jobs'][0]['job'] == 6"
expect 0 lull "done" 6 --from "2026-03-11 08:30" --area "500 ft2" --json
holds "out['left-over-litres'] is None" "out['repeated-by'] is None"

# When the forecast of then is no longer kept, what it said stays, and so does
# what the rules had said of it; the rates are asked all the same.
clock 2026-05-20T09:00-05:00
forecast 2026-05-20T12:00Z 5
expect 0 lull refresh
expect 0 lull "done" 1 --replaces 13 --area "3000 ft2"
about "len(record(15)['reasons']) == 1" "record(15)['verdict'] == 'no-go'" \
	"record(15)['forecast'] == record(13)['forecast'] != {}" \
	"record(15)['forecast-source'] == 'nws-grid'"
expect 0 lull "done" 1 --replaces 15 --used "3 gal"
about "record(16)['verdict'] == 'go'" "record(16)['reasons'] == []"

# A site that is gone has its records still, at the hours of its clock then.
sed 's/site "front"/site "elsewhere"/' lull.conf >lull.new
mv lull.new lull.conf
expect 0 lull records --site front
has out '^ 16  2026-03-10  09:00-10:00  front '
expect 0 lull "done" 1 --replaces 16 --note "moved away"
has out '^record 17 replaces record 16: front, Tue 10 Mar 09:00-10:00$'
about "record(17)['from'] == '2026-03-10T09:00:00-05:00'"

#!/usr/bin/python3
"""Forecast documents of our own, in the shape of the US National Weather
Service's raw gridpoint data: whole hours, runs of equal values merged, rain in
blocks, layers without data empty and without a unit.

    grid.py <DESCRIPTION >DOCUMENT

The description is a JSON object:

    issued   "2026-03-10T12:00Z", needed
    start    the first hour; 7 hours before the issue unless given
    hours    how many; 180 (seven and a half days)
    layers   name -> one value for all hours, or a list with one for each hour;
             null is "no data in that hour". Layers not named have those of a
             mild dry day (below)
    spells   [layer, from, to, value]: overwrites those hours
    fine     for how many hours rain is told hour by hour, then in blocks of
             six that end at 00, 06, 12 and 18 UTC; 24
    units    layer -> unit code, where it is to be another one
    absent   names of layers to leave out
"""
import datetime
import json
import sys

HOUR = datetime.timedelta(hours=1)
BLOCK = 6

UNITS = {
    "temperature": "wmoUnit:degC",
    "dewpoint": "wmoUnit:degC",
    "maxTemperature": "wmoUnit:degC",
    "minTemperature": "wmoUnit:degC",
    "relativeHumidity": "wmoUnit:percent",
    "apparentTemperature": "wmoUnit:degC",
    "heatIndex": "wmoUnit:degC",
    "windChill": "wmoUnit:degC",
    "skyCover": "wmoUnit:percent",
    "windDirection": "wmoUnit:degree_(angle)",
    "windSpeed": "wmoUnit:km_h-1",
    "windGust": "wmoUnit:km_h-1",
    "probabilityOfPrecipitation": "wmoUnit:percent",
    "quantitativePrecipitation": "wmoUnit:mm",
    "snowfallAmount": "wmoUnit:mm",
    "mixingHeight": "wmoUnit:m",
}
EMPTY = ["heatIndex", "windChill", "iceAccumulation", "snowLevel",
         "ceilingHeight", "visibility", "lightningActivityLevel",
         "probabilityOfThunder", "hainesIndex", "redFlagThreatIndex"]
MILD = {"temperature": 18, "dewpoint": 9, "relativeHumidity": 56,
        "skyCover": 20, "windDirection": 200, "windSpeed": 9.26,
        "windGust": 14.816, "probabilityOfPrecipitation": 5,
        "quantitativePrecipitation": 0}
RAIN = "quantitativePrecipitation"
CHANCE = "probabilityOfPrecipitation"
TOTALS = {RAIN, "snowfallAmount"}


def parse(text):
    """A UTC time with a final Z, or an offset."""
    return datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))


def stamp(time):
    return time.strftime("%Y-%m-%dT%H:%M:%S+00:00")


def duration(hours):
    days, rest = divmod(hours, 24)
    return "P%s%s" % ("%dD" % days if days else "",
                      "T%dH" % rest if rest else "")


def hourly(values):
    return [(1, value) for value in values]


def blocked(values, start, fine, total):
    """(hours, value): hour by hour for `fine` hours, then in blocks of six; a
    total is the sum of its hours, a chance the largest of them."""
    parts, at = hourly(values[:fine]), min(fine, len(values))
    while at < len(values):
        hour = (start + at * HOUR).hour
        size = min(BLOCK - hour % BLOCK, len(values) - at)
        known = [value for value in values[at:at + size] if value is not None]
        value = None
        if known:
            value = round(sum(known), 2) if total else max(known)
        parts.append((size, value))
        at += size
    return parts


def merged(parts):
    runs = []
    for hours, value in parts:
        if runs and runs[-1][1] == value:
            runs[-1] = (runs[-1][0] + hours, value)
        else:
            runs.append((hours, value))
    return runs


def entries(parts, start):
    items, at = [], start
    for hours, value in parts:
        items.append({"validTime": "%s/%s" % (stamp(at), duration(hours)),
                      "value": value})
        at += hours * HOUR
    return items


def day_extremes(temperature, start):
    """The layers of each day's high (13-01 UTC) and night's low (01-13 UTC),
    with the gaps that the service leaves between them."""
    high, low = [], []
    for at in range(len(temperature) - 12):
        time = start + at * HOUR
        values = [v for v in temperature[at:at + 12] if v is not None]
        if time.hour in (1, 13) and values:
            into = high if time.hour == 13 else low
            into.append({"validTime": stamp(time) + "/PT12H",
                         "value": (max if into is high else min)(values)})
    return high, low


def layer(name, values, units):
    return {"uom": units.get(name, UNITS[name]), "values": values}


def document(issued, start, layers, fine=24, units=None, absent=()):
    """The whole document. `layers`: name -> one value for each hour."""
    units = units or {}
    hours = len(layers["temperature"])
    properties = {
        "@id": "https://weather.example/gridpoints/TST/12,34",
        "@type": "wx:Gridpoint",
        "updateTime": stamp(issued),
        "validTimes": "%s/%s" % (stamp(start), duration(hours)),
        "elevation": {"unitCode": "wmoUnit:m", "value": 402.3},
        "forecastOffice": "https://weather.example/offices/TST",
        "gridId": "TST", "gridX": 12, "gridY": 34,
    }
    for name, values in layers.items():
        if name in (RAIN, CHANCE) or name in TOTALS:
            parts = blocked(values, start, fine, name in TOTALS)
        else:
            parts = hourly(values)
        # Totals are the one kind that the service does not merge.
        parts = parts if name in TOTALS else merged(parts)
        properties[name] = layer(name, entries(parts, start), units)
    if "maxTemperature" not in layers:
        high, low = day_extremes(layers["temperature"], start)
        properties["maxTemperature"] = layer("maxTemperature", high, units)
        properties["minTemperature"] = layer("minTemperature", low, units)
    for name in EMPTY + ["weather", "hazards"]:
        properties.setdefault(name, {"values": []})
    for name in absent:
        del properties[name]
    corner = [[-99.4, 33.6], [-99.4, 33.62], [-99.43, 33.62], [-99.43, 33.6]]
    return {
        "@context": ["https://geojson.org/geojson-ld/geojson-context.jsonld"],
        "id": properties["@id"],
        "type": "Feature",
        "geometry": {"type": "Polygon", "coordinates": [corner + corner[:1]]},
        "properties": properties,
    }


def describe(description):
    """A document from a description, as told at the top."""
    issued = parse(description["issued"])
    start = parse(description["start"]) if "start" in description else (
        issued.replace(minute=0, second=0) - 7 * HOUR)
    hours = description.get("hours", 180)
    layers = {}
    for name, value in {**MILD, **description.get("layers", {})}.items():
        layers[name] = value if isinstance(value, list) else [value] * hours
        if len(layers[name]) != hours:
            raise SystemExit("grid.py: %s has %d values for %d hours"
                             % (name, len(layers[name]), hours))
    for name, since, until, value in description.get("spells", []):
        for at in range(hours):
            if parse(since) <= start + at * HOUR < parse(until):
                layers[name][at] = value
    return document(issued, start, layers, description.get("fine", 24),
                    description.get("units"), description.get("absent", ()))


def compact(document_):
    return json.dumps(document_, separators=(",", ":")) + "\n"


if __name__ == "__main__":
    sys.stdout.write(compact(describe(json.load(sys.stdin))))

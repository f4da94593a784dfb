#!/usr/bin/python3
"""Documents of our own, in the shapes that public services publish. What the
raw gridpoint data of the US National Weather Service look like is in grid.py.

    services.py KIND <DESCRIPTION >DOCUMENT

The description is a JSON object. Each kind with its members, all optional
unless said:

    point       grid (needed): the address of the forecast
    alerts      updated (needed), alerts: [[event, onset, ends]]
    open-meteo  start (needed), hours, values: name -> a value for all hours
    met-norway  issued (needed), start, hours, values: name -> the same

Times are ISO 8601 with a final Z or an offset. A value that is null leaves the
variable out; those that are not named have those of a mild dry day.
"""
import datetime
import json
import sys

HOUR = datetime.timedelta(hours=1)
HOURS = 96

OPEN_METEO = {"temperature_2m": ("°C", 18), "relative_humidity_2m": ("%", 56),
              "wind_speed_10m": ("m/s", 2.5), "wind_gusts_10m": ("m/s", 4),
              "wind_direction_10m": ("°", 200), "cloud_cover": ("%", 20),
              "precipitation": ("mm", 0),
              "precipitation_probability": ("%", 5),
              "soil_temperature_6cm": ("°C", 14)}
INSTANT = {"air_temperature": ("celsius", 18),
           "cloud_area_fraction": ("%", 20),
           "dew_point_temperature": ("celsius", 9),
           "relative_humidity": ("%", 56),
           "wind_from_direction": ("degrees", 200),
           "wind_speed": ("m/s", 2.5), "wind_speed_of_gust": ("m/s", 4)}
PERIOD = {"precipitation_amount": ("mm", 0),
          "probability_of_precipitation": ("%", 5)}


def parse(text):
    return datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))


def stamp(time):
    return time.strftime("%Y-%m-%dT%H:%M:%SZ")


def chosen(usual, values):
    """name -> (unit, value) of what the document holds."""
    mixed = {name: (unit, values.get(name, value))
             for name, (unit, value) in usual.items()}
    return {name: one for name, one in mixed.items() if one[1] is not None}


def numbers(usual, values):
    return {name: value for name, (_, value) in chosen(usual, values).items()}


def point(description):
    return {"id": "https://weather.example/points/33.6,-99.4",
            "type": "Feature", "geometry": None,
            "properties": {"gridId": "TST", "gridX": 12, "gridY": 34,
                           "forecastGridData": description["grid"],
                           "timeZone": "America/Chicago"}}


def alert(number, event, onset, ends):
    return {"id": "https://weather.example/alerts/%d" % number,
            "type": "Feature", "geometry": None,
            "properties": {"status": "Actual", "messageType": "Alert",
                           "event": event, "severity": "Moderate",
                           "sent": onset, "effective": onset, "onset": onset,
                           "expires": ends, "ends": ends}}


def alerts(description):
    listed = enumerate(description.get("alerts", []), 1)
    return {"type": "FeatureCollection", "title": "Current watches, warnings",
            "updated": description["updated"],
            "features": [alert(number, *one) for number, one in listed]}


def open_meteo(description):
    first = int(parse(description["start"]).timestamp())
    hours = description.get("hours", HOURS)
    held = chosen(OPEN_METEO, description.get("values", {}))
    units = {name: unit for name, (unit, _) in held.items()}
    lists = {name: [value] * hours for name, (_, value) in held.items()}
    return {"latitude": 33.6, "longitude": -99.4, "generationtime_ms": 0.25,
            "utc_offset_seconds": 0, "timezone": "GMT",
            "hourly_units": {"time": "unixtime", **units},
            "hourly": {"time": [first + 3600 * at for at in range(hours)],
                       **lists}}


def met_norway(description):
    issued = parse(description["issued"])
    start = parse(description["start"]) if "start" in description else (
        issued.replace(minute=0, second=0))
    values = description.get("values", {})
    held = chosen({**INSTANT, **PERIOD}, values)
    now = {"details": numbers(INSTANT, values)}
    hour = {"summary": {"symbol_code": "fair_day"},
            "details": numbers(PERIOD, values)}
    return {"type": "Feature",
            "geometry": {"type": "Point", "coordinates": [-99.4, 33.6, 402]},
            "properties": {
                "meta": {"updated_at": stamp(issued),
                         "units": {name: unit
                                   for name, (unit, _) in held.items()}},
                "timeseries": [
                    {"time": stamp(start + at * HOUR),
                     "data": {"instant": now, "next_1_hours": hour}}
                    for at in range(description.get("hours", HOURS))]}}


KINDS = {"point": point, "alerts": alerts, "open-meteo": open_meteo,
         "met-norway": met_norway}

if __name__ == "__main__":
    json.dump(KINDS[sys.argv[1]](json.load(sys.stdin)), sys.stdout,
              ensure_ascii=False, separators=(",", ":"))

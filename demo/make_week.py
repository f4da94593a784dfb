#!/usr/bin/python3
"""Makes week-1.json and week-2.json, the invented weather of the demonstration.

    make_week.py [FOLDER]    writes both files there, else beside this script

Nothing here was measured or forecast anywhere: the days below were made up so
that a windy day, a hot afternoon and a rain day lie in one week. The second
document is issued twelve hours after the first and brings rain on Tuesday.
"""
import datetime
import math
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(HERE, "..", "tests", "scenario"))
import grid  # noqa: E402

LOCAL = datetime.timedelta(hours=-5)  # Chicago's summer time, in force all week
MONDAY = datetime.datetime(2026, 3, 16, tzinfo=datetime.timezone.utc) - LOCAL
HOURS = 180
HOURLY_RAIN = 36  # the hours ahead whose rain is told one by one
KNOT_KMH = 1.852
MILE_KMH = 1.609344

# One row for each local day from Sunday the 15th: low and high in degF, dew
# point at noon in degF, wind at night and in the afternoon in mph, cloud in %.
DAYS = [
    (47, 67, 40, 8, 15, 40),
    (50, 66, 37, 15, 21, 30),   # Monday: wind behind a front
    (51, 73, 44, 4, 8, 20),
    (52, 75, 44, 4, 8, 10),
    (55, 80, 50, 5, 9, 20),
    (61, 89, 55, 5, 9, 10),     # Friday: hot
    (62, 72, 61, 8, 13, 95),    # Saturday: rain
    (50, 69, 47, 5, 9, 40),
    (48, 71, 45, 4, 8, 20),
    (50, 72, 46, 5, 9, 20),
    (50, 72, 46, 5, 9, 20),
]
LOW_AT, HIGH_AT, NOON = 6.5, 16.0, 12.0

# Rain: first hour after Monday's midnight, hours, mm in all, highest chance.
SATURDAY_RAIN = (5 * 24 + 5, 14, 16.5, 90)
TUESDAY_RAIN = (24 + 13, 9, 9.1, 80)


def swing(clock, knots):
    """A smooth way through (clock, value) pairs: half a cosine from each to
    the next."""
    for (t0, v0), (t1, v1) in zip(knots, knots[1:]):
        if t0 <= clock < t1:
            part = (1 - math.cos(math.pi * (clock - t0) / (t1 - t0))) / 2
            return v0 + (v1 - v0) * part
    return knots[-1][1]


def knots(*columns):
    """(clock, value) pairs from columns of DAYS; the clock counts hours from
    Monday's midnight."""
    return sorted((24 * (day - 1) + at, row[column])
                  for day, row in enumerate(DAYS) for column, at in columns)


def celsius(fahrenheit):
    return (round(fahrenheit) - 32) / 1.8


def whole_knots(mph):
    return round(mph * MILE_KMH / KNOT_KMH) * KNOT_KMH


def humidity(air, dew):
    """Percent, by Magnus's formula with the constants of WMO-No. 8."""
    def pressure(t):
        return math.exp(17.62 * t / (243.12 + t))
    return min(100, round(100 * pressure(dew) / pressure(air)))


def rain_share(clock, rain):
    first, hours, total, _ = rain
    part = (clock + 0.5 - first) / hours
    if not 0 < part < 1:
        return 0
    return total * 2 / hours * math.sin(math.pi * part) ** 2


def rain_chance(clock, rain):
    first, hours, _, most = rain
    off = max(first - clock - 1, clock - first - hours, 0)
    return round(most * math.exp(-(off / 2) ** 2))


def hour_of(clock, rains):
    """Every layer's value for the hour that begins at `clock`."""
    air = celsius(swing(clock, knots((0, LOW_AT), (1, HIGH_AT))))
    dew = min(celsius(swing(clock, knots((2, NOON)))), air)
    wind = swing(clock, knots((3, 4.0), (4, 15.0)))
    hot = air > celsius(80)
    return {
        "temperature": air,
        "dewpoint": dew,
        "relativeHumidity": humidity(air, dew),
        "apparentTemperature": air,
        "heatIndex": air if hot else None,
        "windChill": None,
        "skyCover": round(swing(clock, knots((5, NOON))) / 5) * 5,
        "windDirection": (150 + round(swing(clock, knots((4, NOON)))) * 10) % 360,
        "windSpeed": whole_knots(wind),
        "windGust": whole_knots(1.45 * wind),
        "probabilityOfPrecipitation":
            max([3] + [rain_chance(clock, rain) for rain in rains]),
        "quantitativePrecipitation":
            round(sum(rain_share(clock, rain) for rain in rains), 2),
        "snowfallAmount": 0,
    }


def week(issued, rains):
    start = issued.replace(minute=0) - 7 * grid.HOUR
    first = (start - MONDAY) // grid.HOUR
    rows = [hour_of(first + at, rains) for at in range(HOURS)]
    layers = {name: [row[name] for row in rows] for name in rows[0]}
    return grid.document(issued, start, layers, HOURLY_RAIN)


def main(folder):
    first = MONDAY + datetime.timedelta(hours=6, minutes=40)
    second = first + datetime.timedelta(hours=12)
    for name, document in (
            ("week-1.json", week(first, [SATURDAY_RAIN])),
            ("week-2.json", week(second, [SATURDAY_RAIN, TUESDAY_RAIN]))):
        with open(os.path.join(folder, name), "w", encoding="ascii") as file:
            file.write(grid.compact(document))


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else HERE)

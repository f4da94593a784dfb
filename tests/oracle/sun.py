#!/usr/bin/python3
"""Compares sunrise and sunset with an ephemeris and a published almanac.

Argument: the path of the print_sun program. Prints TAP.
"""

import calendar
import collections
import math
import os
import subprocess
import sys

try:
    import ephem
except ImportError:
    ephem = None

HORIZON = -50 / 60  # degrees: the height ephem is asked for as -0:50
TOLERANCE = 10.0  # seconds
PLACES = [("33N 97W", 33.0, -97.0), ("52N 0E", 52.0, 0.0),
          ("34S 151E", -34.0, 151.0)]
ALMANAC = "usno_fredonia_2023.txt"
ALMANAC_EXACT = 0.98  # of the events, to the minute


def ask_lull(program, latitude, longitude, start, days):
    """Pairs of rise and set in UTC seconds."""
    reply = subprocess.run(
        [program, str(latitude), str(longitude), repr(HORIZON), str(start),
         str(days)], capture_output=True, text=True, check=True)
    return [tuple(float(word) for word in line.split())
            for line in reply.stdout.splitlines()]


def ask_ephem(latitude, longitude, start):
    """Rise and set after `start` in UTC seconds."""
    unix_epoch = ephem.Date("1970/1/1")
    observer = ephem.Observer()
    observer.lat, observer.lon = str(latitude), str(longitude)
    observer.pressure, observer.horizon = 0, "-0:50"
    observer.date = ephem.Date(unix_epoch + start / 86400)
    sun = ephem.Sun()
    found = (observer.next_rising(sun, use_center=True),
             observer.next_setting(sun, use_center=True))
    return tuple((when - unix_epoch) * 86400 for when in found)


def compare_ephem(program, latitude, longitude):
    """Largest difference in seconds over 2026, and the number of events."""
    # Local midnight by the sun, so that an event never lies on the edge.
    start = calendar.timegm((2026, 1, 1, 0, 0, 0)) - round(longitude * 240)
    ours = ask_lull(program, latitude, longitude, start, 365)
    worst, count = 0.0, 0
    for day, pair in enumerate(ours):
        theirs = ask_ephem(latitude, longitude, start + day * 86400)
        for mine, other in zip(pair, theirs):
            difference = abs(mine - other)
            # A NaN is the worst of all; max() would pass over it.
            worst = max(worst, math.inf if math.isnan(difference)
                        else difference)
            count += 1
    return worst, count


def read_almanac(path):
    """{(month, day): (rise, set)} in minutes after midnight."""
    table = {}
    with open(path, encoding="ascii") as file:
        for line in file:
            if not line[:2].isdigit() or line[2:4] != "  ":
                continue
            for month in range(12):
                cell = line[4 + 11 * month:13 + 11 * month]
                if cell.strip():
                    table[month + 1, int(line[:2])] = tuple(
                        int(word[:2]) * 60 + int(word[2:])
                        for word in cell.split())
    return table


def compare_almanac(program, path):
    """Events by (ours - almanac) in minutes, both rounded to the minute."""
    zone = -7 * 3600
    latitude, longitude = 36 + 57 / 60, -(112 + 31 / 60)
    table = read_almanac(path)
    start = calendar.timegm((2023, 1, 1, 0, 0, 0)) - zone
    ours = ask_lull(program, latitude, longitude, start, 365)
    seen = collections.Counter()
    for (month, day), published in table.items():
        midnight = calendar.timegm((2023, month, day, 0, 0, 0)) - zone
        pair = ours[(midnight - start) // 86400]
        for mine, other in zip(pair, published):
            minute = math.floor((mine - midnight) / 60 + 0.5)
            seen[minute - other] += 1
    return seen


def check_almanac(program):
    """One TAP line without its number: (good, text)."""
    path = os.path.join(os.environ.get("LULL_SHARED", ""), "data", ALMANAC)
    if not os.environ.get("LULL_SHARED") or not os.path.exists(path):
        return True, "# SKIP the almanac's table is not here"
    seen = compare_almanac(program, path)
    events = sum(seen.values())
    good = events == 730 and set(seen) <= {-1, 0, 1} and \
        seen[0] >= ALMANAC_EXACT * events
    counts = ", ".join(f"{key:+d} min {seen[key]}" for key in sorted(seen))
    return good, f"- almanac 2023, {events} events: {counts}"


def main():
    program = sys.argv[1]
    results = []
    for name, latitude, longitude in PLACES:
        if ephem is None:
            results.append((True, "# SKIP python3-ephem is not installed"))
            continue
        worst, count = compare_ephem(program, latitude, longitude)
        results.append((worst <= TOLERANCE and count == 730,
                        f"- {name} 2026, {count} events: at most "
                        f"{worst:.1f} s from ephem"))
    results.append(check_almanac(program))
    print(f"1..{len(results)}")
    for number, (good, text) in enumerate(results, 1):
        print(f"{'ok' if good else 'not ok'} {number} {text}")
    return 0 if all(good for good, _ in results) else 1


if __name__ == "__main__":
    sys.exit(main())

#!/usr/bin/python3
"""Compares time zones with Python's zoneinfo around every change of offset.

Argument: the path of the print_zones program. Prints TAP. From 2020 to 2035,
every hour of the two days around a change: the offset, and the way back from
the clock on the wall, through gaps (offset before) and overlaps (first time).

libical 3.0.16 guesses rules from the system's tables and misses changes of
some zones long ago; of the years compared here only Pacific/Easter has such,
before April 2022, and is not asked about them.
"""

import datetime
import subprocess
import sys
import zoneinfo

UTC = datetime.timezone.utc
YEARS = (2020, 2036)
ZONES = {
    "America/Chicago": YEARS, "America/Phoenix": YEARS,
    "America/St_Johns": YEARS, "America/Sao_Paulo": YEARS,
    "Europe/London": YEARS, "Europe/Dublin": YEARS,
    "Africa/Casablanca": YEARS, "Asia/Kolkata": YEARS,
    "Australia/Sydney": YEARS, "Australia/Lord_Howe": YEARS,
    "Pacific/Auckland": YEARS, "America/Santiago": YEARS,
    "Pacific/Easter": (2023, 2036),
}
HOUR = 3600


def offset(zone, time):
    """Seconds east of UTC."""
    moment = datetime.datetime.fromtimestamp(time, zone)
    return int(moment.utcoffset().total_seconds())


def start_of(year):
    return int(datetime.datetime(year, 1, 1, tzinfo=UTC).timestamp())


def find_changes(zone, first, last):
    """The hours in which the offset changes."""
    times = range(start_of(first), start_of(last), HOUR)
    offsets = [offset(zone, time) for time in times]
    return [time for time, before, after
            in zip(times, offsets, offsets[1:]) if before != after]


def questions(zone, changes, years):
    """Pairs of a question and its answer."""
    times = {start_of(year) + HOUR // 2 for year in range(*years)}
    for change in changes:
        times.update(range(change - 24 * HOUR, change + 25 * HOUR, HOUR))
        times.update(range(change - HOUR, change + 2 * HOUR, 600))
    for time in sorted(times):
        yield f"u {time}", offset(zone, time)
    for change in changes:
        # The wall clock through the gap or the overlap, wherever it lies.
        wall = datetime.datetime.fromtimestamp(change, zone)
        wall = wall.replace(tzinfo=None) - datetime.timedelta(hours=3)
        for step in range(0, 7 * 60, 5):
            clock = wall + datetime.timedelta(minutes=step)
            # fold=0: the first of two, or the offset before the gap.
            meant = clock.replace(tzinfo=zone, fold=0)
            yield f"l {clock:%Y-%m-%d %H:%M:%S}", int(meant.timestamp())


def compare(program, name, years):
    """(good, text) of one zone."""
    zone = zoneinfo.ZoneInfo(name)
    changes = find_changes(zone, *years)
    asked = list(questions(zone, changes, years))
    reply = subprocess.run(
        [program, name], input="".join(line + "\n" for line, _ in asked),
        capture_output=True, text=True, check=False)
    answers = [int(word) for word in reply.stdout.split()]
    if reply.returncode != 0 or len(answers) != len(asked):
        return False, f"- {name}: {reply.stderr.strip()}"
    wrong = [f"{line} is {mine}, wanted {theirs}" for mine, (line, theirs)
             in zip(answers, asked) if mine != theirs]
    for line in wrong[:5]:
        print(f"# {name}: {line}")
    return not wrong, (f"- {name}: {len(changes)} changes, {len(asked)} "
                       f"questions, {len(wrong)} differ")


def main():
    program = sys.argv[1]
    print(f"1..{len(ZONES)}")
    all_good = True
    for number, (name, years) in enumerate(ZONES.items(), 1):
        try:
            good, text = compare(program, name, years)
        except zoneinfo.ZoneInfoNotFoundError:
            good, text = True, "# SKIP there is no table of zones"
        print(f"{'ok' if good else 'not ok'} {number} {text}")
        all_good = all_good and good
    return 0 if all_good else 1


if __name__ == "__main__":
    sys.exit(main())

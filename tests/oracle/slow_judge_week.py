"""Random cases for the slow judge: weeks with the shape of real weather, and
tanks with rules of every kind."""

import bisect
import datetime
import functools
import itertools
import math
import struct
import zoneinfo

from slow_judge_walk import (
    ABOVE, ANY, AT_MOST, BELOW, CELL, END, MAX, MEAN,
    MIDNIGHT, MIN, START, SUM, SUNRISE, SUNSET, Calendar, Column, Place,
    Rule, grain_of, is_ceiling)

HOUR = 3600
DAY = 86400
# Half hours and quarters, both halves of the earth, clocks that change by half
# an hour, at midnight, and not at all.
ZONES = ["America/Chicago", "America/Chicago", "America/Phoenix",
         "America/St_Johns", "America/Havana", "America/Santiago",
         "Europe/London", "Africa/Cairo", "Asia/Beirut", "Asia/Kolkata",
         "Asia/Kathmandu", "Australia/Adelaide", "Australia/Lord_Howe",
         "Pacific/Auckland", "Pacific/Chatham", "Pacific/Apia"]
FIRST, LAST = 1704067200, 1861920000  # 2024 to 2028
NEVER, FOREVER = -(1 << 62), (1 << 63) - 1


def single(value):
    """As the columns hold it."""
    return struct.unpack("f", struct.pack("f", value))[0]


@functools.cache
def zone_of(name):
    return zoneinfo.ZoneInfo(name)


def offset(zone, time):
    moment = datetime.datetime.fromtimestamp(time, zone)
    return int(moment.utcoffset().total_seconds())


@functools.cache
def changes(name):
    """(time, offset after) of each change of the clock."""
    zone, found = zone_of(name), []
    for day in range(FIRST - 90 * DAY, LAST + 90 * DAY, DAY):
        before = offset(zone, day)
        if offset(zone, day + DAY) == before:
            continue
        quarters = range(day, day + DAY + CELL, CELL)
        at = bisect.bisect_left(
            quarters, True, key=lambda time: offset(zone, time) != before)
        found.append((quarters[at], offset(zone, quarters[at])))
    return found


@functools.cache
def zone_line(name):
    words = [offset(zone_of(name), FIRST - 90 * DAY)]
    for change in changes(name):
        words.extend(change)
    return "zone " + " ".join(map(str, words)) + "\n"


class Case:
    """A site's forecast and its jobs."""

    def __init__(self, zone, start, count):
        self.zone = zone
        self.calendar = Calendar(zone_of(zone))
        self.place = None  # with the sun, once that has its column
        self.start = start
        self.count = count
        self.whole = False  # judge each start and find the windows
        self.columns = []  # (line, Column)
        self.jobs = []

    def add_column(self, cells, continuous=False, yes_no=False):
        cells = [None if value is None else single(value) for value in cells]
        line = [f"column {int(continuous)}"]
        for value, run in itertools.groupby(cells):
            text = "nan" if value is None else repr(value)
            line.append(f"{len(list(run))} {text}")
        column = Column(self.start, cells, continuous, yes_no)
        self.columns.append((" ".join(line) + "\n", column))

    def add_days(self, records):
        """Days since the last record that is not later than the cell."""
        cells = []
        for at in range(self.start, self.end(), CELL):
            past = [record for record in records if record <= at]
            cells.append(float(self.calendar.days_between(max(past), at))
                         if past else math.inf)
        line = " ".join(map(str, ["days", *records])) + "\n"
        self.columns.append((line, Column(self.start, cells)))

    def end(self):
        return self.start + self.count * CELL

    def text(self):
        lines = [zone_line(self.zone), f"series {self.start} {self.count}\n"]
        lines.extend(line for line, _ in self.columns)
        lines.append(f"sun {self.column_of(self.place.sun)}\n")
        for job in self.jobs:
            lines.extend(self.rule_line(rule) for rule in job.rules)
            lines.append(f"job {job.duration} {job.now} {job.after} "
                         f"{job.before}\n")
        lines.append("end\n")
        return "".join(lines)

    def column_of(self, wanted):
        for number, (_, column) in enumerate(self.columns):
            if column is wanted:
                return number
        return -1

    def rule_line(self, rule):
        (from_, early), (to, late) = rule.exposure
        return (f"rule {self.column_of(rule.column)} {rule.fold} {from_} "
                f"{early} {to} {late} {rule.bound} {rule.limit!r}\n")


class Job:
    def __init__(self, duration, rules, now, after, before):
        self.duration = duration
        self.rules = rules
        self.now = now
        self.after = after
        self.before = before


class Draw:
    """Everything that is random, from one source."""

    def __init__(self, random):
        self.random = random
        self.clear = False
        self.easy = 0

    def once_in(self, times):
        return self.random.randrange(times) == 0

    # ---- the week ----

    def case(self):
        random = self.random
        zone = random.choice(ZONES)
        start = random.randrange(FIRST + 40 * DAY, LAST - 60 * DAY)
        near = [at for at, _ in changes(zone)
                if FIRST + 40 * DAY < at < LAST - 60 * DAY]
        if near and not self.once_in(3):
            start = random.choice(near) - random.randrange(3 * DAY)
        count = random.choice([random.randrange(1, 60),
                               random.randrange(40, 200),
                               random.randrange(40, 300), 672])
        case = Case(zone, start // CELL * CELL, count)
        case.whole = count > 100 and self.once_in(4)
        self.clear = case.whole or self.once_in(2)  # nearly all is known
        self.fill(case)
        for _ in range(random.choice([1, 1, 2, 3])):
            case.jobs.append(self.job(case))
        return case

    def fill(self, case):
        """Each measure as a service would give it: by the hour, or as instants
        with straight lines between."""
        warmth = self.warmth(case)
        wind = self.wind(case)
        gust = [value * self.random.uniform(1.2, 2.2) for value in wind]
        dampness = [min(100, max(5, 95 - 3 * (value - min(warmth)) +
                                 self.random.gauss(0, 4)))
                    for value in warmth]
        delta = [max(0, (value + 10) * (100 - damp) / 400)
                 for value, damp in zip(warmth, dampness)]
        cloud = [self.random.choice([0, 10, 40, 90, 100]) for _ in wind]
        for values, grain in ((warmth, 0.5), (wind, 0.25), (gust, 0.25),
                              (delta, 0.1), (cloud, 1)):
            self.add(case, values, grain)
        self.add_sun(case)
        self.add_rain(case)
        self.add_turf(case)
        case.add_days([case.start + self.random.randrange(-40 * DAY, 9 * DAY)
                       for _ in range(self.random.choice([0, 1, 1, 2, 3]))])

    def hours(self, case):
        """Hours that cover the case, whatever its first minute."""
        first = case.start // HOUR * HOUR
        return range(first, case.end() + HOUR, HOUR)

    def warmth(self, case):
        middle = self.random.uniform(-2, 30)
        swing = self.random.uniform(1, 9)
        shift = offset(case.calendar.zone, case.start)
        return [middle + swing * math.sin(2 * math.pi * (
            (time + shift) % DAY / DAY - 0.375)) + self.random.gauss(0, 0.7)
            for time in self.hours(case)]

    def wind(self, case):
        values, speed = [], self.random.uniform(0, 6)
        for _ in self.hours(case):
            speed = max(0, speed + self.random.gauss(0, 0.8))
            if self.once_in(12):
                speed = self.random.choice([0, 0.3, 8])  # a lull or a gust
            values.append(speed)
        return values

    def add(self, case, hourly, grain):
        hourly = [round(value / grain) * grain for value in hourly]
        if self.once_in(10):
            hourly = [value * 5 / 9 for value in hourly]  # odd fractions
        continuous = self.once_in(3)
        first, cells = case.start // HOUR * HOUR, []
        for time in range(case.start, case.end(), CELL):
            hour, rest = divmod(time - first, HOUR)
            here, there = hourly[hour], hourly[hour + 1]
            cells.append(here + (there - here) * rest / HOUR
                         if continuous else here)
        case.add_column(self.with_gaps(cells), continuous)

    def add_sun(self, case):
        """A curve, not lines; on some days it stays down or up."""
        noon, middle = self.random.randrange(DAY), self.random.gauss(5, 20)
        cells = [60 * math.cos(2 * math.pi * (time - noon) / DAY) - middle
                 for time in range(case.start, case.end(), CELL)]
        case.add_column(self.with_gaps(cells), True)
        case.place = Place(case.calendar, case.columns[-1][1])

    def add_rain(self, case):
        """Shares of blocks, and whether their whole amount or their chance
        makes them wet."""
        shares, wet, at = [], [], case.start // (12 * HOUR) * 12 * HOUR
        least = self.random.choice([20, 30, 50])
        while at < case.end():
            span = self.random.choice([1, 1, 3, 6, 12]) * HOUR
            amount = self.random.choice([0, 0, 0, 0, 0.2, 0.2, 0.25, 9])
            chance = self.random.choice([0, 5, 5, least - 1, least - 1, least])
            if not self.clear:
                amount = self.random.choice([amount, amount, None])
                chance = self.random.choice([chance, chance, None])
            is_wet = None
            if amount is not None or chance is not None:
                is_wet = int((amount or 0) >= 0.25 or (chance or 0) >= least)
            for time in range(at, at + span, CELL):
                if case.start <= time < case.end():
                    shares.append(None if amount is None
                                  else amount * CELL / span)
                    wet.append(is_wet)
            at += span
        case.add_column(self.with_gaps(shares))
        case.add_column(self.with_gaps(wet), yes_no=True)

    def add_turf(self, case):
        cells, state = [], self.random.randrange(2)
        for _ in range(case.count):
            if self.once_in(150):
                state = self.random.choice([0, 1, None])
            cells.append(state)
        case.add_column(cells, yes_no=True)

    def with_gaps(self, cells):
        """Gaps as they come: none, single ones, a run of hours, the end of the
        forecast, its beginning, everywhere."""
        count = len(cells)
        if self.clear and not self.once_in(20):
            return cells
        shape = self.random.randrange(9)
        at = self.random.randrange(count)
        if shape == 4:
            lost = {at}
        elif shape == 5:
            lost = set(range(at, at + 4 * self.random.randrange(1, 40)))
        elif shape == 6:
            lost = set(range(at, count)) if self.once_in(2) else set(range(at))
        elif shape == 7:
            rate = self.random.choice([2, 10, 60])
            lost = {i for i in range(count) if self.once_in(rate)}
        elif shape == 8 and self.once_in(4):
            lost = set(range(count))
        else:
            lost = ()
        return [None if i in lost else cell for i, cell in enumerate(cells)]

    # ---- the tank ----

    def job(self, case):
        random = self.random
        duration = random.choice([random.randrange(1, 40) * 300,
                                  random.randrange(1, 5 * HOUR)])
        self.easy = random.choice([0, 4, 12, 12 if case.whole else 0])
        cards, most = random.randrange(1, 5), 1 if self.easy else 3
        rules = [self.rule(case, duration) for _ in range(cards)
                 for _ in range(random.randrange(most) + 1)]
        if self.once_in(60):
            rules.extend(self.rule(case, duration) for _ in range(60))
        span = case.end() - case.start
        now, after, before = case.start, NEVER, FOREVER
        if self.once_in(3):
            now += random.randrange(span)
        if self.once_in(4):
            after = case.start + random.randrange(span)
        if self.once_in(4):
            before = case.start + duration + random.randrange(span)
            if self.once_in(2):
                before += (case.start + duration - before) % CELL
        return Job(duration, rules, now, after, before)

    def exposure(self):
        random = self.random
        spans = [1, 2, 4, 6] if self.easy else [1, 4, 12, 24, 48]
        span = random.choice(spans) * HOUR
        if self.once_in(3):
            span = random.randrange(1, (6 if self.easy else 30) * HOUR)
        day = random.randrange(-3, 3)
        usual = [
            ((START, 0), (END, 0)), ((START, 0), (END, span)),
            ((START, -span), (START, 0)), ((MIDNIGHT, 0), (MIDNIGHT, 1)),
        ]
        if self.easy:
            return random.choice(usual)
        return random.choice(usual + [
            ((END, 0), (END, span)), ((END, span), (END, 2 * span)),
            ((START, -span), (END, 0)),
            ((START, -2 * span), (START, -span)),
            ((START, 0), (START, span)),
            ((MIDNIGHT, day), (MIDNIGHT, day + random.randrange(1, 4))),
            ((MIDNIGHT, 0), (START, 0)), ((MIDNIGHT, day), (END, span)),
            ((START, 0), (MIDNIGHT, random.choice([1, 1, 2, 45]))),
            ((END, 0), (MIDNIGHT, 1)),
            ((MIDNIGHT, -45), (START, 0)),
            ((SUNRISE, random.randrange(-DAY, DAY)), (SUNSET, -HOUR)),
            ((SUNSET, -random.randrange(DAY)), (SUNRISE, span)),
            ((START, 0), (SUNSET, random.randrange(-span, span))),
            ((SUNRISE, -span), (END, 0)), ((SUNRISE, span), (START, 0)),
            ((MIDNIGHT, day), (SUNRISE, 0)), ((SUNSET, 0), (MIDNIGHT, 1)),
        ])

    def rule(self, case, duration):
        random = self.random
        column = random.choice(case.columns)[1]
        bound = random.randrange(4)
        if column.most == 1:
            limit = 0 if bound in (AT_MOST, ABOVE) else 1
            if self.easy:
                bound, limit = AT_MOST, 0
            rule = Rule(column, ANY, self.exposure(), bound, float(limit))
        else:
            fold = random.choice([MAX, MAX, MIN, MIN, SUM, MEAN])
            if fold in (MAX, MIN) and not self.once_in(3):
                fold = MAX if bound in (AT_MOST, BELOW) else MIN
            rule = Rule(column, fold, self.exposure(), bound, 0.0)
            rule.limit = self.limit(case, rule, duration)
        if self.once_in(40):
            rule.column = None
        return rule

    def limit(self, case, rule, duration):
        """On a value that comes up, beside it by less and by more than the
        grain, or by a step. An easy one lets most of some starts pass."""
        values = []
        for _ in range(1 + self.easy):
            time = case.start + self.random.randrange(case.count) * CELL
            span = rule.span(time, duration, case.place)
            values.extend(value for value in rule.bounds(*span) or ()
                          if math.isfinite(value))
        if not values:
            values = [self.random.uniform(0, 20)]
        value = max(values) if is_ceiling(rule.bound) else min(values)
        grain = grain_of(value)
        return value + self.random.choice(
            [0, 0, 0, grain / 2, -grain / 2, 2 * grain, -2 * grain, 0.5, -0.5,
             self.random.uniform(-4, 4)])

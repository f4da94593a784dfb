"""The slow judge: what a rule means, walked minute by minute.

It is written from the documented meaning alone and shares nothing with the
program: no tables, no running sums, no cells counted from the start of a day.

- A held value holds for every minute of its cell. A continuous one runs in a
  straight line from the start of its cell to the start of the next.
- An exposure touches whole cells. It is half-open, but a continuous value
  counts at the instant that ends it, too.
- What is not known may be anything: the fold is worked out with the least and
  with the most in every gap. When both answer alike the rule is known. Outside
  of the forecast all is gap.
- An exposure that has no length holds nothing, and that is known: no highest,
  no lowest, no yes, a sum of 0. It has no mean.
- Of a sum or a mean over cells a gap leaves nothing; nor does an infinity.
- Sunrise is where the line of the sun's height first comes up to the horizon
  on a local day, and sunset where it first goes below it. A day without, or
  with a gap before it, makes a gap of the whole exposure.
- Values that differ by less than one part in ten thousand are equal; near 0 by
  less than that part of 1, but of the limit itself where that is a dose.
"""

import datetime
import itertools
import math

CELL = 900
MINUTE = 60
MINUTES = CELL // MINUTE
GRAIN = 1e-4
DOSE = 0.1  # smaller limits are those of doses on a square metre
HORIZON = -0.8333
UTC = datetime.timezone.utc

MAX, MIN, SUM, MEAN, ANY = range(5)
START, END, MIDNIGHT, SUNRISE, SUNSET = range(5)
AT_MOST, BELOW, AT_LEAST, ABOVE = range(4)
GO, BROKEN, UNKNOWN, EITHER = "g", "n", "u", "?"


def grain_of(limit):
    size = abs(limit)
    return GRAIN * (size if 0 < size < DOSE else max(1.0, size))


def round_up(time, unit):
    return -(-time // unit) * unit


def is_ceiling(bound):
    return bound in (AT_MOST, BELOW)


def holds(bound, limit, value):
    """None where the grain is so near that rounding decides."""
    grain = grain_of(limit)
    if value == limit:
        distance = 0.0
    else:
        distance = abs(value - limit)
    if abs(distance - grain) < 1e-2 * grain:
        return None
    if distance < grain:
        return bound in (AT_MOST, AT_LEAST)
    return value < limit if is_ceiling(bound) else value > limit


class Calendar:
    """Local days, by looking at the clock on the wall."""

    def __init__(self, zone):
        self.zone = zone
        self.known = {}
        self.dates = {}

    def date(self, time):
        # No clock changes within a cell.
        cell = time // CELL
        if cell not in self.dates:
            moment = datetime.datetime.fromtimestamp(cell * CELL, self.zone)
            self.dates[cell] = moment.date()
        return self.dates[cell]

    def midnight(self, date):
        """The first second whose local date is this one."""
        if date not in self.known:
            noon = datetime.datetime(date.year, date.month, date.day, 12,
                                     tzinfo=UTC)
            time = int(noon.timestamp()) - 40 * 3600
            while self.date(time) != date:
                time += CELL
            self.known[date] = time
        return self.known[date]

    def days_after(self, time, days):
        date = self.date(time) + datetime.timedelta(days=days)
        return self.midnight(date)

    def days_between(self, earlier, later):
        return (self.date(later) - self.date(earlier)).days


class Column:
    """Values of a forecast, None where not known. `yes_no`: each is 0 or 1."""

    def __init__(self, start, cells, continuous=False, yes_no=False):
        self.start = start
        self.cells = cells
        self.continuous = continuous
        self.least, self.most = (0, 1) if yes_no else (-math.inf, math.inf)
        self.walked = None

    def minutes(self):
        if self.walked is None:
            values = self.draw_line() if self.continuous else [
                value for value in self.cells for _ in range(MINUTES)]
            self.walked = (
                [self.least if value is None else value for value in values],
                [self.most if value is None else value for value in values])
        return self.walked

    def draw_line(self):
        values = []
        for here, there in zip(self.cells, self.cells[1:] + [None]):
            values.append(here)
            if here is None or there is None:
                values.extend([None] * (MINUTES - 1))
            else:
                step = (there - here) / MINUTES
                values.extend(here + step * k for k in range(1, MINUTES))
        return values

    def walk(self, first, last):
        """The least and the most at each minute of [first, last)."""
        first -= self.start // MINUTE
        last -= self.start // MINUTE
        all_low, all_high = self.minutes()
        count = len(all_low)
        inside = slice(max(first, 0), max(last, 0))
        low, high = all_low[inside], all_high[inside]
        if first < 0 or last > count:
            low.append(self.least)
            high.append(self.most)
        return low, high

    def touched(self, from_, to):
        """The value of each cell that [from, to) touches; None: a gap."""
        first = (from_ - self.start) // CELL
        last = round_up(to - self.start, CELL) // CELL + self.continuous
        values = self.cells[max(first, 0):max(last, 0)]
        outside = first < last and (first < 0 or last > len(self.cells))
        return values + [None] if outside else values

    def at(self, time):
        """The value of a line at any second; None where it is not known."""
        cell, rest = divmod(time - self.start, CELL)
        if not 0 <= cell < len(self.cells):
            return None
        here = self.cells[cell]
        if rest == 0 or here is None:
            return here
        there = self.cells[cell + 1] if cell + 1 < len(self.cells) else None
        if there is None:
            return None
        return here + (there - here) * rest / CELL


NOTHING = {MAX: -math.inf, MIN: math.inf, SUM: 0.0, ANY: 0.0}
ABSENT = Column(0, [])


class Place:
    """Where and when: the calendar, and the column of the sun's height."""

    def __init__(self, calendar, sun):
        self.calendar = calendar
        self.sun = sun
        self.passes = {}

    def pass_of(self, rises, time):
        date = self.calendar.date(time)
        if (rises, date) not in self.passes:
            self.passes[rises, date] = self.find_pass(rises, date)
        return self.passes[rises, date]

    def find_pass(self, rises, date):
        cells = self.sun.cells
        for here, there, time in zip(
                cells, cells[1:], itertools.count(self.sun.start, CELL)):
            if self.calendar.date(time) != date:
                continue
            if here is None or there is None:
                return None
            if (here < HORIZON) == rises and (there < HORIZON) != rises:
                part = (HORIZON - here) / (there - here)
                return time + round(part * CELL)
        return None


class Rule:
    def __init__(self, column, fold, exposure, bound, limit):
        self.column = column  # None: absent
        self.fold = fold
        self.exposure = exposure  # (anchor, seconds), (anchor, seconds)
        self.bound = bound
        self.limit = limit
        self.done = {}

    def instant(self, which, time, duration, place):
        anchor, seconds = self.exposure[which]
        if anchor == MIDNIGHT:
            return place.calendar.days_after(time, seconds)
        if anchor in (SUNRISE, SUNSET):
            sun = place.pass_of(anchor == SUNRISE, time)
            return None if sun is None else sun + seconds
        return time + seconds + (duration if anchor == END else 0)

    def span(self, time, duration, place):
        return (self.instant(0, time, duration, place),
                self.instant(1, time, duration, place))

    def bounds(self, from_, to):
        """The least and the most that the fold can be; None: it has none."""
        column = self.column or ABSENT
        if from_ is None or to is None:
            return column.least, column.most
        if to < from_ or (to == from_ and not column.continuous):
            nothing = NOTHING.get(self.fold)
            return None if nothing is None else (nothing, nothing)
        if self.fold in (SUM, MEAN):
            return self.total(column.touched(from_, to))
        if column.continuous:
            first = from_ // CELL * MINUTES
            last = round_up(to, CELL) // MINUTE + 1
        else:
            first = from_ // MINUTE
            last = round_up(to, MINUTE) // MINUTE
        low, high = column.walk(first, last)
        choose = min if self.fold == MIN else max
        return choose(low), choose(high)

    def total(self, values):
        if None in values or math.inf in values:
            return -math.inf, math.inf
        total = math.fsum(values)
        if self.fold == MEAN:
            total /= len(values)
        return total, total

    def answer(self, bounds):
        if bounds is None:
            return UNKNOWN
        answers = {holds(self.bound, self.limit, end) for end in bounds}
        if None in answers:
            return EITHER
        if len(answers) > 1:
            return UNKNOWN
        return GO if answers.pop() else BROKEN

    def judge(self, time, duration, place):
        span = self.span(time, duration, place)
        if span not in self.done:
            self.done[span] = self.answer(self.bounds(*span))
        return self.done[span]

    def is_open_at(self, time, duration, place):
        """At any second, without rounding to cells: may the job start? Of a
        line every instant counts, of a strict limit the limit itself, too."""
        if self.fold in (SUM, MEAN):
            return True  # of whole cells only
        from_, to = self.span(time, duration, place)
        lined = self.column is not None and self.column.continuous
        if from_ is None or to is None or to < from_ or not lined:
            return self.judge(time, duration, place) in (GO, EITHER)
        moments = [from_, *range(round_up(from_, MINUTE), to + 1, MINUTE), to]
        values = [self.column.at(moment) for moment in moments]
        known = [value for value in values if value is not None]
        settles = (self.fold == MIN) == is_ceiling(self.bound)
        if not known or (len(known) < len(values) and not settles):
            return False
        value = min(known) if self.fold == MIN else max(known)
        slack = 1.5 * grain_of(self.limit)
        if is_ceiling(self.bound):
            return value <= self.limit + slack
        return value >= self.limit - slack


def verdict(answers):
    """Of all the rules of a tank: the worst."""
    if BROKEN in answers:
        return BROKEN
    if EITHER in answers:
        return EITHER
    return UNKNOWN if UNKNOWN in answers else GO


def runs(verdicts, first, last):
    """Pairs of the first and last start of each run of go in [first, last)."""
    found, begun = [], None
    for start in range(first, last + 1):
        go = start < last and verdicts[start] == GO
        if go and begun is None:
            begun = start
        if not go and begun is not None:
            found.append((begun, start - 1))
            begun = None
    return found

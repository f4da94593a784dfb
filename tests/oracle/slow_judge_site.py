"""A site for slow_judge_cards.py: a random forecast document, facts that the
keeper told, and the columns that follow from them by lull.conf(5)."""

import datetime
import json
import math

from slow_judge_walk import CELL, EITHER, UTC, Calendar, Column, Place, Rule
from slow_judge_week import DAY, HOUR, offset, single, zone_of

STATES = ["dormant", "green-up", "green"]


def stamp(time):
    moment = datetime.datetime.fromtimestamp(time, UTC)
    return moment.strftime("%Y-%m-%dT%H:%M:%S+00:00")


# ---- physics, solved otherwise than the program does ----

def saturation(celsius):
    """FAO-56 eq. 11, kPa."""
    return 0.6108 * math.exp(17.27 * celsius / (celsius + 237.3))


def delta_t(celsius, humidity):
    """From FAO-56 eq. 15 and 16, 0.000662 per K and 101.325 kPa, by Newton's
    method from the dry bulb."""
    factor = 0.000662 * 101.325
    wanted = saturation(celsius) * humidity / 100
    wet = celsius
    for _ in range(50):
        pressure = saturation(wet)
        slope = pressure * 17.27 * 237.3 / (wet + 237.3) ** 2 + factor
        wet -= (pressure - factor * (celsius - wet) - wanted) / slope
    return celsius - wet


class Either:
    """A rule on a value that is known to 0.001 K only."""

    def __init__(self, cells, start, fold, exposure, bound, limit):
        self.both = [Rule(Column(start, [
            None if value is None else value + error for value in cells]),
            fold, exposure, bound, limit) for error in (-0.0015, 0.0015)]

    def judge(self, time, duration, place):
        answers = {rule.judge(time, duration, place) for rule in self.both}
        return answers.pop() if len(answers) == 1 else EITHER


class Site:
    """A forecast document and what follows from it."""

    def __init__(self, draw, name, now, zone):
        self.random = draw.random
        self.draw = draw
        self.easy = draw.once_in(2)
        draw.clear = self.easy
        self.name = name
        self.now = now
        self.zone = zone
        self.calendar = Calendar(zone_of(zone))
        self.place = Place(self.calendar, None)
        self.start = now // HOUR * HOUR - self.random.randrange(1, 8) * HOUR
        self.first = (now - 2 * DAY) // CELL * CELL
        last_day = self.calendar.date(now + 8 * DAY)
        self.last = self.calendar.midnight(
            last_day + datetime.timedelta(days=1))
        self.hours = self.random.choice([40, 160, 160])
        self.end = self.start + self.hours * HOUR
        self.chance = self.random.choice([20, 30, 50])
        self.layers = {}
        self.spans = {}  # layer -> [(from, to, value)]
        self.draw_weather()
        self.looked = self.random.choice([None, *STATES])
        self.preferred = self.random.choice([None, None, (7, 11), (6, 20)])
        self.records = {}  # product -> moments
        self.columns = {}

    def draw_weather(self):
        random = self.random
        hours = range(self.start, self.end, HOUR)
        shift = offset(self.calendar.zone, self.start)
        middle, speed = random.uniform(2, 30), random.uniform(3, 18)
        air, damp, wind, gust = [], [], [], []
        for time in hours:
            angle = 2 * math.pi * ((time + shift) % DAY / DAY - 0.375)
            air.append(round(middle + 7 * math.sin(angle) +
                             random.gauss(0, 0.6), 1))
            damp.append(round(min(100, max(8, 60 - 30 * math.sin(angle) +
                                           random.gauss(0, 5)))))
            speed = max(0, speed + random.gauss(0, 2.5))
            wind.append(round(random.choice([speed] * 9 + [0]), 1))
            gust.append(round(wind[-1] * random.uniform(1.1, 2), 1))
        dew = [round(value - random.uniform(0, 12), 1) for value in air]
        self.layer("temperature", "wmoUnit:degC", hours, air)
        self.layer("windSpeed", "wmoUnit:km_h-1", hours, wind)
        self.layer("windGust", "wmoUnit:km_h-1", hours, gust)
        moist = random.randrange(3)  # either of the two, or both
        if moist != 1:
            self.layer("relativeHumidity", "wmoUnit:percent", hours, damp)
        if moist != 0:
            self.layer("dewpoint", "wmoUnit:degC", hours, dew)
        wet_amounts = [] if self.easy else [0.25, 0.3, 7]
        wet_chances = [] if self.easy else [self.chance, 80]
        self.blocks("quantitativePrecipitation", "wmoUnit:mm",
                    [0, 0, 0.2, 0.24, *wet_amounts])
        self.blocks("probabilityOfPrecipitation", "wmoUnit:percent",
                    [0, 5, 10, self.chance - 1, *wet_chances])

    def layer(self, name, unit, hours, values):
        if name != "temperature" and self.draw.once_in(12):
            return
        # A document without any air temperature is refused as a whole.
        values = values[:1] + self.draw.with_gaps(values[1:])
        self.put(name, unit, [(time, time + HOUR, value)
                              for time, value in zip(hours, values)])

    def blocks(self, name, unit, choice):
        spans, at = [], self.start
        while at < self.end:
            to = min(self.end, at + self.random.choice([1, 1, 3, 6, 12]) *
                     HOUR)
            value = self.random.choice(choice)
            spans.append((at, to, None if self.draw.once_in(25) else value))
            at = to
        if not self.draw.once_in(12):
            self.put(name, unit, spans)

    def put(self, name, unit, spans):
        """A null, or no entry at all, is a gap."""
        self.spans[name] = spans
        self.layers[name] = {"uom": unit, "values": [
            {"validTime": f"{stamp(at)}/PT{(to - at) // HOUR}H",
             "value": value}
            for at, to, value in spans
            if value is not None or self.draw.once_in(2)]}

    def document(self):
        return json.dumps({"type": "Feature", "properties": {
            "updateTime": stamp(self.now), **self.layers}})

    # ---- columns ----

    def cells(self, name, factor=1.0):
        values = []
        for at, to, value in self.spans.get(name, []):
            cell = None if value is None else single(value * factor)
            values.extend([cell] * ((to - at) // CELL))
        return values or [None] * (self.hours * 4)

    def shares(self):
        values = []
        for at, to, value in self.spans.get("quantitativePrecipitation", []):
            count = (to - at) // CELL
            values.extend([None if value is None else value / count] * count)
        return values or [None] * (self.hours * 4)

    def wet(self):
        values = []
        for amount, chance in zip(self.cells("quantitativePrecipitation"),
                                  self.cells("probabilityOfPrecipitation")):
            if amount is None and chance is None:
                values.append(None)
            else:
                values.append(int((amount or 0) >= 0.25 or
                                  (chance or 0) >= self.chance))
        return values

    def delta(self):
        air = self.cells("temperature")
        damp = self.cells("relativeHumidity")
        if all(value is None for value in damp):
            damp = [None if value is None or dew is None else
                    min(100, 100 * saturation(dew) / saturation(value))
                    for value, dew in zip(air, self.cells("dewpoint"))]
        return [None if value is None or humidity is None
                else delta_t(value, humidity)
                for value, humidity in zip(air, damp)]

    def column(self, measure):
        if measure not in self.columns:
            make = {
                "air-temperature": lambda: self.cells("temperature"),
                "wind": lambda: self.cells("windSpeed", 1 / 3.6),
                "gust": lambda: self.cells("windGust", 1 / 3.6),
                "rain": self.shares, "wet": self.wet, "delta-t": self.delta,
            }[measure]
            self.columns[measure] = Column(self.start, make(),
                                           yes_no=measure == "wet")
        return self.columns[measure]

    def whole_span(self, value_at):
        """A column of facts, which the forecast does not end: two days back,
        and to the end of the local day eight days ahead."""
        return Column(self.first, [
            value_at(time) for time in range(self.first, self.last, CELL)])

    def days_since(self, product):
        def value(time):
            past = [at for at in self.records.get(product, []) if at <= time]
            if not past:
                return math.inf
            return self.calendar.days_between(max(past), time)
        return self.whole_span(value)

    def in_hours(self):
        def value(time):
            moment = datetime.datetime.fromtimestamp(time, self.calendar.zone)
            clock = moment.hour * HOUR + moment.minute * 60
            return int(clock >= self.preferred[0] * HOUR and
                       clock + CELL <= self.preferred[1] * HOUR)
        return self.whole_span(value)

    def text(self):
        lines = [f'site "{self.name}" {{ latitude = "40 deg" '
                 f'longitude = "10 deg" zone = "{self.zone}"',
                 'area = "3000 ft2" sprayer = "one" '
                 f'forecast = "nws-grid file:{self.name}.json"',
                 f'rain-chance = "{self.chance} %"']
        if self.looked:
            day = self.calendar.date(self.now - 4 * DAY)
            lines.append(f'turf = {{ "{day} {self.looked}" }}')
        if self.preferred:
            lines.append('hours = { "%02d:00-%02d:00" }' % self.preferred)
        return "\n\t".join(lines) + "\n}\n"

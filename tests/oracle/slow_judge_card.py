"""Random cards and tanks for slow_judge_cards.py: the text as it is typed, and
the rules that it means by lull.conf(5)."""

from slow_judge_site import STATES, Either
from slow_judge_walk import (
    ANY, AT_LEAST, AT_MOST, BELOW, END, MAX, MEAN, MIDNIGHT, MIN, START, SUM,
    Rule, round_up)
from slow_judge_week import HOUR

BOUND_WORDS = ["at most", "below", "at least", "above"]
# What may be typed, less a little for rounding.
TYPED = {"air-temperature": (-19, 59), "wind": (0, 29), "gust": (0, 39),
         "delta-t": (0, 29)}
JOB = ((START, 0), (END, 0))
TODAY = ((MIDNIGHT, 0), (MIDNIGHT, 1))


class Card:
    """A product: its text, and for a site the rules that it means."""

    def __init__(self, draw, name, site):
        self.random = draw.random
        self.name = name
        self.site = site
        self.lines = []
        self.rules = []  # (rule name, measure, Rule)
        self.easy = site.easy
        self.gives_way = draw.once_in(3)
        kinds = [self.air, self.air, self.rain_free, self.dry_leaf, self.wind,
                 self.delta, self.day_high, self.again, self.turf,
                 self.sentence]
        for kind in dict.fromkeys(self.random.sample(
                kinds, self.random.randrange(1, 5))):
            kind()
        # The label rules over the practice only with a limit of its own; a
        # floor beside it could contradict it.
        named = {name for name, *_ in self.rules}
        if self.gives_way and not named & {"wind-minimum", "wind-maximum"}:
            self.limit("wind-maximum", "wind", False)
        self.gives_way = self.gives_way and "wind-minimum" not in named

    def add(self, name, measure, text, *parts):
        self.lines.append(f'{name} = "{text}"')
        self.rules.append((name, measure, self.rule(measure, *parts)))

    def rule(self, measure, fold, exposure, bound, limit):
        column = self.site.column(measure)
        if measure == "delta-t":
            return Either(column.cells, self.site.start, fold, exposure,
                          bound, limit)
        return Rule(column, fold, exposure, bound, limit)

    def value(self, measure, floor=False):
        """One that comes up; for an easy card one that most others keep."""
        known = [value for value in self.site.column(measure).cells
                 if value is not None]
        picked = self.random.choices(known or [15], k=12 if self.easy else 1)
        least, most = TYPED[measure]
        return min(most, max(least, min(picked) if floor else max(picked)))

    def said(self, bound, usual):
        """Without a word the usual bound is meant."""
        silent = bound == usual and self.random.random() < 0.3
        return "" if silent else BOUND_WORDS[bound] + " "

    def degrees(self, value):
        """The text of a temperature near it, and the temperature."""
        if self.random.random() < 0.5:
            return f"{value:.1f} degC", float(f"{value:.1f}")
        fahrenheit = round(value * 1.8 + 32)
        return f"{fahrenheit} degF", (fahrenheit - 32) / 1.8

    def limit(self, name, measure, floor, exposure=JOB):
        usual = AT_LEAST if floor else AT_MOST
        bound = usual + self.random.randrange(2)
        fold = MIN if floor else MAX
        value = self.value(measure, floor)
        if measure == "air-temperature":
            text, limit = self.degrees(value)
        elif measure == "delta-t":
            limit = round(value, 1)
            text = f"{limit} K"
        else:
            limit = round(value * 3.6, 1)
            text = f"{limit} km/h"
            limit /= 3.6
            if self.random.random() < 0.5:
                miles = round(value / 0.44704)
                text, limit = f"{miles} mph", miles * 0.44704
        if name == "day-high":
            fold = MAX
        self.add(name, measure, self.said(bound, usual) + text, fold,
                 exposure, bound, limit)

    def air(self):
        self.limit("temperature-ceiling", "air-temperature", False)

    def wind(self):
        self.limit(*self.random.choice([
            ("wind-maximum", "wind", False), ("wind-minimum", "wind", True),
            ("gust-maximum", "gust", False)]))

    def delta(self):
        self.limit(*self.random.choice([
            ("delta-t-maximum", "delta-t", False),
            ("delta-t-minimum", "delta-t", True)]))

    def day_high(self):
        self.limit("day-high", "air-temperature", False, TODAY)

    def rain_free(self):
        hours = self.random.choice([0, 1, 2, 6, 12, 24])
        self.add("rain-free", "wet", f"{hours} h", ANY,
                 ((START, 0), (END, hours * HOUR)), AT_MOST, 0)

    def dry_leaf(self):
        minutes = self.random.choice([60, 100, 360])
        self.add("dry-leaf", "wet", f"{minutes} min", ANY,
                 ((START, -minutes * 60), (START, 0)), AT_MOST, 0)

    def again(self):
        days = self.random.randrange(1, 10)
        self.lines.append(f're-treatment = "{days} d"')
        self.site.records.setdefault(self.name, [])
        self.rules.append(("re-treatment", "days-since", Rule(
            None, MIN, JOB, AT_LEAST, days)))

    def turf(self):
        allowed = self.random.sample(STATES, self.random.randrange(1, 3))
        if self.easy and self.site.looked:
            allowed[0] = self.site.looked
        words = ", ".join(f'"{state}"' for state in allowed)
        self.lines.append(f"turf = {{ {words} }}")
        for state in STATES:
            if state in allowed:
                continue
            looked = self.site.looked
            seen = None if looked is None else int(looked == state)
            column = self.site.whole_span(lambda _, seen=seen: seen)
            self.rules.append(("turf", state, Rule(column, ANY, JOB, AT_MOST,
                                                   0)))

    def sentence(self):
        text, limit = self.degrees(self.value("air-temperature"))
        days, hours = self.random.randrange(1, 4), self.random.choice([6, 48])
        rain = self.random.choice([0.1, 0.5, 3])
        sentences = [
            (f"highest air-temperature from midnight to midnight + {days} d "
             f"below {text}", "air-temperature", MAX,
             ((MIDNIGHT, 0), (MIDNIGHT, days)), BELOW, limit),
            (f"mean air-temperature from start - {hours} h to start at least "
             f"{text}", "air-temperature", MEAN,
             ((START, -hours * HOUR), (START, 0)), AT_LEAST, limit),
            (f"total rain from end to end + {hours} h at most {rain} mm",
             "rain", SUM, ((END, 0), (END, hours * HOUR)), AT_MOST, rain),
            (f"no wet from end + 1 h to end + {hours} h", "wet", ANY,
             ((END, HOUR), (END, hours * HOUR)), AT_MOST, 0),
        ]
        text, measure, *parts = self.random.choice(sentences)
        self.lines.append(f'rules = {{ "{text}" }}')
        self.rules.append(("rules", measure, self.rule(measure, *parts)))

    def text(self):
        lines = [f'product "{self.name}" {{ label = "invented"',
                 'rate = "1 fl oz/1000 ft2"', *self.lines]
        if self.gives_way:
            lines.append('label-rules = { "wind-maximum" }')
        return "\n\t".join(lines) + "\n}\n"


class Tank:
    """A job on a site with one to four cards of its own."""

    def __init__(self, draw, site, number):
        self.site = site
        self.cards = [Card(draw, f"p{number}-{place}", site)
                      for place in range(draw.random.randrange(
                          1, 3 if site.easy else 5))]
        self.area = draw.random.randrange(500, 20000)  # ft2
        self.id = None

    def duration(self):
        """Fills and walking, in steps of 5 minutes."""
        fills = -(-self.area // 4000)
        return round_up(fills * 600 + self.area * 60 // 150, 300)

    def rules(self, practice):
        """(owner, rule, measure, Rule) of everything that judges it."""
        found = []
        for card in self.cards:
            for name, measure, rule in card.rules:
                if measure == "days-since":  # of the records, made meanwhile
                    rule.column = self.site.days_since(card.name)
                found.append((card.name, name, measure, rule))
        if not all(card.gives_way for card in self.cards):
            found.append(("practice", "wind-maximum", "wind", Rule(
                self.site.column("wind"), MAX, JOB, AT_MOST, practice)))
        if self.site.preferred:
            found.append((self.site.name, "hours", "hours", Rule(
                self.site.in_hours(), MIN, JOB, AT_LEAST, 1)))
        return found

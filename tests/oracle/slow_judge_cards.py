#!/usr/bin/python3
"""Holds `lull why` and `lull windows` against the slow judge, from the typed
card and the fetched document to the answer.

Argument: the path of the lull program. Prints TAP. LULL_JOBS: how many;
LULL_SEED: another seed. At the first disagreement the folder with the
configuration, forecasts and state is left, and named.

What a card means is worked out again from lull.conf(5), in slow_judge_card.py
and slow_judge_site.py: units, wet, delta T, turf, re-treatment, hours.
"""

import collections
import datetime
import json
import os
import pathlib
import random
import shutil
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
from slow_judge_card import Tank  # noqa: E402
from slow_judge_site import Site, stamp  # noqa: E402
from slow_judge_walk import (  # noqa: E402
    CELL, EITHER, GO, round_up, runs, verdict)
from slow_judge_week import (  # noqa: E402
    DAY, FIRST, LAST, ZONES, Draw, changes)

JOBS = 60
SITES, BATCH = 3, 15  # in one configuration: sites and jobs
STARTS = 4  # of a job that are asked about
WHOLE = 5  # of so many hard jobs one is judged at each start, for its windows
OFF_CELL = 420  # seconds by which now is not always on a cell
WORDS = {"go": "g", "no-go": "n", "unknown": "u"}
SPRAYER = """sprayer "one" {
	tank = "4 gal" carrier = "1 gal/1000 ft2"
	pace = "150 ft2/min" fill = "10 min"
}
"""


def seconds(text):
    return int(datetime.datetime.fromisoformat(text).timestamp())


class Fault(Exception):
    pass


class Keeper:
    """One configuration and the answers of lull to it."""

    def __init__(self, draw, program, count):
        self.draw = draw
        self.program = program
        # In memory where that is possible: each add is synced to the disk.
        memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
        self.folder = tempfile.mkdtemp(prefix="slow-judge-", dir=memory)
        self.now = self.draw_now()
        self.practice = draw.random.choice([16, 30, 50])  # km/h
        self.sites = [Site(draw, f"s{place}", self.now, self.zone)
                      for place in range(SITES)]
        self.tanks = [Tank(draw, draw.random.choice(self.sites), number)
                      for number in range(count)]

    def draw_now(self):
        """Often in the week of a clock change; not always on a cell."""
        random = self.draw.random
        self.zone = random.choice(ZONES)
        near = [at for at, _ in changes(self.zone) if FIRST < at < LAST]
        now = random.randrange(FIRST, LAST)
        if near and self.draw.once_in(2):
            now = random.choice(near) - random.randrange(7 * DAY)
        return now // CELL * CELL + random.choice([0, 0, OFF_CELL])

    def write(self):
        parts = [SPRAYER, 'practice "wind-maximum" { limit = "at most '
                 f'{self.practice} km/h" source = "invented" }}\n']
        parts.extend(site.text() for site in self.sites)
        parts.extend(card.text() for tank in self.tanks for card in tank.cards)
        files = {"lull.conf": "".join(parts)}
        for site in self.sites:
            files[f"{site.name}.json"] = site.document()
        for name, text in files.items():
            path = pathlib.Path(self.folder, name)
            path.write_text(text, encoding="utf-8")

    def run(self, *words):
        reply = subprocess.run(
            [self.program, *words, "--json", "--config", "lull.conf",
             "--state", "state", "--now", stamp(self.now)], cwd=self.folder,
            capture_output=True, text=True, check=False)
        if reply.returncode not in (0, 1) or not reply.stdout:
            raise Fault(f"lull {' '.join(words)}: exit {reply.returncode}, "
                        f"{reply.stderr}")
        return json.loads(reply.stdout)

    def add(self, tank, cards):
        """The number of the job; None when no start could ever be open."""
        try:
            reply = self.run("add", tank.site.name,
                             *(card.name for card in cards),
                             "--area", f"{tank.area} ft2")
        except Fault as fault:
            if "not queued: " not in str(fault):
                raise
            return None
        return reply["jobs"][0]["job"]

    def set_up(self):
        self.write()
        self.run("refresh")
        for tank in self.tanks:
            for card in tank.cards:
                if card.name in tank.site.records and not self.draw.once_in(3):
                    at = self.now - self.draw.random.randrange(1, 12 * DAY)
                    job = self.add(tank, [card])
                    self.run("done", str(job), "--from", stamp(at))
                    tank.site.records[card.name].append(at)
        for tank in self.tanks:
            tank.id = self.add(tank, tank.cards)


class Comparison:
    def __init__(self):
        self.counts = collections.Counter()

    def tank(self, keeper, tank):
        rules = tank.rules(keeper.practice / 3.6)
        starts = range(round_up(keeper.now, CELL), tank.site.last, CELL)
        self.counts["jobs"] += 1
        if tank.id is None:
            self.refused(tank, rules, starts)
            return
        reply = keeper.run("windows", str(tank.id))["windows"]
        edges = [round_up(seconds(window["opens"]), CELL) - CELL
                 for window in reply]
        edges.extend(seconds(window["last-start"]) // CELL * CELL + CELL
                     for window in reply)
        if tank.site.easy or self.counts["jobs"] % WHOLE == 0:
            self.windows(tank, rules, starts, reply)
        # Starts by chance, and just inside and outside of windows.
        random_ = keeper.draw.random
        for _ in range(STARTS):
            time = random_.randrange(starts[0], tank.site.end, CELL)
            if edges and keeper.draw.once_in(2):
                time = random_.choice(edges) + random_.randrange(-1, 2) * CELL
            time = min(max(time, starts[0]), starts[-1])
            self.why(keeper, tank, rules, time)

    def why(self, keeper, tank, rules, time):
        reply = keeper.run("why", str(tank.id), "--at", stamp(time))
        theirs = {(rule["owner"], rule["rule"], rule["measure"]):
                  WORDS[rule["verdict"]] for rule in reply["rules"]}
        mine = {(owner, name, measure):
                rule.judge(time, tank.duration(), tank.site.place)
                for owner, name, measure, rule in rules}
        self.counts["starts"] += 1
        for answer in mine.values():
            self.counts[answer] += 1
        where = f"lull why {tank.id} --at {stamp(time)}"
        if mine.keys() != theirs.keys():
            raise Fault(f"{where}: other rules, {mine.keys() ^ theirs.keys()}")
        for key, answer in mine.items():
            if answer not in (EITHER, theirs[key]):
                raise Fault(f"{where}: {' '.join(key)} is {theirs[key]}, the "
                            f"slow judge says {answer}")
        total = verdict(mine.values())
        if total not in (EITHER, WORDS[reply["verdict"]]):
            raise Fault(f"{where}: {reply['verdict']}, the slow judge says "
                        f"{total}")

    def verdicts(self, tank, rules, starts):
        return [verdict([rule.judge(time, tank.duration(), tank.site.place)
                         for *_, rule in rules]) for time in starts]

    def refused(self, tank, rules, starts):
        self.counts["refused"] += 1
        if GO in self.verdicts(tank, rules, starts):
            raise Fault(f"lull add {tank.site.name}: not queued, but the slow "
                        "judge finds an open start")

    def windows(self, tank, rules, starts, reply):
        verdicts = self.verdicts(tank, rules, starts)
        if EITHER in verdicts:
            return
        theirs = [tuple(map(seconds, (window["opens"], window["last-start"],
                                      window["closes"])))
                  for window in reply]
        mine = [(starts[first], starts[last], starts[last] + tank.duration())
                for first, last in runs(verdicts, 0, len(starts))]
        self.counts["windows"] += len(mine)
        # From now on, where now lies between two starts.
        if mine and theirs and theirs[0][0] == starts[0] - CELL + OFF_CELL:
            mine[0] = (theirs[0][0], *mine[0][1:])
        if mine != theirs:
            raise Fault(f"lull windows {tank.id}: {theirs}, the slow judge "
                        f"says {mine}")


def main():
    program = os.path.abspath(sys.argv[1])
    jobs = int(os.environ.get("LULL_JOBS", JOBS))
    seed = int(os.environ.get("LULL_SEED", 4))
    print(f"1..1\n# LULL_SEED={seed} LULL_JOBS={jobs}")
    draw = Draw(random.Random(seed))
    comparison = Comparison()
    for first in range(0, jobs, BATCH):
        keeper = Keeper(draw, program, min(BATCH, jobs - first))
        try:
            keeper.set_up()
            for tank in keeper.tanks:
                comparison.tank(keeper, tank)
        except Fault as fault:
            print(f"# {fault}\n# --now {stamp(keeper.now)}, in "
                  f"{keeper.folder}\nnot ok 1 - lull and the slow judge agree")
            return 1
        shutil.rmtree(keeper.folder)
    counts = comparison.counts
    print(f"# rules: go {counts['g']}, no-go {counts['n']}, unknown "
          f"{counts['u']}, too near to tell {counts['?']}")
    print(f"ok 1 - lull and the slow judge agree: {counts['jobs']} jobs, "
          f"{counts['starts']} starts, {counts['windows']} windows, "
          f"{counts['refused']} tanks refused")
    return 0


if __name__ == "__main__":
    sys.exit(main())

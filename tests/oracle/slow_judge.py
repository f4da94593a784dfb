#!/usr/bin/python3
"""Holds the judge against a slow one (slow_judge_walk.py) that shares nothing
with it, on random weeks and tanks (slow_judge_week.py).

Argument: the path of the print_verdicts program. Prints TAP. LULL_CASES: how
many cases; LULL_SEED: another seed. At the first disagreement the case is cut
down and printed as print_verdicts reads it.
"""

import collections
import os
import random
import subprocess
import sys

sys.dont_write_bytecode = True
from slow_judge_walk import (  # noqa: E402
    CELL, EITHER, GO, MINUTE, Place, Rule, round_up, runs, verdict)
from slow_judge_week import Case, Draw, Job  # noqa: E402

CASES = 1000
BATCH = 100
SAMPLE = 24  # starts of a job: at random, and again where something changes
FOLDS = ["max", "min", "sum", "mean", "any"]
ANCHORS = ["start", "end", "midnight", "sunrise", "sunset"]
BOUNDS = ["at most", "below", "at least", "above"]


class Fault(Exception):
    """Where the two differ: a job of a case, a rule or none, and a text."""

    def __init__(self, case, job, rule, text):
        super().__init__(text)
        self.case, self.job, self.rule = case, job, rule


def ask(program, cases):
    """The reply's lines, job by job: verdicts, one for each rule, windows."""
    text = "".join(case.text() for case in cases)
    reply = subprocess.run([program], input=text, capture_output=True,
                           text=True, check=False)
    if reply.returncode != 0:
        raise SystemExit(f"Bail out! print_verdicts: {reply.returncode} "
                         f"{reply.stderr}")
    lines = iter(reply.stdout.split("\n"))
    return [[(next(lines), [next(lines) for _ in job.rules], next(lines))
             for job in case.jobs] for case in cases]


class Comparison:
    def __init__(self, chance):
        self.random = chance
        self.counts = collections.Counter()

    def compare(self, case, reply):
        for job, answer in zip(case.jobs, reply):
            total, lines, windows = answer
            starts = range(case.count)
            if not case.whole:
                starts = self.sample(total, lines)
            verdicts = {start: self.start(case, job, start, total, lines)
                        for start in starts}
            self.counts["jobs"] += 1
            if case.whole and EITHER not in verdicts.values():
                self.windows(case, job, verdicts, windows)

    def sample(self, total, lines):
        count = len(total)
        starts = {self.random.randrange(count) for _ in range(SAMPLE)}
        edges = [start for start in range(1, count)
                 if total[start] != total[start - 1]]
        line = self.random.choice(lines)
        edges.extend(start for start in range(1, count)
                     if line[start] != line[start - 1])
        for start in self.random.sample(edges, min(len(edges), SAMPLE // 2)):
            starts.update((start - 1, start))
        return starts

    def start(self, case, job, start, total, lines):
        """Judges one start and returns its verdict."""
        time = case.start + start * CELL
        answers = []
        for rule, line in zip(job.rules, lines):
            mine = rule.judge(time, job.duration, case.place)
            answers.append(mine)
            self.counts[mine] += 1
            if mine not in (EITHER, line[start]):
                raise Fault(case, job, rule,
                            f"start {start}: the program says {line[start]}, "
                            f"the slow judge {mine}")
        mine = verdict(answers)
        self.counts["starts"] += 1
        if mine not in (EITHER, total[start]):
            raise Fault(case, job, None,
                        f"start {start}, all rules: the program says "
                        f"{total[start]}, the slow judge {mine}")
        return mine

    def windows(self, case, job, verdicts, line):
        numbers = [int(word) for word in line.split()]
        found = list(zip(numbers[::2], numbers[1::2]))
        theirs = [(round_up(first, CELL), last // CELL * CELL)
                  for first, last in found]
        least = max(job.now, job.after)
        first = max(0, round_up(least - case.start, CELL) // CELL)
        most = min(case.end() - 1, job.before - job.duration)
        last = max(0, (most - case.start) // CELL + 1)
        mine = [(case.start + a * CELL, case.start + b * CELL)
                for a, b in runs(verdicts, first, last)]
        self.counts["windows"] += len(mine)
        if mine != theirs:
            raise Fault(case, job, None,
                        f"windows: the program says {theirs}, the slow judge "
                        f"{mine}")
        for (first, last), (begin, end) in zip(found, mine):
            self.edge(case, job, range(first, begin, MINUTE))
            self.edge(case, job, range(last, end, -MINUTE))
            if not least <= first <= last <= job.before - job.duration:
                raise Fault(case, job, None, f"window {first} to {last} does "
                            "not keep to the limits of the job")

    def edge(self, case, job, times):
        """The minutes by which a window reaches beyond the open cells."""
        for time in times:
            self.counts["minutes"] += 1
            if not all(rule.is_open_at(time, job.duration, case.place)
                       for rule in job.rules):
                raise Fault(case, job, None,
                            f"a window reaches to {time}, where the slow "
                            "judge lets no job start")


# ---- the report of a fault ----

def crop(case, job, rules, first, last):
    """The cells [first, last) of the columns that those rules ask."""
    small = Case(case.zone, case.start + first * CELL, last - first)
    small.whole = True
    copies = {None: None}
    for _, column in case.columns:
        if any(rule.column is column for rule in rules):
            small.add_column(column.cells[first:last], column.continuous,
                             column.most == 1)
            copies[column] = small.columns[-1][1]
    sun = case.place.sun
    if sun not in copies:
        small.add_column(sun.cells[first:last], True)
        copies[sun] = small.columns[-1][1]
    small.place = Place(small.calendar, copies[sun])
    small.jobs.append(Job(job.duration, [
        Rule(copies[rule.column], rule.fold, rule.exposure, rule.bound,
             rule.limit) for rule in rules], job.now, job.after, job.before))
    return small


def fault_of(program, case):
    try:
        comparison = Comparison(random.Random(1))
        comparison.compare(case, ask(program, [case])[0])
    except Fault as fault:
        return fault
    return None


def reduce(program, fault):
    """The fault in a smaller case."""
    case, job = fault.case, fault.job
    rules = [fault.rule] if fault.rule else job.rules
    first, last = 0, case.count
    best = fault
    for rule in list(rules):
        rest = [other for other in rules if other is not rule]
        found = rest and fault_of(program, crop(case, job, rest, first, last))
        if found:
            rules, best = rest, found
    step = case.count
    while step >= 1:
        for cut in ((first + step, last), (first, last - step)):
            if cut[0] >= cut[1]:
                continue
            found = fault_of(program, crop(case, job, rules, *cut))
            if found:
                best, (first, last) = found, cut
                break
        else:
            step //= 2
    return best


def describe(rule):
    (from_, early), (to, late) = rule.exposure
    return (f"{FOLDS[rule.fold]} from {ANCHORS[from_]}{early:+d} to "
            f"{ANCHORS[to]}{late:+d} {BOUNDS[rule.bound]} {rule.limit!r}")


def report(program, number, fault):
    print(f"# case {number}: {fault}")
    small = reduce(program, fault)
    print(f"# cut down: {small}")
    for rule in small.job.rules:
        print(f"# zone {small.case.zone}: {describe(rule)}")
    for line in small.case.text().splitlines():
        print(f"#   {line}")


def enough(counts):
    """Has each kind of answer been seen, so that agreeing says something?"""
    least = counts["starts"] // 50
    return all(counts[kind] > least for kind in "gnu") and \
        counts["windows"] > 0 and counts["minutes"] > 0 and \
        counts[EITHER] * 1000 < counts[GO]


def main():
    program = sys.argv[1]
    cases = int(os.environ.get("LULL_CASES", CASES))
    seed = int(os.environ.get("LULL_SEED", 4))
    print(f"1..2\n# LULL_SEED={seed} LULL_CASES={cases}")
    draw = Draw(random.Random(seed))
    comparison = Comparison(random.Random(seed))
    for first in range(0, cases, BATCH):
        batch = [draw.case() for _ in range(min(BATCH, cases - first))]
        for place, reply in enumerate(ask(program, batch)):
            number = first + place
            try:
                comparison.compare(batch[place], reply)
            except Fault as fault:
                report(program, number, fault)
                print("not ok 1 - the judge agrees with the slow judge")
                return 1
    counts = comparison.counts
    print(f"ok 1 - the judge agrees with the slow judge: {cases} cases, "
          f"{counts['jobs']} jobs, {counts['starts']} starts, "
          f"{counts['windows']} windows")
    print(f"# rules: go {counts['g']}, no-go {counts['n']}, unknown "
          f"{counts['u']}, too near to tell {counts[EITHER]}; minutes of "
          f"edges {counts['minutes']}")
    good = cases < CASES or enough(counts)
    print(f"{'ok' if good else 'not ok'} 2 - all kinds of answers came up")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())

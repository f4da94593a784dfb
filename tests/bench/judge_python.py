#!/usr/bin/env python3
"""The yardstick of bench_judge.c in plain Python, on a small sample.

Written as one would write it without thinking of speed: for each start and
each rule a walk over the exposure, None where nobody knows. Prints ns per
job-step.
"""

import math
import random
import sys
import time

CELLS, JOBS = 672, 10


def draw_site(draw):
    def wave(mean, swing):
        lift = draw.uniform(-swing / 2, swing / 2)
        return [mean + lift + swing * math.sin(i / 96 * 2 * math.pi - 2) +
                draw.uniform(-0.5, 0.5) for i in range(CELLS)]

    wet = [0] * CELLS
    for _ in range(draw.randrange(5)):
        start = draw.randrange(CELLS - 25)
        wet[start:start + 24] = [1] * 24
    return {"air": wave(22, 7), "wind": wave(3.5, 2),
            "gust": wave(5, 3)[:-48] + [None] * 48, "delta": wave(5, 4),
            "sun": wave(0, 60), "wet": wet, "dormant": [0] * CELLS}


def make_job(number):
    """(column, fold, from, to, is ceiling, edge); None: the calendar day."""
    shift = number % 5
    cells = 3 if number % 2 == 0 else 6
    dry = min(24, 4 << number % 4) * 4
    return [
        ("air", max, 0, cells + 1, True, 29.4 - shift),
        ("air", min, 0, cells + 1, False, 10 + shift),
        ("wind", min, 0, cells, False, 1.34),
        ("wind", max, 0, cells, True, 4.47 + shift / 10),
        ("gust", max, 0, cells, True, 6.7),
        ("delta", min, 0, cells, False, 2),
        ("delta", max, 0, cells, True, 8 + shift / 4),
        ("sun", min, 0, cells + 1, False, -0.83),
        ("wet", max, -8, 0, True, 0.5),
        ("wet", max, cells, cells + dry, True, 0.5),
        ("air", max, None, None, True, 32.2 - shift),
        ("dormant", max, 0, cells, True, 0.5),
    ]


def judge_rule(site, rule, start):
    """True, False, or None when it cannot be known."""
    column, fold, first, last, ceiling, edge = rule
    values = site[column]
    if first is None:
        first, last = start // 96 * 96, start // 96 * 96 + 96
    else:
        first, last = start + first, start + last
    known = [values[i] for i in range(max(0, first), min(CELLS, last))
             if values[i] is not None]
    if not known:
        return None
    value = fold(known)
    holds = value < edge if ceiling else value > edge
    if len(known) == last - first:
        return holds
    return None if holds else False


def judge(site, job):
    masks = []
    for start in range(CELLS):
        broken = unknown = 0
        for number, rule in enumerate(job):
            holds = judge_rule(site, rule, start)
            if holds is None:
                unknown |= 1 << number
            elif not holds:
                broken |= 1 << number
        masks.append((broken, unknown))
    return masks


def main():
    sites = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    draw = random.Random(1)
    jobs = [make_job(number) for number in range(JOBS)]
    opened = 0
    spent = 0.0
    for _ in range(sites):
        site = draw_site(draw)
        start = time.process_time()
        for job in jobs:
            opened += judge(site, job).count((0, 0))
        spent += time.process_time() - start
    steps = sites * JOBS * CELLS
    print(f"python {steps:.2e} job-steps, {opened / steps:.1%} open: "
          f"{spent / steps * 1e9:.0f} ns/job-step")


if __name__ == "__main__":
    main()

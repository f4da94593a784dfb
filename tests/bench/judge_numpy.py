#!/usr/bin/env python3
"""The yardstick of bench_judge.c written with numpy, site after site in batches.

Same 12 rules, same shapes (10 jobs a site, 672 starts), same kind of random
weather. Folds are shared by the jobs of a batch, as the C code shares them by
outlook, and computed with the same doubling trick. Prints ns per job-step.
"""

import sys
import time

import numpy as np

CELLS, RULES, JOBS, BATCH = 672, 12, 10, 100
AIR, WIND, GUST, DELTA, SUN, WET, DORMANT = range(7)
INF = np.float32(np.inf)


def draw_sites(count, random):
    """Seven columns of `count` sites, each (count, CELLS)."""
    day = np.sin(np.arange(CELLS) / 96 * 2 * np.pi - 2)

    def wave(mean, swing):
        lift = random.uniform(-swing / 2, swing / 2, (count, 1))
        noise = random.uniform(-0.5, 0.5, (count, CELLS))
        return (mean + lift + swing * day + noise).astype(np.float32)

    columns = [wave(22, 7), wave(3.5, 2), wave(5, 3), wave(5, 4), wave(0, 60)]
    columns[GUST][:, -48:] = np.nan
    wet = np.zeros((count, CELLS), np.float32)
    for site in range(count):
        for start in random.integers(0, CELLS - 25, random.integers(0, 5)):
            wet[site, start:start + 24] = 1
    return columns + [wet, np.zeros((count, CELLS), np.float32)]


def slide(values, start, length, join, empty):
    """Extreme over [i + start, i + start + length); outside is `empty`."""
    count = values.shape[1]
    left = max(0, -start)
    right = max(0, start + length)
    padded = np.full((values.shape[0], left + count + right), empty, np.float32)
    padded[:, left:left + count] = values
    width = 1
    while 2 * width <= length:
        padded = join(padded[:, :-width], padded[:, width:])
        width *= 2
    if width < length:
        padded = join(padded[:, :width - length], padded[:, length - width:])
    first = left + start
    return padded[:, first:first + count]


def fold(column, kind, start, length):
    """Low and high ends of the band, gaps as infinities."""
    gap = np.isnan(column)
    low = np.where(gap, -INF, column)
    high = np.where(gap, INF, column)
    join = np.maximum if kind == "max" else np.minimum
    return (slide(low, start, length, join, -INF),
            slide(high, start, length, join, INF))


def fold_day(column, kind):
    """The calendar day; this week's days begin at every 96th cell."""
    del kind
    high = np.maximum.reduceat(column, np.arange(0, CELLS, 96), axis=1)
    band = np.repeat(high, 96, axis=1)[:, :CELLS]
    return band, band


def make_job(number):
    """(column, fold, start, length, is ceiling, edge) for each rule."""
    shift = number % 5
    cells = 3 if number % 2 == 0 else 6
    dry = min(24, 4 << number % 4) * 4
    return [
        (AIR, "max", 0, cells + 1, True, 29.4 - shift),
        (AIR, "min", 0, cells + 1, False, 10 + shift),
        (WIND, "min", 0, cells, False, 1.34),
        (WIND, "max", 0, cells, True, 4.47 + shift / 10),
        (GUST, "max", 0, cells, True, 6.7),
        (DELTA, "min", 0, cells, False, 2),
        (DELTA, "max", 0, cells, True, 8 + shift / 4),
        (SUN, "min", 0, cells + 1, False, -0.83),
        (WET, "max", -8, 8, True, 0.5),
        (WET, "max", cells, dry, True, 0.5),
        (AIR, "day", 0, 96, True, 32.2 - shift),
        (DORMANT, "max", 0, cells, True, 0.5),
    ]


def judge(columns, jobs):
    """Masks of broken and unknown rules, a pair for each job."""
    bands, masks = {}, []
    for job in jobs:
        broken = np.zeros(columns[0].shape, np.uint32)
        unknown = np.zeros(columns[0].shape, np.uint32)
        for rule, (column, kind, start, length, ceiling, edge) in enumerate(job):
            key = (column, kind, start, length)
            if key not in bands:
                bands[key] = (fold_day(columns[column], kind) if kind == "day"
                              else fold(columns[column], *key[1:]))
            low, high = bands[key]
            edge = np.float32(edge)
            bit = np.uint32(1 << rule)
            near = low >= edge if ceiling else high <= edge
            far = high >= edge if ceiling else low <= edge
            broken |= near * bit
            unknown |= (far & ~near) * bit
        masks.append((broken, unknown))
    return masks


def main():
    sites = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    random = np.random.default_rng(1)
    columns = draw_sites(BATCH, random)
    jobs = [make_job(number) for number in range(JOBS)]
    opened = 0
    start = time.process_time()
    for _ in range(0, sites, BATCH):
        for broken, unknown in judge(columns, jobs):
            opened += int(np.count_nonzero((broken | unknown) == 0))
    spent = time.process_time() - start
    steps = sites // BATCH * BATCH * JOBS * CELLS
    print(f"numpy  {steps:.2e} job-steps, {opened / steps:.1%} open: "
          f"{spent / steps * 1e9:.1f} ns/job-step")


if __name__ == "__main__":
    main()

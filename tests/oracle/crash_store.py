#!/usr/bin/env python3
"""Kill a writing program at random instants: what it said was stored, is.

usage: crash_store.py CRASH_STORE        (TAP output)

A kill does not test power loss: the kernel still holds what was written. That
each commit is synced is asked of SQLite when the store is opened.
"""

import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time

ROUNDS = 60
ROUNDS_PER_FILE = 10  # early rounds kill the making of the file itself
SECONDS = 12  # stop killing after this long
NUMBERS_PER_ROUND = 100000
MOUNT_FAILED = 77

# What a table takes in place of a value, where that is not any text or number.
OTHER = {
    "replaces": "NULL",
    "verdict": "CASE verdict WHEN 'go' THEN 'no-go' ELSE 'go' END",
    "unit": "CASE unit WHEN 'g' THEN 'L' ELSE 'g' END",
    "rate_unit": "CASE rate_unit WHEN 'g/L' THEN 'L/L' ELSE 'g/L' END",
}
ANY = """CASE typeof({0}) WHEN 'text' THEN {0} || 'x'
    WHEN 'null' THEN 1 ELSE {0} + 1 END"""
CHANGED = {
    "record": "id = 4",
    "amount": "rate > 0 AND record = (SELECT max(record) FROM amount"
    " WHERE rate > 0)",
    "calibration": "id = 2",
    "solution": "id = 2",
}
KEYS = {"id", "record", "position"}


def start(binary, *arguments):
    return subprocess.Popen(
        [binary, *arguments],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )


def check(binary, path, acknowledged):
    """The program's answer and whether it was content."""
    done = subprocess.run(
        [binary, "check", path],
        input="".join(acknowledged),
        capture_output=True,
        text=True,
        timeout=60,
    )
    return done.returncode == 0, (done.stdout + done.stderr).strip()


def kill_one(binary, path, number, delay):
    """The whole lines that the writer wrote before it was killed."""
    writer = start(binary, "write", path, str(number))
    time.sleep(delay)
    writer.kill()
    output = writer.communicate()[0].decode()
    if writer.returncode != -9:
        raise RuntimeError(f"the writer ended by itself: {output[-300:]}")
    return output.splitlines(keepends=True)


def crash(binary, folder, seed):
    """(failures, rounds, acknowledged lines, rows found)."""
    chance = random.Random(seed)
    failures, lines, found = [], 0, 0
    began = time.monotonic()
    acknowledged, path = [], None
    for turn in range(ROUNDS):
        if time.monotonic() - began > SECONDS:
            return failures, turn, lines, found
        if turn % ROUNDS_PER_FILE == 0:
            acknowledged = []
            path = os.path.join(folder, f"store-{turn}.db")
        longest = 0.01 if turn % ROUNDS_PER_FILE < 3 else 0.12
        number = turn * NUMBERS_PER_ROUND + 1
        delay = chance.uniform(0, longest)
        try:
            fresh = kill_one(binary, path, number, delay)
        except RuntimeError as error:
            failures.append(f"round {turn}: {error}")
            continue
        acknowledged += fresh
        lines += len(fresh)
        good, answer = check(binary, path, acknowledged)
        if not good:
            failures.append(f"round {turn}, {delay:.4f} s: {answer}")
        elif turn % ROUNDS_PER_FILE == ROUNDS_PER_FILE - 1:
            found += int(answer)
    return failures, ROUNDS, lines, found


def forgery(binary, folder):
    """The check must see what is missing, or it proves nothing."""
    path = os.path.join(folder, "forged.db")
    kept = kill_one(binary, path, 1, 0.2)
    false = [
        "added 99999999 99999999\n",
        "finished 2 2\n",
        "entry 99999999 0\n",
        "corrected 3 1\n",
        "corrected 99999999 2\n",
        "caught 2 99999999\n",
        "caught 2 1\n",
        "made 2 99999999\n",
        "made 2 1\n",
    ]
    return kept and not any(check(binary, path, [line])[0] for line in false)


def change(path, table, column):
    """Change a value although the guards forbid it; they stand afterwards."""
    database = sqlite3.connect(path, isolation_level=None)
    guards = database.execute(
        "SELECT name, sql FROM sqlite_schema"
        " WHERE type = 'trigger' AND tbl_name = ?",
        [table],
    ).fetchall()
    for name, _ in guards:
        database.execute(f"DROP TRIGGER {name}")
    value = OTHER.get(column, ANY.format(column))
    database.execute(
        f"UPDATE {table} SET {column} = {value} WHERE {CHANGED[table]}"
    )
    for _, sql in guards:
        database.execute(sql)
    database.close()


def columns(path):
    """(table, column) of all that is compared."""
    database = sqlite3.connect(path)
    pairs = [
        (table, row[1])
        for table in CHANGED
        for row in database.execute(f"PRAGMA table_info({table})")
        if row[1] not in KEYS
    ]
    database.close()
    return pairs


def changes(binary, folder):
    """The columns whose change goes unseen."""
    path = os.path.join(folder, "whole.db")
    copy = os.path.join(folder, "changed.db")
    kill_one(binary, path, 1, 0.5)
    good, answer = check(binary, path, [])
    unseen = [] if good else [answer]
    for table, column in columns(path):
        shutil.copyfile(path, copy)
        change(copy, table, column)
        if check(binary, copy, [])[0]:
            unseen.append(f"{table}.{column}")
    return unseen


def crowd(binary, folder):
    """Several programs make the same file at once; none may fail."""
    answers = []
    for turn in range(20):
        path = os.path.join(folder, f"crowd-{turn}.db")
        runs = [start(binary, "check", path) for _ in range(8)]
        answers += [(run.communicate()[0].decode(), run) for run in runs]
    return [text for text, run in answers if run.returncode != 0]


def full_disk(binary, folder):
    """None when nothing may be mounted here, else (good, answer)."""
    script = (
        'mount -t tmpfs -o size=900k lull "$1" || exit 77\n'
        'exec "$2" full "$1"'
    )
    mounted = os.path.join(folder, "small")
    os.mkdir(mounted)
    if shutil.which("unshare") is None:
        return None
    done = subprocess.run(
        ["unshare", "-r", "-m", "sh", "-c", script, "sh", mounted, binary],
        capture_output=True,
        text=True,
        timeout=60,
    )
    answer = (done.stdout + done.stderr).strip()
    refused = done.returncode == MOUNT_FAILED or "unshare" in done.stderr
    return None if refused else (done.returncode == 0, answer)


def say(number, good, title, remarks=()):
    print(f"{'ok' if good else 'not ok'} {number} - {title}")
    for remark in remarks:
        for line in remark.splitlines():
            print(f"# {line}")


def main():
    binary = os.path.abspath(sys.argv[1])
    seed = int(os.environ.get("LULL_SEED", time.time_ns() % 1000000))
    print("1..5")
    with tempfile.TemporaryDirectory(prefix="lull-crash-") as folder:
        say(1, forgery(binary, folder), "the check sees what is missing")
        failures, rounds, lines, found = crash(binary, folder, seed)
        summary = (
            f"seed {seed}: {rounds} kills, {lines} acknowledgements, "
            f"{found} rows found"
        )
        good = not failures and rounds >= 20 and lines > 0
        title = "a killed writer loses nothing that it acknowledged"
        say(2, good, title, [summary, *failures[:10]])
        failures = crowd(binary, folder)
        say(3, not failures, "many programs may make the file", failures)
        failures = changes(binary, folder)
        say(4, not failures, "the check sees each changed value", failures)
        title = "a full disk loses nothing, and room makes it write again"
        outcome = full_disk(binary, folder)
        if outcome is None:
            say(5, True, f"{title} # SKIP nothing may be mounted here")
        else:
            say(5, outcome[0], title, [outcome[1]])


if __name__ == "__main__":
    main()

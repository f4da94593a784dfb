"""Test Anything Protocol for the outside checks: one line per check."""
import json
import os
import subprocess
import sys


class Tap:
    def __init__(self):
        self.count = self.failed = 0

    def check(self, passed, name, *details):
        self.count += 1
        self.failed += 0 if passed else 1
        print("%sok %d - %s" % ("" if passed else "not ", self.count, name))
        if not passed:
            for detail in details:
                for line in str(detail).splitlines() or [""]:
                    print("#   " + line)
        sys.stdout.flush()
        return passed

    def same(self, got, wanted, name):
        return self.check(got == wanted, name,
                          "got    " + repr(got), "wanted " + repr(wanted))

    def finish(self):
        """Prints the plan; the exit code."""
        print("1..%d" % self.count)
        return 1 if self.failed or not self.count else 0


def skip_all(why):
    print("1..0 # SKIP " + why)
    return 0


def printed(printer, *arguments):
    return subprocess.run([printer, *arguments], check=True, timeout=60,
                          stdout=subprocess.PIPE).stdout


def read_calendar(source):
    """Bytes and expected entries (None for a plain file) of a printer or .ics."""
    if source.endswith(".ics"):
        with open(source, "rb") as file:
            return file.read(), None
    source = os.path.abspath(source)
    lines = printed(source, "--expect").decode("utf-8").splitlines()
    return printed(source), [json.loads(line) for line in lines]

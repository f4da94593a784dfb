#!/usr/bin/python3
"""Are these conditions true? Each argument is a Python expression; those that
are not true are shown, and the exit code is 1.

What they can name, besides Python's own:

    out                 the JSON document in ./out
    read(path)          the JSON document in a file
    t(text)             a time; ISO 8601 with an offset or Z
    h(n), m(n)          a span of hours, of minutes
    hours(path, layer)  [(from, to, value)] of a forecast document
    step(start, end)    every quarter of an hour from start up to end
    open_at(windows, time)      is the time a start inside one of them?
    rule(name, measure)         the rule of `out` with that name (and measure)
    events(path)        the entries of a calendar, by UID
    slots(path)         those that are slots: neither keep-off nor notices
    notices(path)       those that say that a slot moved
    asked(name)         the requests for a document, out of ./last.log
"""
import datetime
import json
import re
import sys


def t(text):
    return datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))


def h(number):
    return datetime.timedelta(hours=number)


def m(number):
    return datetime.timedelta(minutes=number)


def read(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def hours(path, layer):
    spans = []
    for item in read(path)["properties"][layer]["values"]:
        start, length = item["validTime"].split("/")
        days, rest = re.fullmatch(
            r"P(?:(\d+)D)?(?:T(\d+)H)?", length).groups(default="0")
        first = t(start)
        spans.append((first, first + h(24 * int(days) + int(rest)),
                      item["value"]))
    return spans


def step(start, end):
    while start < end:
        yield start
        start += m(15)


def open_at(windows, time):
    return any(t(window["opens"]) <= time <= t(window["last-start"])
               for window in windows)


def rule(name, measure=None):
    found = [item for item in read("out")["rules"] if item["rule"] == name
             and measure in (None, item["measure"])]
    if len(found) != 1:
        raise LookupError("%d rules %s" % (len(found), name))
    return found[0]


def events(path):
    import icalendar
    with open(path, "rb") as file:
        calendar = icalendar.Calendar.from_ical(file.read())
    return {str(event["UID"]): event for event in calendar.walk("VEVENT")}


def of_kind(path, wanted):
    # CATEGORIES is a list of one word here.
    return [event for event in events(path).values()
            if event["CATEGORIES"].to_ical().decode() in wanted]


def slots(path):
    # An entry for a whole day says that there is no slot.
    return [event for event in of_kind(path, ("GO", "NO-GO", "UNKNOWN"))
            if isinstance(event["DTSTART"].dt, datetime.datetime)]


def notices(path):
    return of_kind(path, ("MOVED",))


def asked(name):
    with open("last.log", encoding="utf-8") as file:
        entries = [json.loads(line) for line in file]
    return [one for one in entries if one.get("path") == "/file/" + name]


class Names(dict):
    """`out` is read only where a condition names it."""

    def __missing__(self, name):
        if name == "out":
            return read("out")
        raise KeyError(name)


def main(conditions):
    failed = 0
    for condition in conditions:
        try:
            true = eval("(%s)" % condition, Names(globals()))
        except Exception as fault:
            true = False
            print("%s: %s" % (type(fault).__name__, fault))
        if not true:
            failed = 1
            print("FAILED: not so: " + " ".join(condition.split()))
    return failed


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

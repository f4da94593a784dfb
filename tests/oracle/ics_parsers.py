#!/usr/bin/env python3
"""Two independent parsers read the calendar; do they see what was meant?

    ics_parsers.py PRINTER|FILE.ics

With the printer, both views are compared with what it was asked to write
(print_calendar --expect); with a file, with each other. Needs the Python
modules icalendar and vobject.
"""
import datetime
import re
import sys

sys.dont_write_bytecode = True
from ics_tap import Tap, printed, read_calendar, skip_all  # noqa: E402

EPOCH = datetime.datetime(1970, 1, 1, tzinfo=datetime.timezone.utc)


def number(moment):
    """UTC seconds of a time, days since 1970 of a date."""
    if isinstance(moment, datetime.datetime):
        return int((moment - EPOCH).total_seconds())
    return (moment - EPOCH.date()).days


def span(start, end):
    return {"all_day": not isinstance(start, datetime.datetime),
            "from": number(start), "to": number(end)}


def categories(value):
    """icalendar gives one value, or a list when there are several lines."""
    if value is None:
        return []
    lines = value if isinstance(value, list) else [value]
    return [str(text) for line in lines for text in line.cats]


def view_icalendar(data):
    import icalendar
    calendar = icalendar.Calendar.from_ical(data)
    faults = [part.errors for part in calendar.walk() if part.errors]
    events = []
    for event in calendar.walk("VEVENT"):
        seen = {
            "uid": str(event["UID"]), "summary": str(event["SUMMARY"]),
            "description": str(event.get("DESCRIPTION", "")),
            "status": str(event["STATUS"]), "sequence": int(event["SEQUENCE"]),
            "revised": number(event["DTSTAMP"].dt),
            "changed": number(event["LAST-MODIFIED"].dt),
            "categories": categories(event.get("CATEGORIES")),
            "triggers": [int(alarm["TRIGGER"].dt.total_seconds())
                         for alarm in event.walk("VALARM")],
            **span(event["DTSTART"].dt, event["DTEND"].dt),
        }
        if "GEO" in event:
            seen["place"] = [event["GEO"].latitude, event["GEO"].longitude]
        events.append(seen)
    return str(calendar.get("NAME", "")), events, faults


def one(component, name, default=""):
    found = component.contents.get(name)
    return found[0].value if found else default


def stamp(value):
    """vobject 0.9 leaves LAST-MODIFIED of some components as text."""
    if isinstance(value, str):
        value = datetime.datetime.strptime(value, "%Y%m%dT%H%M%S%z")
    return number(value)


def view_vobject(data):
    import vobject
    calendar = vobject.readOne(data.decode("utf-8"))
    calendar.validate(raiseException=True)
    events = []
    for event in calendar.contents.get("vevent", []):
        seen = {
            "uid": one(event, "uid"), "summary": one(event, "summary"),
            "description": one(event, "description"),
            "status": one(event, "status"),
            "sequence": int(one(event, "sequence")),
            "revised": stamp(one(event, "dtstamp")),
            "changed": stamp(one(event, "last-modified")),
            "categories": [text for line in event.contents.get("categories", [])
                           for text in line.value],
            "triggers": [int(one(alarm, "trigger").total_seconds())
                         for alarm in event.contents.get("valarm", [])],
            **span(one(event, "dtstart"), one(event, "dtend")),
        }
        if "geo" in event.contents:
            seen["place"] = [float(n) for n in one(event, "geo").split(";")]
        events.append(seen)
    return one(calendar, "name"), events, []


def undecidable(who, text):
    """icalendar 4.0 undoes the escapes one kind after the other, so that a
    backslash before n, comma, semicolon or backslash comes out wrong. Such
    texts are left to vobject, which reads them as RFC 5545 says."""
    return (who.startswith("icalendar") and isinstance(text, str)
            and re.search(r"\\[nN,;\\]", text) is not None)


def compare(tap, who, seen, wanted):
    tap.same([e["uid"] for e in seen], [e["uid"] for e in wanted],
             who + ": all entries, in order")
    for got, want in zip(seen, wanted):
        want = dict(want, changed=want["revised"])
        differences = ["%s: got %r, wanted %r" % (key, got.get(key), want.get(key))
                       for key in sorted(set(got) | set(want))
                       if got.get(key) != want.get(key)
                       and not undecidable(who, want.get(key))]
        tap.check(not differences, "%s: %s" % (who, want["uid"]), *differences)


def check_empty(tap, printer):
    """Both read a calendar without entries as just that."""
    data = printed(printer, "--empty")
    for who, view in (("icalendar", view_icalendar), ("vobject", view_vobject)):
        _, events, faults = view(data)
        tap.same((events, faults), ([], []), who + ": no entries, no faults")


def main(source):
    try:
        import icalendar  # noqa: F401
        import vobject  # noqa: F401
    except ImportError as missing:
        return skip_all(str(missing))
    tap = Tap()
    data, wanted = read_calendar(source)
    name, events, faults = view_icalendar(data)
    other_name, others, _ = view_vobject(data)
    tap.same(faults, [], "icalendar: no faults")
    tap.same(name, other_name, "both read the same name")
    if wanted is None:
        compare(tap, "icalendar as vobject", events,
                [dict(event) for event in others])
        return tap.finish()
    tap.check(len(wanted) > 20, "there are entries to compare")
    compare(tap, "icalendar", events, wanted)
    compare(tap, "vobject", others, wanted)
    check_empty(tap, source)
    tap.check(read_calendar(source)[0] == data, "the same bytes when written again")
    return tap.finish()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))

#!/usr/bin/env python3
"""Is the linter worth its name? One good calendar, many with a single fault.

    ics_lint_mutants.py PRINTER

Every fault must be flagged, by a sentence about that fault; the good calendars
must pass: ours, and a journal that is written out here. The first 24 are faults that calendar libraries and servers were
seen to let through, each at least one of them.
"""
import re
import sys

sys.dont_write_bytecode = True
import ics_lint  # noqa: E402 (no __pycache__ in the tree)
from ics_tap import Tap, read_calendar  # noqa: E402


def find(data, name, part):
    """The first whole line of that name inside the first such component."""
    start = data.index(b"BEGIN:" + part)
    return re.compile(rb"^" + name + rb"[:;][^\r]*\r\n", re.M).search(data, start)


def replace(name, line, part=b"VEVENT"):
    def mutate(data):
        match = find(data, name, part)
        return data[:match.start()] + line + data[match.end():]
    return mutate


def drop(name, part=b"VEVENT"):
    return replace(name, b"", part)


def insert(line, part=b"VEVENT"):
    """A further line, before the one that every such component has."""
    anchor = {b"VEVENT": b"STATUS", b"VALARM": b"ACTION", b"VCALENDAR": b"PRODID",
              b"VJOURNAL": b"STATUS"}

    def mutate(data):
        at = find(data, anchor[part], part).start()
        return data[:at] + line + data[at:]
    return mutate


def swap(old, new):
    def mutate(data):
        at = data.index(old)
        return data[:at] + new + data[at + len(old):]
    return mutate


def tear(data):
    """Folds inside the first character of more than one byte."""
    at = re.search(rb"[\xc0-\xff][\x80-\xbf]", data).start() + 1
    return data[:at] + b"\r\n " + data[at:]


def cut_end(data):
    return data[:data.rindex(b"\r\n")]


def repeat_event(data):
    at = data.index(b"BEGIN:VEVENT")
    end = data.index(b"END:VEVENT\r\n") + len(b"END:VEVENT\r\n")
    event = re.sub(rb"-a(\d)\r\n", rb"-b\1\r\n", data[at:end])
    return data[:end] + event + data[end:]


ALARM, CALENDAR = b"VALARM", b"VCALENDAR"

MUTANTS = [
    ("no DTSTAMP", drop(b"DTSTAMP"), "VEVENT without DTSTAMP"),
    ("no UID", drop(b"UID"), "VEVENT without UID"),
    ("two SUMMARY", insert(b"SUMMARY:again\r\n"), "SUMMARY more than once"),
    ("DTEND before DTSTART", replace(b"DTEND", b"DTEND:20200101T000000Z\r\n"),
     "not later"),
    ("DTEND and DURATION", insert(b"DURATION:PT1H\r\n"), "DTEND and DURATION"),
    ("line of 300 octets", insert(b"COMMENT:" + b"x" * 292 + b"\r\n"), "300 octets"),
    ("bare LF", swap(b"STATUS:CONFIRMED\r\n", b"STATUS:CONFIRMED\n"), "bare CR or LF"),
    ("not UTF-8", replace(b"SUMMARY", b"SUMMARY:caf\xe9\r\n"), "not UTF-8"),
    ("nothing escaped", replace(b"SUMMARY", b"SUMMARY:a;b,c\\q\r\n"), "not escaped"),
    ("unknown TZID", replace(b"DTSTART", b"DTSTART;TZID=Nowhere/None:20260302T070000\r\n"),
     "without a VTIMEZONE"),
    ("alarm without TRIGGER", drop(b"TRIGGER", ALARM), "VALARM without TRIGGER"),
    ("alarm without DESCRIPTION", drop(b"DESCRIPTION", ALARM),
     "VALARM without DESCRIPTION"),
    ("month 13", replace(b"DTSTART", b"DTSTART:20261301T070000Z\r\n"), "no such time"),
    ("unknown FREQ", insert(b"RRULE:FREQ=NEVER\r\n"), "FREQ"),
    ("no PRODID", drop(b"PRODID", CALENDAR), "VCALENDAR without PRODID"),
    ("no VERSION", drop(b"VERSION", CALENDAR), "VCALENDAR without VERSION"),
    ("control character", replace(b"SUMMARY", b"SUMMARY:a\x07b\r\n"), "control"),
    ("SEQUENCE is a word", replace(b"SEQUENCE", b"SEQUENCE:abc\r\n"), "not an integer"),
    ("DATE start, DATE-TIME end", replace(b"DTSTART", b"DTSTART;VALUE=DATE:20260302\r\n"),
     "another type"),
    ("unknown STATUS", replace(b"STATUS", b"STATUS:MAYBE\r\n"), "STATUS MAYBE"),
    ("no END:VEVENT", swap(b"END:VEVENT\r\n", b""), "without END"),
    ("DTSTAMP local", replace(b"DTSTAMP", b"DTSTAMP:20260301T120000\r\n"), "not in UTC"),
    ("TRIGGER is a word", replace(b"TRIGGER", b"TRIGGER:soon\r\n", ALARM),
     "TRIGGER is not a duration"),
    ("TZID on a UTC value", replace(b"DTSTART", b"DTSTART;TZID=/x:20260302T070000Z\r\n"),
     "TZID on a UTC value"),

    ("bare CR", swap(b"STATUS:CONFIRMED\r\n", b"STATUS:CONFIRMED\r\r\n"), "bare CR or LF"),
    ("CR LF torn by a fold", swap(b"STATUS:CONFIRMED\r\n", b"STATUS:CONFIRMED\r\r\n \n"),
     "bare CR or LF"),
    ("76 octets", insert(b"COMMENT:" + b"x" * 68 + b"\r\n"), "76 octets"),
    ("fold inside a character", tear, "folded inside a character"),
    ("no CRLF at the end", cut_end, "last line"),
    ("empty line", insert(b"\r\n"), "empty line"),
    ("DEL", replace(b"SUMMARY", b"SUMMARY:a\x7fb\r\n"), "control"),
    ("comma not escaped", replace(b"SUMMARY", b"SUMMARY:a,b\r\n"), "not escaped"),
    ("semicolon not escaped", replace(b"DESCRIPTION", b"DESCRIPTION:a;b\r\n"),
     "not escaped"),
    ("unknown escape", replace(b"SUMMARY", b"SUMMARY:a\\qb\r\n"), "unknown escape"),
    ("backslash at the end", replace(b"SUMMARY", b"SUMMARY:a\\\\\\\r\n"), "unknown escape"),
    ("quote in a parameter", replace(b"SUMMARY", b"SUMMARY;X-A=a\"b:c\r\n"), "malformed"),
    ("no colon", insert(b"COMMENT\r\n"), "malformed"),
    ("no name", insert(b":value\r\n"), "no property name"),
    ("two VERSION", insert(b"VERSION:2.0\r\n", CALENDAR), "VERSION more than once"),
    ("VERSION 1.0", replace(b"VERSION", b"VERSION:1.0\r\n", CALENDAR), "not 2.0"),
    ("METHOD", insert(b"METHOD:PUBLISH\r\n", CALENDAR), "METHOD"),
    ("two UID", insert(b"UID:other\r\n"), "UID more than once"),
    ("UID is empty", replace(b"UID", b"UID:\r\n"), "UID is empty"),
    ("one UID for two events", repeat_event, "UID as in line"),
    ("no DTSTART", drop(b"DTSTART"), "VEVENT without DTSTART"),
    ("LAST-MODIFIED later than DTSTAMP",
     replace(b"LAST-MODIFIED", b"LAST-MODIFIED:20260301T120001Z\r\n"),
     "DTSTAMP is not LAST-MODIFIED"),
    ("no LAST-MODIFIED", drop(b"LAST-MODIFIED"), "VEVENT without LAST-MODIFIED"),
    ("LAST-MODIFIED local",
     replace(b"LAST-MODIFIED", b"LAST-MODIFIED:20260302T070000\r\n", CALENDAR),
     "not in UTC"),
    ("DTEND equal to DTSTART", replace(b"DTEND", b"DTEND:20260302T070000Z\r\n"),
     "not later"),
    ("30 February", replace(b"DTSTART", b"DTSTART:20260230T070000Z\r\n"), "no such time"),
    ("hour 25", replace(b"DTEND", b"DTEND:20260302T250000Z\r\n"), "no such time"),
    ("date without VALUE", swap(b"DTSTART;VALUE=DATE:", b"DTSTART:"), "VALUE type"),
    ("SEQUENCE below 0", replace(b"SEQUENCE", b"SEQUENCE:-1\r\n"), "out of range"),
    ("two STATUS", insert(b"STATUS:CONFIRMED\r\n"), "STATUS more than once"),
    ("STATUS of a to-do", replace(b"STATUS", b"STATUS:COMPLETED\r\n"), "STATUS COMPLETED"),
    ("TRANSP:OPAQUE", replace(b"TRANSP", b"TRANSP:OPAQUE\r\n"), "TRANSPARENT"),
    ("GEO with a comma", replace(b"GEO", b"GEO:29.4,-98.4\r\n"), "GEO"),
    ("latitude 91", replace(b"GEO", b"GEO:91.0;0.0\r\n"), "GEO is out"),
    ("two ACTION", insert(b"ACTION:AUDIO\r\n", ALARM), "ACTION more than once"),
    ("alarm without ACTION", drop(b"ACTION", ALARM), "VALARM without ACTION"),
    ("two TRIGGER", insert(b"TRIGGER:PT0S\r\n", ALARM), "TRIGGER more than once"),
    ("empty TRIGGER duration", replace(b"TRIGGER", b"TRIGGER:-PT\r\n", ALARM),
     "TRIGGER is not a duration"),
    ("absolute TRIGGER, local time",
     replace(b"TRIGGER", b"TRIGGER;VALUE=DATE-TIME:20260302T060000\r\n", ALARM),
     "not a UTC time"),
    ("e-mail alarm without ATTENDEE", replace(b"ACTION", b"ACTION:EMAIL\r\n", ALARM),
     "VALARM without ATTENDEE"),
    ("REPEAT without DURATION", insert(b"REPEAT:2\r\n", ALARM), "without the other"),
    ("one UID for two alarms", swap(b"-a2\r\n", b"-a1\r\n"), "UID as in line"),
    ("alarm without UID", drop(b"UID", ALARM), "VALARM without UID"),
    ("ACKNOWLEDGED local", insert(b"ACKNOWLEDGED:20260302T060000\r\n", ALARM),
     "not in UTC"),
    ("REFRESH-INTERVAL without VALUE",
     replace(b"REFRESH-INTERVAL", b"REFRESH-INTERVAL:PT1H\r\n", CALENDAR),
     "without VALUE=DURATION"),
    ("REFRESH-INTERVAL of nothing",
     replace(b"REFRESH-INTERVAL", b"REFRESH-INTERVAL;VALUE=DURATION:PT0S\r\n", CALENDAR),
     "not positive"),
    ("two REFRESH-INTERVAL",
     insert(b"REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n", CALENDAR), "more than once"),
    ("SOURCE without VALUE", insert(b"SOURCE:https://lull.example/a.ics\r\n", CALENDAR),
     "without VALUE=URI"),
    ("COLOR as a number", insert(b"COLOR:#00ff00\r\n"), "COLOR"),
    ("TZID on a date", insert(b"RDATE;VALUE=DATE;TZID=/x:20260303\r\n"), "or a date"),
    ("property after the calendar", lambda data: data + b"X-A:1\r\n", "outside"),
    ("two calendars", lambda data: data + data, "2 calendars"),
    ("no bytes", lambda data: b"", "0 calendars"),
]


JOURNAL = b"\r\n".join([
    b"BEGIN:VCALENDAR", b"VERSION:2.0", b"PRODID:-//lull//test//EN",
    b"BEGIN:VJOURNAL", b"UID:record-1", b"DTSTAMP:20260311T140000Z",
    b"LAST-MODIFIED:20260311T140000Z", b"SEQUENCE:1",
    b"CREATED:20260310T140000Z", b"DTSTART:20260310T130000Z",
    b"SUMMARY:front: warm 9 fl oz", b"DESCRIPTION:wind 5 mph\\, calm",
    b"STATUS:CANCELLED", b"CATEGORIES:RECORD",
    b"RELATED-TO;RELTYPE=SIBLING:record-2", b"END:VJOURNAL", b"END:VCALENDAR",
    b""])

IN_JOURNAL = b"VJOURNAL"

JOURNAL_MUTANTS = [
    ("journal without UID", drop(b"UID", IN_JOURNAL), "VJOURNAL without UID"),
    ("journal without DTSTAMP", drop(b"DTSTAMP", IN_JOURNAL),
     "VJOURNAL without DTSTAMP"),
    ("journal without DTSTART", drop(b"DTSTART", IN_JOURNAL),
     "VJOURNAL without DTSTART"),
    ("journal without SUMMARY", drop(b"SUMMARY", IN_JOURNAL),
     "VJOURNAL without SUMMARY"),
    ("journal with DTEND", insert(b"DTEND:20260310T140000Z\r\n", IN_JOURNAL),
     "DTEND in a VJOURNAL"),
    ("journal with GEO", insert(b"GEO:29.5;-98.25\r\n", IN_JOURNAL),
     "GEO in a VJOURNAL"),
    ("journal that takes time", insert(b"TRANSP:OPAQUE\r\n", IN_JOURNAL),
     "TRANSP in a VJOURNAL"),
    ("journal with an alarm",
     insert(b"BEGIN:VALARM\r\nEND:VALARM\r\n", IN_JOURNAL),
     "VALARM in a VJOURNAL"),
    ("STATUS of an event", replace(b"STATUS", b"STATUS:CONFIRMED\r\n", IN_JOURNAL),
     "STATUS CONFIRMED"),
    ("two CREATED", insert(b"CREATED:20260310T140000Z\r\n", IN_JOURNAL),
     "CREATED more than once"),
    ("CREATED local", replace(b"CREATED", b"CREATED:20260310T140000\r\n", IN_JOURNAL),
     "not in UTC"),
    ("journal revised at two times",
     replace(b"LAST-MODIFIED", b"LAST-MODIFIED:20260311T150000Z\r\n", IN_JOURNAL),
     "DTSTAMP is not LAST-MODIFIED"),
    ("unknown relation",
     replace(b"RELATED-TO", b"RELATED-TO;RELTYPE=COUSIN:record-2\r\n", IN_JOURNAL),
     "RELTYPE COUSIN"),
    ("related to nothing", replace(b"RELATED-TO", b"RELATED-TO:\r\n", IN_JOURNAL),
     "RELATED-TO nothing"),
    ("one UID for two journals",
     lambda data: data.replace(b"END:VCALENDAR", data[data.index(b"BEGIN:VJ"):
                               data.index(b"END:VCALENDAR")] + b"END:VCALENDAR"),
     "UID as in line"),
]


def check_all(tap, good, mutants):
    for name, mutate, sentence in mutants:
        bad = mutate(good)
        findings = ics_lint.lint(bad)
        flagged = any(sentence in finding for finding in findings)
        tap.check(bad != good and flagged, "flags: " + name,
                  "wanted a finding with: " + sentence, *findings)


def main(printer):
    tap = Tap()
    good, _ = read_calendar(printer)
    tap.same(ics_lint.lint(good), [], "the good calendar passes")
    check_all(tap, good, MUTANTS)
    tap.same(ics_lint.lint(JOURNAL), [], "the good journal passes")
    check_all(tap, JOURNAL, JOURNAL_MUTANTS)
    return tap.finish()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))

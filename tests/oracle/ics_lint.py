#!/usr/bin/env python3
"""A linter for calendars on the wire: RFC 5545, RFC 7986 and RFC 9074.

It reads bytes, not a library's idea of them, and shares no code with what it
checks. Use:

    ics_lint.py [--allow-empty] FILE...   findings on stdout, exit 1 with any
    lint(data, allow_empty=False)         list of "line N: sentence"

A calendar without components breaks RFC 5545 section 3.6; ours is empty when
nothing is queued, so `allow_empty` lets that one fault pass.
"""
import datetime
import re
import sys

sys.dont_write_bytecode = True
import ics_wire  # noqa: E402 (no __pycache__ in the tree)

TEXT = set("""ACTION CLASS COMMENT CONTACT DESCRIPTION LOCATION NAME PRODID
RELATED-TO STATUS SUMMARY TRANSP TZID TZNAME UID VERSION X-WR-CALNAME
X-WR-CALDESC X-PUBLISHED-TTL""".split())
TEXT_LISTS = {"CATEGORIES", "RESOURCES"}
UTC_ONLY = {"DTSTAMP", "CREATED", "LAST-MODIFIED", "COMPLETED", "ACKNOWLEDGED"}
TIMES = UTC_ONLY | {"DTSTART", "DTEND", "DUE", "RECURRENCE-ID", "EXDATE", "RDATE"}
URIS = {"URL", "SOURCE", "TZURL"}

ONCE = {
    "VCALENDAR": """VERSION PRODID CALSCALE METHOD UID LAST-MODIFIED URL
        REFRESH-INTERVAL SOURCE COLOR X-WR-CALNAME X-PUBLISHED-TTL""",
    "VEVENT": """UID DTSTAMP DTSTART DTEND DURATION CLASS CREATED DESCRIPTION
        GEO LAST-MODIFIED LOCATION ORGANIZER PRIORITY SEQUENCE STATUS SUMMARY
        TRANSP URL RECURRENCE-ID COLOR RRULE""",
    "VTODO": """UID DTSTAMP CLASS COMPLETED CREATED DESCRIPTION DTSTART GEO
        LAST-MODIFIED LOCATION ORGANIZER PERCENT-COMPLETE PRIORITY
        RECURRENCE-ID SEQUENCE STATUS SUMMARY URL DUE DURATION COLOR RRULE""",
    "VJOURNAL": """UID DTSTAMP CLASS CREATED DTSTART LAST-MODIFIED ORGANIZER
        RECURRENCE-ID SEQUENCE STATUS SUMMARY URL COLOR RRULE""",
    "VALARM": """UID ACTION TRIGGER DESCRIPTION SUMMARY DURATION REPEAT
        ACKNOWLEDGED""",
}
ONCE = {name: words.split() for name, words in ONCE.items()}

STATUS = {
    "VEVENT": {"TENTATIVE", "CONFIRMED", "CANCELLED"},
    "VTODO": {"NEEDS-ACTION", "COMPLETED", "IN-PROCESS", "CANCELLED"},
    "VJOURNAL": {"DRAFT", "FINAL", "CANCELLED"},
}

# What section 3.6.3 does not list: a journal takes no time and has no place.
NOT_IN_JOURNALS = set("""COMPLETED DTEND DUE DURATION GEO LOCATION
PERCENT-COMPLETE PRIORITY RESOURCES TRANSP""".split())

RELATIONS = {"PARENT", "CHILD", "SIBLING"}

# The colour names of CSS3 (RFC 7986 section 5.9 refers to them).
COLORS = set("""aliceblue antiquewhite aqua aquamarine azure beige bisque black
blanchedalmond blue blueviolet brown burlywood cadetblue chartreuse chocolate
coral cornflowerblue cornsilk crimson cyan darkblue darkcyan darkgoldenrod
darkgray darkgreen darkgrey darkkhaki darkmagenta darkolivegreen darkorange
darkorchid darkred darksalmon darkseagreen darkslateblue darkslategray
darkslategrey darkturquoise darkviolet deeppink deepskyblue dimgray dimgrey
dodgerblue firebrick floralwhite forestgreen fuchsia gainsboro ghostwhite gold
goldenrod gray green greenyellow grey honeydew hotpink indianred indigo ivory
khaki lavender lavenderblush lawngreen lemonchiffon lightblue lightcoral
lightcyan lightgoldenrodyellow lightgray lightgreen lightgrey lightpink
lightsalmon lightseagreen lightskyblue lightslategray lightslategrey
lightsteelblue lightyellow lime limegreen linen magenta maroon
mediumaquamarine mediumblue mediumorchid mediumpurple mediumseagreen
mediumslateblue mediumspringgreen mediumturquoise mediumvioletred midnightblue
mintcream mistyrose moccasin navajowhite navy oldlace olive olivedrab orange
orangered orchid palegoldenrod palegreen paleturquoise palevioletred
papayawhip peachpuff peru pink plum powderblue purple red rosybrown royalblue
saddlebrown salmon sandybrown seagreen seashell sienna silver skyblue
slateblue slategray slategrey snow springgreen steelblue tan teal thistle
tomato turquoise violet wheat white whitesmoke yellow yellowgreen""".split())

STAMP = re.compile(r"(\d{4})(\d\d)(\d\d)(?:T(\d\d)(\d\d)(\d\d)(Z?))?", re.ASCII)
DURATION = re.compile(r"([+-]?)P(?:(\d+)W|(?=.)(?:(\d+)D)?"
                      r"(?:T(?=.)(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?)", re.ASCII)


class Linter:
    def __init__(self, allow_empty):
        self.allow_empty = allow_empty
        self.findings = []
        self.uids = {}
        self.zones = set()

    def say(self, number, sentence):
        self.findings.append((number, sentence))

    # Values (rows 5, 10, 14, 21, 29 to 31).

    def check_text(self, line):
        bare = re.sub(r"\\[\\;,nN]", "", line.value)
        if "\\" in bare:
            self.say(line.number, "%s: unknown escape" % line.name)
        separators = ";" if line.name in TEXT_LISTS else ";,"
        if any(c in bare for c in separators):
            self.say(line.number, "%s: comma or semicolon not escaped" % line.name)

    def check_time(self, line):
        kind = line.parameters.get("VALUE", "DATE-TIME").upper()
        for value in line.value.split(","):
            moment = parse_time(value)
            if moment is None:
                self.say(line.number, "%s: no such time" % line.name)
                continue
            utc = value.endswith("Z")
            if kind not in ("DATE", "DATE-TIME") or (kind == "DATE") == ("T" in value):
                self.say(line.number, "%s: not of its VALUE type" % line.name)
            if line.name in UTC_ONLY and not utc:
                self.say(line.number, "%s is not in UTC" % line.name)
            if "TZID" in line.parameters and (utc or "T" not in value):
                self.say(line.number, "%s: TZID on a UTC value or a date" % line.name)
        zone = line.parameters.get("TZID", "/").strip('"')
        if not zone.startswith("/") and zone not in self.zones:
            self.say(line.number, "%s: TZID without a VTIMEZONE" % line.name)

    def check_duration(self, line, sign):
        """sign: what the duration must be, "any" or "positive"."""
        seconds = parse_duration(line.value)
        if seconds is None:
            self.say(line.number, "%s is not a duration" % line.name)
        elif sign == "positive" and seconds <= 0:
            self.say(line.number, "%s is not positive" % line.name)

    def check_number(self, line, lowest, highest):
        if not re.fullmatch(r"[+-]?[0-9]+", line.value):
            self.say(line.number, "%s is not an integer" % line.name)
        elif not lowest <= int(line.value) <= highest:
            self.say(line.number, "%s is out of range" % line.name)

    def check_geo(self, line):
        match = re.fullmatch(r"([+-]?\d+(?:\.\d+)?);([+-]?\d+(?:\.\d+)?)", line.value)
        if not match:
            self.say(line.number, "GEO is not two numbers")
        elif abs(float(match[1])) > 90 or abs(float(match[2])) > 180:
            self.say(line.number, "GEO is out of range")

    def check_rule(self, line):
        parts = dict(p.partition("=")[::2] for p in line.value.upper().split(";"))
        if parts.get("FREQ") not in ("SECONDLY", "MINUTELY", "HOURLY", "DAILY",
                                     "WEEKLY", "MONTHLY", "YEARLY"):
            self.say(line.number, "RRULE without a known FREQ")
        if "COUNT" in parts and "UNTIL" in parts:
            self.say(line.number, "RRULE with COUNT and UNTIL")

    def check_uri(self, line):
        if not re.fullmatch(r"[A-Za-z][A-Za-z0-9+.-]*:[!-~]+", line.value):
            self.say(line.number, "%s is not a URI" % line.name)
        if line.name == "SOURCE" and line.parameters.get("VALUE", "").upper() != "URI":
            self.say(line.number, "SOURCE without VALUE=URI")

    def check_refresh(self, line):
        if line.parameters.get("VALUE", "").upper() != "DURATION":
            self.say(line.number, "REFRESH-INTERVAL without VALUE=DURATION")
        self.check_duration(line, "positive")

    def check_color(self, line):
        if line.value.lower() not in COLORS:
            self.say(line.number, "COLOR is not a CSS3 colour name")

    def check_related(self, line):
        kind = line.parameters.get("RELTYPE", "PARENT").upper()
        if kind not in RELATIONS:
            self.say(line.number, "RELTYPE %s does not exist" % kind)
        if line.value.strip() == "":
            self.say(line.number, "RELATED-TO nothing")

    def check_value(self, line):
        others = {
            "RELATED-TO": lambda: self.check_related(line),
            "SEQUENCE": lambda: self.check_number(line, 0, 2**31 - 1),
            "PRIORITY": lambda: self.check_number(line, 0, 9),
            "REPEAT": lambda: self.check_number(line, 0, 2**31 - 1),
            "GEO": lambda: self.check_geo(line),
            "RRULE": lambda: self.check_rule(line),
            "DURATION": lambda: self.check_duration(line, "positive"),
            "X-PUBLISHED-TTL": lambda: self.check_duration(line, "positive"),
            "REFRESH-INTERVAL": lambda: self.check_refresh(line),
            "COLOR": lambda: self.check_color(line),
        }
        if line.name in TEXT or line.name in TEXT_LISTS:
            self.check_text(line)
        if line.name in TIMES:
            self.check_time(line)
        if line.name in URIS:
            self.check_uri(line)
        others.get(line.name, lambda: None)()

    # Components (rows 7 to 9, 11 to 19, 34).

    def need_one(self, part, name):
        count = len(part.all(name))
        if count == 0:
            self.say(part.number, "%s without %s" % (part.name, name))

    def check_once(self, part):
        for name in ONCE.get(part.name, ()):
            for line in part.all(name)[1:]:
                self.say(line.number, "%s more than once" % name)

    def check_uid(self, part):
        uid = part.first("UID")
        if uid is None:
            return
        if uid.value.strip() == "":
            self.say(uid.number, "UID is empty")
        recurrence = part.first("RECURRENCE-ID")
        key = (uid.value, recurrence.value if recurrence else "")
        if key in self.uids:
            self.say(uid.number, "UID as in line %d" % self.uids[key])
        self.uids.setdefault(key, uid.number)

    def check_status(self, part):
        status = part.first("STATUS")
        if status and status.value.upper() not in STATUS.get(part.name, ()):
            self.say(status.number, "STATUS %s does not exist" % status.value)

    def check_revision(self, part):
        stamp, changed = part.first("DTSTAMP"), part.first("LAST-MODIFIED")
        if stamp and changed and stamp.value != changed.value:
            self.say(stamp.number, "DTSTAMP is not LAST-MODIFIED")

    def check_end(self, part):
        start, end = part.first("DTSTART"), part.first("DTEND")
        if end and part.first("DURATION"):
            self.say(end.number, "DTEND and DURATION")
        if not start or not end:
            return
        if time_type(start) != time_type(end):
            self.say(end.number, "DTEND is of another type than DTSTART")
            return
        first, last = parse_time(start.value), parse_time(end.value)
        if first and last and last <= first:
            self.say(end.number, "DTEND is not later than DTSTART")

    def check_alarm(self, alarm, parent):
        for name in ("ACTION", "TRIGGER", "UID"):
            self.need_one(alarm, name)
        action = alarm.first("ACTION")
        action = action.value.upper() if action else ""
        needs = {"DISPLAY": ["DESCRIPTION"],
                 "EMAIL": ["DESCRIPTION", "SUMMARY", "ATTENDEE"]}
        for name in needs.get(action, ()):
            self.need_one(alarm, name)
        if bool(alarm.first("DURATION")) != bool(alarm.first("REPEAT")):
            self.say(alarm.number, "DURATION or REPEAT without the other")
        self.check_uid(alarm)
        for trigger in alarm.all("TRIGGER"):
            self.check_trigger(trigger, parent)

    def check_trigger(self, trigger, parent):
        kind = trigger.parameters.get("VALUE", "DURATION").upper()
        if kind != "DATE-TIME":
            self.check_duration(trigger, "any")
        elif parse_time(trigger.value) is None or not trigger.value.endswith("Z"):
            self.say(trigger.number, "absolute TRIGGER is not a UTC time")
        ends = any(parent.first(n) for n in ("DTEND", "DUE", "DURATION"))
        if trigger.parameters.get("RELATED", "START").upper() == "END" and not ends:
            self.say(trigger.number, "TRIGGER relates to an end that is not given")

    def check_event(self, event):
        for name in ("UID", "DTSTAMP", "LAST-MODIFIED", "DTSTART"):
            self.need_one(event, name)
        self.check_uid(event)
        self.check_end(event)
        self.check_revision(event)
        transp = event.first("TRANSP")
        if transp is None or transp.value.upper() != "TRANSPARENT":
            self.say(event.number, "not TRANSP:TRANSPARENT")

    def check_journal(self, journal):
        """One of ours: a record has a beginning and a title."""
        for name in ("UID", "DTSTAMP", "LAST-MODIFIED", "DTSTART", "CREATED",
                     "SUMMARY", "STATUS"):
            self.need_one(journal, name)
        self.check_uid(journal)
        self.check_revision(journal)
        for line in journal.lines:
            if line.name in NOT_IN_JOURNALS:
                self.say(line.number, "%s in a VJOURNAL" % line.name)
        for part in journal.parts:
            self.say(part.number, "%s in a VJOURNAL" % part.name)

    def check_part(self, part, parent):
        self.check_once(part)
        self.check_status(part)
        for line in part.lines:
            self.check_value(line)
        if part.name == "VEVENT":
            self.check_event(part)
        elif part.name == "VALARM":
            self.check_alarm(part, parent)
        elif part.name == "VJOURNAL":
            self.check_journal(part)
        elif part.name == "VTODO":
            self.need_one(part, "UID")
            self.need_one(part, "DTSTAMP")
            self.check_uid(part)
        for inner in part.parts:
            self.check_part(inner, part)

    def check_calendar(self, calendar):
        if calendar.name != "VCALENDAR":
            self.say(calendar.number, "not a VCALENDAR")
        for name in ("VERSION", "PRODID"):
            self.need_one(calendar, name)
        version, method = calendar.first("VERSION"), calendar.first("METHOD")
        if version and version.value != "2.0":
            self.say(version.number, "VERSION is not 2.0")
        if method:
            self.say(method.number, "METHOD is for invitations only")
        if not calendar.parts and not self.allow_empty:
            self.say(calendar.number, "calendar without components")
        for zone in calendar.parts:
            tzid = zone.first("TZID") if zone.name == "VTIMEZONE" else None
            if tzid:
                self.zones.add(tzid.value)
        self.check_part(calendar, calendar)

    def run(self, data):
        root = ics_wire.Reader(self.say).tree(data)
        if len(root.parts) != 1:
            self.say(1, "%d calendars, not one" % len(root.parts))
        for calendar in root.parts:
            self.check_calendar(calendar)
        return ["line %d: %s" % finding for finding in sorted(self.findings)]


def parse_time(value):
    """A DATE or DATE-TIME as datetime without a zone, or None."""
    match = STAMP.fullmatch(value)
    if not match:
        return None
    fields = [int(field or 0) for field in match.groups()[:6]]
    fields[5] = min(fields[5], 59) if fields[5] == 60 else fields[5]
    try:
        return datetime.datetime(*fields)
    except ValueError:
        return None


def time_type(line):
    return ("T" in line.value, line.value.endswith("Z"))


def parse_duration(value):
    match = DURATION.fullmatch(value)
    if not match:
        return None
    weeks, days, hours, minutes, seconds = (int(n or 0) for n in match.groups()[1:])
    total = ((weeks * 7 + days) * 24 + hours) * 3600 + minutes * 60 + seconds
    return -total if match.group(1) == "-" else total


def lint(data, allow_empty=False):
    return Linter(allow_empty).run(data)


def main(arguments):
    allow_empty = "--allow-empty" in arguments
    faulty = False
    for path in (a for a in arguments if a != "--allow-empty"):
        with open(path, "rb") as file:
            findings = lint(file.read(), allow_empty)
        for finding in findings:
            print("%s: %s" % (path, finding))
        faulty = faulty or bool(findings)
    return 1 if faulty else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

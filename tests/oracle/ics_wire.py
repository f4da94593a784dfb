"""The bytes of a calendar as lines, properties and nested components.

Rows 1 to 4 of what RFC 5545 asks: CRLF, 75 octets, folds, UTF-8, no control
characters. Nothing here knows what a property means.
"""
import re

NAME = re.compile(r"[A-Za-z0-9-]+")
PARAMETER = re.compile(r';([A-Za-z0-9-]+)=((?:"[^"]*"|[^";:,]*)'
                       r'(?:,(?:"[^"]*"|[^";:,]*))*)')


class Line:
    """One property: where it starts, its name, parameters and value."""

    def __init__(self, number, name, parameters, value):
        self.number, self.name = number, name
        self.parameters, self.value = parameters, value


class Component:
    def __init__(self, name, number):
        self.name, self.number = name, number
        self.lines, self.parts = [], []

    def all(self, name):
        return [line for line in self.lines if line.name == name]

    def first(self, name):
        return next(iter(self.all(name)), None)


class Reader:
    """Reads one document; say(number, sentence) hears of every fault."""

    def __init__(self, say):
        self.say = say

    def physical(self, data):
        """Yields (number, bytes) per line; says what is wrong with it."""
        lines = data.split(b"\r\n")
        if lines[-1] == b"":
            lines.pop()
        else:
            self.say(len(lines), "the last line does not end with CRLF")
        for number, line in enumerate(lines, 1):
            if b"\r" in line or b"\n" in line:
                self.say(number, "bare CR or LF")
            if len(line) > 75:
                self.say(number, "%d octets, more than 75" % len(line))
            if line.strip() == b"":
                self.say(number, "empty line")
            try:
                line.decode("utf-8")
            except UnicodeDecodeError:
                self.say(number, "not UTF-8, or folded inside a character")
            yield number, line

    def logical(self, data):
        """Yields (number, text) per unfolded line."""
        number, held = 0, None
        for at, line in self.physical(data):
            if line[:1] in (b" ", b"\t"):
                if held is None:
                    self.say(at, "a fold with nothing before it")
                held = (held or b"") + line[1:]
                continue
            if held is not None:
                yield number, held.decode("utf-8", "replace")
            number, held = at, line
        if held is not None:
            yield number, held.decode("utf-8", "replace")

    def property(self, number, text):
        """Splits "NAME;PARAMETER=value:value"; None when it cannot."""
        if re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]", text):
            self.say(number, "control character")
        name = NAME.match(text)
        if not name:
            self.say(number, "no property name")
            return None
        at, parameters = name.end(), {}
        while match := PARAMETER.match(text, at):
            key = match.group(1).upper()
            if key in parameters:
                self.say(number, "parameter %s twice" % key)
            parameters[key] = match.group(2)
            at = match.end()
        if text[at:at + 1] != ":":
            self.say(number, "malformed property")
            return None
        return Line(number, name.group().upper(), parameters, text[at + 1:])

    def tree(self, data):
        """The components, nested; says where BEGIN and END do not match."""
        root = Component("", 0)
        stack = [root]
        for number, text in self.logical(data):
            line = self.property(number, text)
            if line is None:
                continue
            if line.name == "BEGIN":
                part = Component(line.value.upper(), number)
                stack[-1].parts.append(part)
                stack.append(part)
            elif line.name != "END":
                if stack[-1] is root:
                    self.say(number, "property outside a calendar")
                stack[-1].lines.append(line)
            elif len(stack) > 1 and stack[-1].name == line.value.upper():
                stack.pop()
            else:
                self.say(number, "END:%s ends nothing" % line.value)
        for part in stack[1:]:
            self.say(part.number, "BEGIN:%s without END" % part.name)
        return root

#!/usr/bin/env python3
"""A real CalDAV server takes every entry, or journal, and gives it back.

    ics_radicale.py FILE.ics

Starts Radicale on a free port of the loopback address with a temporary
folder, makes a calendar, PUTs each VEVENT or VJOURNAL as an object of its own and
reads the collection back. Always stops the server it started.
"""
import base64
import http.client
import importlib.util
import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True
import ics_wire  # noqa: E402
from ics_tap import Tap, skip_all  # noqa: E402

COLLECTION = "/keeper/lawns/"
# With auth = none any name will do; it makes the principal's own folder.
KEEPER = {"Authorization": "Basic " + base64.b64encode(b"keeper:").decode("ascii")}
MAKE = b"""<?xml version="1.0" encoding="utf-8"?>
<C:mkcalendar xmlns:D="DAV:" xmlns:C="urn:ietf:params:xml:ns:caldav"><D:set>
<D:prop><D:displayname>lawns</D:displayname></D:prop></D:set></C:mkcalendar>"""
CONFIG = """[server]
hosts = 127.0.0.1:%d
timeout = 30
[auth]
type = none
[rights]
type = authenticated
[storage]
filesystem_folder = %s
[web]
type = none
[logging]
level = warning
"""


class Server:
    """Radicale for as long as the with block lasts."""

    def __init__(self):
        self.folder = tempfile.TemporaryDirectory(prefix="lull-radicale-")
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.process = self.log = None

    def __enter__(self):
        config = os.path.join(self.folder.name, "config")
        with open(config, "w", encoding="utf-8") as file:
            file.write(CONFIG % (self.port, self.folder.name))
        self.log = open(os.path.join(self.folder.name, "log"), "w+b")
        self.process = subprocess.Popen(
            [sys.executable, "-m", "radicale", "--config", config],
            stdin=subprocess.DEVNULL, stdout=self.log, stderr=self.log)
        try:
            self.wait()
        except BaseException:
            self.__exit__()
            raise
        return self

    def wait(self):
        deadline = time.monotonic() + 20
        while time.monotonic() < deadline and self.process.poll() is None:
            try:
                socket.create_connection(("127.0.0.1", self.port), 1).close()
                return
            except OSError:
                time.sleep(0.1)
        raise RuntimeError("radicale does not answer: " + self.said())

    def said(self):
        self.log.seek(0)
        return self.log.read().decode("utf-8", "replace")

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(10)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait(10)
        self.log.close()
        self.folder.cleanup()

    def ask(self, method, path, body=None, headers=None):
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            connection.request(method, path, body, {**KEEPER, **(headers or {})})
            reply = connection.getresponse()
            return reply.status, reply.read()
        finally:
            connection.close()


def split(data):
    """(uid, object) per entry, each inside a calendar of its own."""
    events = re.finditer(rb"^BEGIN:(VEVENT|VJOURNAL)\r\n.*?^END:\1\r\n", data, re.S | re.M)
    for event in (found.group() for found in events):
        uid = re.search(rb"^UID:([^\r]*)", event, re.M).group(1).decode("utf-8")
        yield uid, (b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"
                    b"PRODID:-//lull//spray windows//EN\r\n" + event +
                    b"END:VCALENDAR\r\n")


def read_events(data):
    """UID -> (DTSTART, SUMMARY), as they stand on the wire."""
    events = {}
    root = ics_wire.Reader(lambda number, sentence: None).tree(data)
    for calendar in root.parts:
        for part in calendar.parts:
            if part.name in ("VEVENT", "VJOURNAL"):
                events[part.first("UID").value] = (
                    part.first("DTSTART").value, part.first("SUMMARY").value)
    return events


def exercise(tap, server, data):
    status, _ = server.ask("MKCALENDAR", COLLECTION, MAKE,
                           {"Content-Type": "application/xml"})
    tap.same(status, 201, "MKCALENDAR")
    name, item = "", b""
    for uid, item in split(data):
        name = re.sub(r"[^A-Za-z0-9-]", "_", uid) + ".ics"
        status, body = server.ask("PUT", COLLECTION + name, item, {
            "If-None-Match": "*", "Content-Type": "text/calendar; charset=utf-8"})
        tap.check(status == 201, "PUT " + uid, "status %d" % status, body, server.said())
    status, _ = server.ask("PUT", COLLECTION + name, item, {"If-None-Match": "*"})
    tap.same(status, 412, "a second PUT with If-None-Match: *")
    status, back = server.ask("GET", COLLECTION)
    tap.same(status, 200, "GET of the collection")
    wanted, got = read_events(data), read_events(back)
    tap.check(len(wanted) > 0, "there are entries to compare")
    tap.same(sorted(got), sorted(wanted), "all entries come back")
    for uid in sorted(wanted):
        tap.same(got.get(uid), wanted[uid], "start and summary of " + uid)


def main(path):
    if importlib.util.find_spec("radicale") is None:
        return skip_all("no radicale module for " + sys.executable)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    with open(path, "rb") as file:
        data = file.read()
    tap = Tap()
    with Server() as server:
        exercise(tap, server, data)
    return tap.finish()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))

#!/usr/bin/python3
"""A local HTTP server that behaves as badly as servers do.

usage: fetch_server.py --log FILE [--folder DIR] [--max-age N]

Listens on free ports of 127.0.0.1 and prints one line when it is ready:
"HTTP-PORT HTTPS-PORT CERTIFICATE" (the certificate is self-signed, for
127.0.0.1 only). Appends each request as a JSON line to FILE before it answers.
Stops on SIGTERM.

/file/NAME serves DIR/NAME, read anew at each request, with validators made
from its content and Cache-Control: max-age=N. If DIR/NAME.status exists, the
number in it is answered instead. The other paths are the functions below.
"""

import argparse
import gzip
import hashlib
import http.server
import json
import os
import signal
import ssl
import subprocess
import sys
import tempfile
import threading
import time
import zlib

GOOD = b'{"good": true}\n'
GOOD_ETAG = '"a-1:b\\c"'
GOOD_MODIFIED = "Thu, 01 Jan 2026 00:00:00 GMT"
LARGE = 50 * 1000 * 1000
HANG_SECONDS = 30
SLOW_SECONDS = 0.5
TYPES = {".html": "text/html", ".ics": "text/calendar"}


def http_date(second):
    return time.strftime("%a, %d %b %Y %H:%M:%S GMT", time.gmtime(second))


def reply(handler, status, body=b"", headers=()):
    """A whole answer. Headers given here replace the usual ones."""
    fields = {"Date": http_date(time.time()),
              "Content-Type": "application/json",
              "Content-Length": str(len(body))}
    fields.update(headers)
    head = ["HTTP/1.1 %d Status" % status]
    head += ["%s: %s" % field for field in fields.items()
             if field[1] is not None]
    handler.wfile.write("\r\n".join(head + ["", ""]).encode("latin-1") + body)
    if fields.get("Connection") == "close":
        handler.close_connection = True


def unless_same(handler, etag, modified, body, headers):
    """A 304 when a validator matches (If-None-Match goes first)."""
    headers = dict(headers, **{"ETag": etag, "Last-Modified": modified})
    wanted = handler.headers.get("If-None-Match")
    if wanted is not None:
        same = wanted == etag
    else:
        same = handler.headers.get("If-Modified-Since") == modified
    if same:
        headers.update({"Content-Length": None, "Content-Type": None})
        reply(handler, 304, b"", headers)
    else:
        reply(handler, 200, body, headers)


def good(handler):
    unless_same(handler, GOOD_ETAG, GOOD_MODIFIED, GOOD,
                {"Cache-Control": "public, max-age=600, s-maxage=3600"})


def expires(handler):
    """Freshness by Expires alone, on a clock that is years wrong."""
    reply(handler, 200, GOOD, {"Date": "Sat, 01 Jan 2000 00:00:00 GMT",
                               "Expires": "Sat, 01 Jan 2000 00:30:00 GMT"})


def deprecated(handler):
    reply(handler, 203, GOOD)


def same(handler):
    """304 to whoever asks, asked for or not."""
    reply(handler, 304, b"", {"Content-Length": None})


def redirect(target):
    def answer(handler):
        location = target.format(http=handler.server.ports[0],
                                 https=handler.server.ports[1])
        reply(handler, 301, b"<html>moved</html>",
              {"Location": location, "Content-Type": "text/html"})
    return answer


def status(number, headers=()):
    def answer(handler):
        reply(handler, number, b"<html>no</html>",
              dict(headers, **{"Content-Type": "text/html"}))
    return answer


def start(handler, headers):
    reply(handler, 200, b"", dict({"Connection": "close"}, **headers))


def drip(handler):
    start(handler, {"Content-Length": "100000"})
    for _ in range(HANG_SECONDS * 2):
        handler.wfile.write(b" ")
        time.sleep(0.5)


def steady(handler):
    """Fast enough never to stall, too long to end in time."""
    start(handler, {"Content-Length": "1000000"})
    for _ in range(HANG_SECONDS * 10):
        handler.wfile.write(b" " * 100)
        time.sleep(0.1)


def hang(handler):
    time.sleep(HANG_SECONDS)
    handler.close_connection = True


def slow(handler):
    with handler.server.lock:
        handler.server.running += 1
        handler.entry["running"] = handler.server.running
    handler.log_entry()
    time.sleep(SLOW_SECONDS)
    with handler.server.lock:
        handler.server.running -= 1
    reply(handler, 200, GOOD)


def cut(handler):
    start(handler, {"Content-Length": "1000"})
    handler.wfile.write(GOOD)


def cut_error(handler):
    reply(handler, 500, b"half", {"Content-Length": "1000",
                                  "Connection": "close"})


def cut_chunked(handler):
    start(handler, {"Content-Length": None, "Transfer-Encoding": "chunked"})
    handler.wfile.write(b"f\r\n" + GOOD + b"\r\n")


def hang_up(handler):
    handler.close_connection = True


def short_length(handler):
    """States less than it sends: HTTP ends the document there."""
    reply(handler, 200, GOOD, {"Content-Length": "5", "Connection": "close"})


def zipped(handler):
    reply(handler, 200, gzip.compress(GOOD), {"Content-Encoding": "gzip"})


def zipped_damaged(handler):
    body = bytearray(gzip.compress(GOOD * 50))
    body[12] ^= 0xFF
    reply(handler, 200, bytes(body), {"Content-Encoding": "gzip"})


def zipped_cut(handler):
    """A gzip stream without its end, with a Content-Length that fits."""
    body = gzip.compress(os.urandom(3000).hex().encode())
    reply(handler, 200, body[:len(body) // 2], {"Content-Encoding": "gzip"})


def bomb(handler):
    packer = zlib.compressobj(9, zlib.DEFLATED, 31)
    body = packer.compress(bytes(LARGE)) + packer.flush()
    reply(handler, 200, body, {"Content-Encoding": "gzip"})


def endless(handler):
    start(handler, {"Content-Length": None, "Transfer-Encoding": "chunked"})
    chunk = b"10000\r\n" + b" " * 65536 + b"\r\n"
    for _ in range(LARGE // 65536):
        handler.wfile.write(chunk)


def large(handler):
    start(handler, {"Content-Length": str(LARGE)})
    for _ in range(LARGE // 100000):
        handler.wfile.write(b" " * 100000)


def header_flood(handler):
    reply(handler, 200, GOOD,
          {"X-%d" % i: "x" * 1000 for i in range(1000)})


def html(handler):
    reply(handler, 200, b"<html>sorry</html>",
          {"Content-Type": "text/html; charset=utf-8"})


def text(handler):
    reply(handler, 200, GOOD, {"Content-Type": "text/plain; charset=utf-8"})


def untyped(handler):
    reply(handler, 200, GOOD, {"Content-Type": None})


def geojson(handler):
    reply(handler, 200, GOOD, {"Content-Type": "application/geo+json"})


def odd_validators(handler):
    reply(handler, 200, GOOD, {"ETag": '"%s"' % ("x" * 300),
                               "Last-Modified": "\xff\xfe"})


def garbage(handler):
    handler.wfile.write(b"\x00\x01\x02 this is not HTTP\r\n\r\n")
    handler.close_connection = True


PATHS = {
    "/good": good, "/expires": expires, "/203": deprecated, "/304": same,
    "/redirect": redirect("/good"),
    "/redirect-loop": redirect("/redirect-loop"),
    "/redirect-nowhere": status(302),
    "/to-file": redirect("file:///etc/passwd"),
    "/to-ftp": redirect("ftp://127.0.0.1/x"),
    "/to-http": redirect("http://127.0.0.1:{http}/good"),
    "/to-https": redirect("https://127.0.0.1:{https}/good"),
    "/to-stranger": redirect("http://192.0.2.1/x"),
    "/400": status(400), "/403": status(403), "/404": status(404),
    "/429": status(429, {"Retry-After": "7"}),
    "/500": status(500, {"Retry-After": "7"}),
    "/503": status(503), "/503-wait": status(503, {"Retry-After": "120"}),
    "/204": status(204, {"Content-Length": None}),
    "/drip": drip, "/steady": steady, "/hang": hang, "/slow": slow,
    "/cut": cut, "/cut-500": cut_error, "/cut-chunked": cut_chunked,
    "/hang-up": hang_up, "/short-length": short_length,
    "/gzip": zipped, "/gzip-damaged": zipped_damaged,
    "/gzip-cut": zipped_cut, "/bomb": bomb, "/endless": endless,
    "/large": large, "/headers": header_flood, "/html": html, "/text": text,
    "/untyped": untyped, "/geojson": geojson,
    "/odd-validators": odd_validators, "/garbage": garbage,
    "/empty": lambda handler: reply(handler, 200),
}


def serve_file(handler, name):
    folder = handler.server.options.folder
    if folder is None or "/" in name or name.startswith("."):
        return status(404)(handler)
    path = os.path.join(folder, name)
    try:
        with open(path + ".status", encoding="ascii") as file:
            return status(int(file.read()))(handler)
    except OSError:
        pass
    try:
        with open(path, "rb") as file:
            body = file.read()
    except OSError:
        return status(404)(handler)
    digest = hashlib.sha256(body).hexdigest()
    # A date like any other; only a change of content changes it.
    modified = http_date(1767225600 + int(digest[:8], 16) % 10000000)
    kind = TYPES.get(os.path.splitext(name)[1], "application/json")
    return unless_same(
        handler, '"%s"' % digest[:16], modified, body,
        {"Cache-Control": "max-age=%d" % handler.server.options.max_age,
         "Content-Type": kind})


class Handler(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    # Heads and bodies leave in one piece or at once, not held back.
    disable_nagle_algorithm = True

    def log_message(self, *arguments):
        pass

    def log_entry(self):
        with self.server.lock, open(
                self.server.options.log, "a", encoding="utf-8") as file:
            file.write(json.dumps(self.entry) + "\n")

    def do_GET(self):
        path, _, query = self.path.partition("?")
        self.entry = {"at": time.time(), "method": self.command, "path": path,
                      "query": query, "tls": self.server.tls,
                      "headers": dict(self.headers.items())}
        answer = PATHS.get(path, status(404))
        if answer is not slow:
            self.log_entry()
        try:
            if path.startswith("/file/"):
                serve_file(self, path[len("/file/"):])
            else:
                answer(self)
        except OSError:
            self.close_connection = True

    do_HEAD = do_POST = do_GET


class Server(http.server.ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False
    request_queue_size = 64

    def __init__(self, options, context=None):
        super().__init__(("127.0.0.1", 0), Handler)
        self.options = options
        self.lock = threading.Lock()
        self.running = 0
        self.tls = context is not None
        if context is not None:
            # The handshake belongs to the thread of the connection.
            self.socket = context.wrap_socket(
                self.socket, server_side=True, do_handshake_on_connect=False)

    def handle_error(self, request, client_address):
        pass


def make_certificate(folder):
    key = os.path.join(folder, "key.pem")
    certificate = os.path.join(folder, "certificate.pem")
    subprocess.run(
        ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt",
         "ec_paramgen_curve:P-256", "-nodes", "-days", "2",
         "-subj", "/CN=lull test", "-addext", "subjectAltName=IP:127.0.0.1",
         "-keyout", key, "-out", certificate],
        check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(certificate, key)
    return context, certificate


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--log", required=True)
    parser.add_argument("--folder")
    parser.add_argument("--max-age", type=int, default=0)
    options = parser.parse_args()
    stop = threading.Event()
    signal.signal(signal.SIGTERM, lambda *_: stop.set())
    signal.signal(signal.SIGINT, lambda *_: stop.set())
    with tempfile.TemporaryDirectory() as folder:
        context, certificate = make_certificate(folder)
        servers = [Server(options), Server(options, context)]
        ports = [server.server_address[1] for server in servers]
        for server in servers:
            server.ports = ports
            threading.Thread(target=server.serve_forever, kwargs={
                "poll_interval": 0.05}, daemon=True).start()
        print(ports[0], ports[1], certificate, flush=True)
        stop.wait()
        for server in servers:
            server.shutdown()
            server.server_close()
    return 0


if __name__ == "__main__":
    sys.exit(main())

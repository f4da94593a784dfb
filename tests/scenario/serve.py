#!/usr/bin/python3
"""The bad server of the fetch oracle, with these things more:

* if FOLDER/NAME.as exists, /file/NAME answers like what is written in it: a
  path of that server ("/endless", "/html"); or a status and, perhaps, the
  seconds of a Retry-After ("429 900"); or "200": the whole document, also to
  whoever has it. So one address can turn bad and good again;
* the number in FOLDER/NAME.age is the max-age of that document;
* each answer adds a line {"status": N} to the log.

Takes the arguments of fetch_server.py and prints the same line when ready.
"""
import json
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(HERE, "..", "oracle"))
import fetch_server  # noqa: E402

plain_reply = fetch_server.reply
plain_file = fetch_server.serve_file


def reply(handler, status, body=b"", headers=()):
    options = handler.server.options
    with handler.server.lock, open(options.log, "a", encoding="ascii") as file:
        file.write(json.dumps({"status": status}) + "\n")
    headers = dict(headers)
    if "Cache-Control" in headers and getattr(handler, "age", ""):
        headers["Cache-Control"] = "max-age=" + handler.age
    plain_reply(handler, status, body, headers)


def beside(handler, name):
    """What is written in a file beside the documents; "" when there is none."""
    path = os.path.join(handler.server.options.folder, name)
    try:
        with open(path, encoding="ascii") as file:
            return file.read().strip()
    except OSError:
        return ""


def serve_file(handler, name):
    handler.age = beside(handler, name + ".age")
    wanted = beside(handler, name + ".as")
    if wanted.startswith("/"):
        return fetch_server.PATHS[wanted](handler)
    if wanted == "200":
        del handler.headers["If-None-Match"]
        del handler.headers["If-Modified-Since"]
    elif wanted:
        status, *wait = wanted.split()
        headers = {"Retry-After": wait[0]} if wait else {}
        return fetch_server.status(int(status), headers)(handler)
    return plain_file(handler, name)


fetch_server.reply = reply
fetch_server.serve_file = serve_file

if __name__ == "__main__":
    sys.exit(fetch_server.main())

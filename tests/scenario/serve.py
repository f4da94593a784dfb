#!/usr/bin/python3
"""The bad server of the fetch oracle, with two things more:

* if FOLDER/NAME.as exists, /file/NAME answers like the path written in it
  ("/endless", "/html"), so that one address can turn bad and good again;
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
    plain_reply(handler, status, body, headers)


def serve_file(handler, name):
    path = os.path.join(handler.server.options.folder, name + ".as")
    try:
        with open(path, encoding="ascii") as file:
            answer = fetch_server.PATHS[file.read().strip()]
    except OSError:
        return plain_file(handler, name)
    return answer(handler)


fetch_server.reply = reply
fetch_server.serve_file = serve_file

if __name__ == "__main__":
    sys.exit(fetch_server.main())

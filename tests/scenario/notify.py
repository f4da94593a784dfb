#!/usr/bin/python3
"""A service manager's ear: notify.py SOCKET prints each datagram that comes."""
import socket
import sys

with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as ear:
    ear.bind(sys.argv[1])
    while True:
        print(ear.recv(4096).decode("utf-8"), flush=True)

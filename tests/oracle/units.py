#!/usr/bin/python3
"""Compares every unit of the table, and compound rates, with GNU units.

Argument: the path of the print_units program. Prints TAP.
"""

import os
import re
import shutil
import subprocess
import sys

TOLERANCE = 1e-12  # relative; GNU units is asked for 14 digits

# The canonical unit of each class, as GNU units writes it.
CLASS = {
    "temperature": "K", "speed": "m/s", "length": "m", "time span": "s",
    "area": "m^2", "volume": "L", "mass": "g", "water depth": "kg/m^2",
    "percentage": "percent", "angle": "degree", "bare number": "1",
}

# The canonical unit of each kind that a rate is read as.
KIND = {
    "volume per area": "L/m^2", "mass per area": "g/m^2",
    "mass per volume": "g/L", "volume per volume": "L/L", "speed": "m/s",
    "area per time": "m^2/s", "volume per time": "L/s", "rain amount": "mm",
}

# Our names that GNU units writes otherwise; the rest are the same there.
NAME = {
    "°F": "degF", "deg F": "degF", "fahrenheit": "degF", "F": "degF",
    "[degF]": "degF", "°C": "degC", "deg C": "degC", "celsius": "degC",
    "C": "degC", "Cel": "degC",
    "mp/h": "mile/hour", "[mi_i]/h": "mile/hour", "kph": "km/hour",
    "kmh": "km/hour", "km_h-1": "km/hour", "m_s-1": "m/s", "kn": "knot",
    "kt": "knot", "[kn_i]": "knot",
    "[in_i]": "inch", "[ft_i]": "foot", "h": "hour", "d": "day",
    "ft2": "ft^2", "ft²": "ft^2", "sq ft": "ft^2", "m2": "m^2", "m²": "m^2",
    "sq m": "m^2", "ac": "acre", "ha": "hectare",
    "gal": "gallon", "qt": "quart", "pt": "pint", "fl oz": "floz",
    "tbsp": "tablespoon", "tsp": "teaspoon",
    "kg_m-2": "kg/m^2", "kg m-2": "kg/m^2", "%": "percent", "deg": "degree",
    "°": "degree", "degree_(angle)": "degree",
}

# Thermometer readings: the Celsius reading of zero.
ZERO = {"degF": "tempF(0)", "degC": "tempC(0)", "K": "0 K"}


def ask(from_, to):
    """The number GNU units gives, or None."""
    environment = dict(os.environ, LC_ALL="C", UNITS_ENGLISH="US")
    reply = subprocess.run(["units", "-t", "-d", "14", from_, to],
                           capture_output=True, text=True, env=environment,
                           check=False)
    try:
        return float(reply.stdout.strip())
    except ValueError:
        return None


def is_same(ours, theirs):
    if theirs is None:
        return False
    return abs(ours - theirs) <= TOLERANCE * max(1e-30, abs(theirs))


def compare_unit(fields):
    kind, name, factor, offset = fields
    theirs_name = NAME.get(name, name)
    theirs = ask(theirs_name, CLASS[kind])
    good = is_same(float(factor), theirs)
    if kind == "temperature":
        zero = ask(ZERO[theirs_name], "tempC")
        good = good and zero is not None and \
            abs(zero - float(offset)) < 1e-10
    elif float(offset) != 0:
        good = False
    return good, f"{name}: {factor}, GNU units {theirs}"


def compare_rate(fields):
    text, kind, value = fields
    words = re.findall(r"fl oz|sq ft|[a-zA-Z]+2?|[0-9.]+|/", text)
    # What stands under the '/' is one unit, number and all.
    over, _, under = " ".join(NAME.get(w, w) for w in words).partition("/")
    question = f"{over}/({under})" if under else over
    theirs = ask(question, KIND[kind])
    return is_same(float(value), theirs), \
        f"{text}: {value}, GNU units {theirs}"


def main():
    if shutil.which("units") is None:
        print("1..0 # SKIP GNU units is not installed")
        return 0
    lines = subprocess.run([sys.argv[1]], capture_output=True, check=True,
                           encoding="utf-8").stdout.splitlines()
    print(f"1..{len(lines)}")
    failures = 0
    for number, line in enumerate(lines, 1):
        what, *fields = line.split("\t")
        compare = compare_unit if what == "unit" else compare_rate
        good, text = compare(fields)
        failures += not good
        print(f"{'ok' if good else 'not ok'} {number} - {text}")
    return 1 if failures or not lines else 0


if __name__ == "__main__":
    sys.stdout.reconfigure(encoding="utf-8")
    sys.exit(main())

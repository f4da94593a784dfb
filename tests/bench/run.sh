#!/bin/sh
# What `make bench` runs: the yardsticks of the judge beside numpy and plain
# Python in the same run, the readers beside a bare parse, whole passes, and a
# daemon at rest. It prints numbers and judges none. Usage: run.sh SOURCE BUILD
set -eu
source=$(CDPATH='' cd -- "$1" && pwd)
build=$(CDPATH='' cd -- "$2" && pwd)
work=$(mktemp -d)
daemon=
cleanup() {
	[ -z "$daemon" ] || kill "$daemon" 2>/dev/null || true
	rm -rf "$work"
}
trap cleanup EXIT
trap 'exit 1' HUP INT TERM

echo "== The judge: 12 rules over cells of 15 minutes"
"$build/tests/bench/bench_judge"

python=/usr/bin/python3
if "$python" -c 'import numpy' 2>/dev/null; then
	echo "== The same in numpy"
	"$python" "$source/tests/bench/judge_numpy.py"
else
	echo "== numpy is not installed: left out"
fi
if [ -x "$python" ]; then
	echo "== The same in plain Python"
	"$python" "$source/tests/bench/judge_python.py"
fi

echo "== Forecasts read, beside a bare parse of the same bytes"
"$build/tests/bench/bench_read" ${LULL_SHARED:+"$LULL_SHARED/samples"}

echo "== Whole passes over the demonstration's week"
cp "$source"/demo/*.conf "$source"/conf/practice.conf "$work"
cp "$source/demo/week-1.json" "$work/forecast.json"
"$build/tests/bench/bench_pass" "$work/lull.conf" "$work/state" \
	2026-03-16T12:00:00Z back post-a post-b dormant-c

echo "== A daemon at rest"
"$build/lulld" --config "$work/lull.conf" --state "$work/rest" \
	2>/dev/null &
daemon=$!
sleep 2
switches() {
	awk '/ctxt_switches/ { n += $2 } END { print n }' "/proc/$daemon/status"
}
before=$(switches)
sleep 5
awk '/VmRSS/ { printf "%d kB resident, ", $2 }' "/proc/$daemon/status"
awk '/^Private_Dirty/ { n += $2 } END { printf "%d kB private, ", n }' \
	"/proc/$daemon/smaps_rollup"
echo "$(($(switches) - before)) context switches in 5 s"

# shellcheck shell=sh
# What the scenarios share. Source it first: it moves into an empty folder that
# goes when the test ends, together with every process that was started with
# `start`. $srcdir and $builddir name the tree and the build.

: "${srcdir:?}" "${builddir:?}"
scenario=$srcdir/tests/scenario
oracle=$srcdir/tests/oracle
python=/usr/bin/python3
started=
now=
export oracle PYTHONDONTWRITEBYTECODE=1
unset NOTIFY_SOCKET WATCHDOG_USEC XDG_CONFIG_HOME XDG_STATE_HOME

work=$(mktemp -d)
cd "$work" || exit 1

ended() {
	! kill -0 "$1" 2>/dev/null
}

# Whatever does not end when it is told to is not waited for.
tidy_up() {
	for process in $started; do
		kill "$process" 2>/dev/null || true
	done
	for process in $started; do
		wait_for 2 ended "$process" || kill -9 "$process" 2>/dev/null || true
		wait "$process" 2>/dev/null || true
	done
	cd / && rm -rf "$work"
}
trap tidy_up EXIT
trap 'exit 1' HUP INT TERM

fail() {
	echo "FAILED: $*"
	exit 1
}

# Where everything must run, a test that cannot is a failure.
skip() {
	echo "skipped: $*"
	[ "${LULL_REQUIRE_ALL-}" = 1 ] && exit 1
	exit 77
}

[ -x $python ] || skip "there is no $python"

# The fixed clock of `lull` and `pass`; the programs read the real one when it
# was never set.
clock() {
	now=$1
}

lull() {
	command=$1
	shift
	timeout 20 "$builddir/lull" "$command" --config lull.conf \
		--state state ${now:+"--now=$now"} "$@"
}

# lawn FILE [LINE...]: the top of a configuration: a sprayer and a lawn of 3000
# ft2 with these settings besides. A job on it takes half an hour.
lawn() {
	lawn_file=$1
	shift
	cat >"$lawn_file" <<-'END'
		units = us
		sprayer "backpack" {
			tank = "4 gal"
			carrier = "1 gal/1000 ft2"
			pace = "150 ft2/min"
		}
		site "front" {
			latitude = "33.6 deg"
			longitude = "-99.4 deg"
			zone = "America/Chicago"
			area = "3000 ft2"
			sprayer = "backpack"
			forecast = "nws-grid file:forecast.json"
	END
	[ $# -eq 0 ] || printf '\t%s\n' "$@" >>"$lawn_file"
	echo "}" >>"$lawn_file"
}

# One pass of the daemon.
pass() {
	timeout 20 "$builddir/lulld" --config lull.conf --state state --once \
		${now:+"--now=$now"} "$@"
}

# expect CODE COMMAND...: runs it with its output in ./out and ./err.
expect() {
	wanted=$1
	shift
	code=0
	"$@" >out 2>err || code=$?
	[ "$code" -eq "$wanted" ] && return 0
	echo "wanted exit $wanted, got $code: $*"
	sed 's/^/  out: /' out
	sed 's/^/  err: /' err
	exit 1
}

# One line in a file, and it has these words (a basic regular expression).
one_line() {
	if [ "$(wc -l <"$1")" -ne 1 ] || ! grep -q -e "$2" "$1"; then
		sed "s/^/  $1: /" "$1"
		fail "$1 is not one line with '$2'"
	fi
}

has() {
	grep -q -e "$2" "$1" && return 0
	sed "s/^/  $1: /" "$1"
	fail "$1 has no '$2'"
}

# Each argument is a condition in Python; see holds.py for what it can name.
holds() {
	$python "$scenario/holds.py" "$@" || exit 1
}

# The same, as a question, and quiet.
is_so() {
	$python "$scenario/holds.py" "$@" >/dev/null 2>&1
}

# A forecast document from a description on standard input (see grid.py),
# replaced whole.
grid() {
	$python "$scenario/grid.py" >"$1.part" && mv "$1.part" "$1"
}

# start LOG COMMAND...: in the background, its number in $process.
start() {
	log=$1
	shift
	"$@" >"$log" 2>&1 &
	process=$!
	started="$started $process"
}

# wait_for SECONDS COMMAND...: until it succeeds.
wait_for() {
	tries=$(($1 * 10))
	shift
	while ! "$@"; do
		tries=$((tries - 1))
		[ $tries -gt 0 ] || return 1
		sleep 0.1
	done
}

said() {
	grep -q -e "$2" "$1" 2>/dev/null
}

# How many lines of a file have these words.
count() {
	grep -c -e "$2" "$1" || true
}

#!/bin/sh
# Everything that there is to check, on a bare Debian 12, from a clean clone:
#
#     sh tests/run.sh
#
# Installs the packages that are missing (as root; once they are there, anyone
# can run this), makes the build system in the tree and builds beside it: in
# $LULL_BUILD, or in a temporary folder that goes at the end. With a folder
# named by $LULL_SHARED, or one called `shared` beside the repository, the tests
# that need its samples run too. The last line sums up; the exit code is 0 when
# nothing failed and nothing was skipped that should have run.
# Steps call functions by name.
# shellcheck disable=SC2317
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
cd "$top"

packages='autoconf autoconf-archive automake clang clang-format clang-tidy
	codespell gcc libc6-dev libcjson-dev libclang-rt-14-dev
	libcmocka-dev libconfuse-dev libcurl4-openssl-dev libical-dev
	libsqlite3-dev make mandoc openssl pkg-config pmccabe python3
	python3-dateutil python3-ephem python3-icalendar python3-radicale
	python3-vobject shellcheck tzdata units util-linux valgrind
	xz-utils zlib1g-dev'
ical_js=ical.js@2.2.1
fuzz_seconds=5

# What may be skipped: samples that are not in the repository, and a full disk
# where a container forbids to mount one.
may_skip='nothing may be mounted here'
if [ -z "${LULL_SHARED-}" ] && [ -d "$top/../shared" ]; then
	LULL_SHARED=$(cd "$top/../shared" && pwd)
	export LULL_SHARED
fi
if [ -z "${LULL_SHARED-}" ]; then
	recorded=$(grep -l LULL_SHARED "$top"/tests/unit/*.c |
		sed -e 's,.*/,,' -e 's,[.]c$,,' | paste -sd '|' -)
	may_skip="$may_skip|tests/unit/($recorded)( |$)|almanac's table"
fi
LULL_REQUIRE_ALL=1
export LULL_REQUIRE_ALL
unset MAKEFLAGS MAKELEVEL CDPATH srcdir builddir
umask 022

scratch=
clean() {
	[ -z "$scratch" ] || {
		chmod -R u+w "$scratch"
		rm -rf "$scratch"
	}
}
trap clean EXIT
trap 'exit 1' HUP INT TERM
if [ -n "${LULL_BUILD-}" ]; then
	mkdir -p "$LULL_BUILD"
	build=$(cd "$LULL_BUILD" && pwd)
else
	scratch=$(mktemp -d)
	build=$scratch
fi
mkdir -p "$build/logs"
jobs=$(nproc)
passed=0
failed=0
skipped=0

# Adds up what a log tells: automake's closing block, of which a failed run
# shows a second copy, or our own closing line.
tally() {
	awk '
		/^# TOTAL: / { pass = fail = skip = 0 }
		/^# (PASS|XFAIL): / { pass += $3 }
		/^# (FAIL|XPASS|ERROR): / { fail += $3 }
		/^# SKIP: / { skip += $3 }
		/^[0-9]+ passed, [0-9]+ failed/ { pass = $1; fail = $3 }
		END { print pass + 0, fail + 0, skip + 0 }
	' "$1"
}

# step NAME WHAT COMMAND...: runs the command with its output in a log, which is
# shown when it fails, without what went well.
step() {
	log=$build/logs/$1.log
	echo "== $2"
	shift 2
	begun=$(date +%s)
	status=0
	("$@") >"$log" 2>&1 </dev/null || status=$?
	read -r pass fail skip <<-END
		$(tally "$log")
	END
	unwelcome=$(grep '^SKIP: ' "$log" | sort -u |
		grep -Evc "$may_skip" || true)
	if [ "$status" -ne 0 ] || [ "$unwelcome" -gt 0 ]; then
		grep -Ev -e '^(PASS: |ok [0-9]| +(AR|CC|CCLD|GEN|RANLIB) )' \
			-e '^make(\[[0-9]+\]: (Entering|Leaving|.* is up to date)|  )' \
			"$log" || true
		if [ "$fail" -eq 0 ]; then
			fail=$((unwelcome > 0 ? unwelcome : 1))
			skip=$((skip - unwelcome))
		fi
	fi
	passed=$((passed + pass))
	failed=$((failed + fail))
	skipped=$((skipped + skip))
	echo "   $(($(date +%s) - begun)) s: passed $pass, failed $fail," \
		"skipped $skip"
	[ "$status" -eq 0 ]
}

apt_get() {
	DEBIAN_FRONTEND=noninteractive apt-get -q -y \
		-o DPkg::Lock::Timeout=600 "$@"
}

install_packages() {
	missing=
	for package in $packages; do
		dpkg-query -W -f '${Status}\n' "$package" 2>/dev/null |
			grep -q ' installed$' || missing="$missing $package"
	done
	# Any node will do.
	command -v node >/dev/null || missing="$missing nodejs"
	command -v npm >/dev/null || missing="$missing npm"
	echo "missing:${missing:- nothing}"
	[ -n "$missing" ] || return 0
	# The names are words.
	# shellcheck disable=SC2086
	apt_get install --no-install-recommends $missing || {
		# A foreign source that cannot be reached is no reason to stop.
		apt_get update || true
		apt_get install --no-install-recommends $missing
	}
}

install_ical_js() {
	mkdir -p "$build/ical" &&
		npm install --prefix "$build/ical" --no-audit --no-fund \
			--ignore-scripts --no-save "$ical_js"
}

# build FOLDER CONFIGURE-ARGUMENT...: everything, tests too, and no warning.
build() {
	folder=$build/$1
	shift
	mkdir -p "$folder" && cd "$folder" &&
		"$top/configure" -q "$@" &&
		make -j "$jobs" CFLAGS="$(sed -n 's/^CFLAGS = //p' Makefile) -Werror" &&
		make -j "$jobs" check TESTS= \
			CFLAGS="$(sed -n 's/^CFLAGS = //p' Makefile) -Werror"
}

make_in() {
	folder=$build/$1
	shift
	cd "$folder" && make VERBOSE=1 "$@"
}

finish() {
	echo "$passed passed, $failed failed, $skipped skipped"
	[ "$failed" -eq 0 ]
	exit
}

step packages "packages" install_packages || finish
sed -n 's/^missing:/   installed:/p' "$build/logs/packages.log"
if step ical "ical.js, a third reader of calendars" install_ical_js; then
	LULL_ICAL_JS=$build/ical
	export LULL_ICAL_JS
fi
step autoreconf "configure and Makefile.in" autoreconf -i || finish
if step gcc "gcc: build" build gcc CC=gcc; then
	step check "gcc: all tests and gates" \
		make_in gcc -j "$jobs" check || true
	step valgrind "gcc: unit tests under valgrind" \
		make_in gcc -j "$jobs" check-valgrind || true
fi
step clang "clang: build" build clang CC=clang || true
if step sanitizers "gcc with sanitizers: build" \
	build sanitizers CC=gcc --enable-sanitizers; then
	step sanitized "gcc with sanitizers: unit tests, oracles, scenarios" \
		make_in sanitizers -j "$jobs" check-programs || true
fi
step fuzz "fuzz targets, $fuzz_seconds s each" \
	sh tests/fuzz/run.sh "$fuzz_seconds" || true
if [ -f "$build/gcc/Makefile" ]; then
	step distcheck "a release: build, test, install, uninstall" \
		make_in gcc -j "$jobs" distcheck || true
fi
finish

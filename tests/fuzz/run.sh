#!/bin/sh
# Builds each fuzz target with its sanitizers and runs it on a copy of its
# corpus for so many seconds: sh tests/fuzz/run.sh SECONDS [NAME]...
# A found input stays in the folder that is named at the end.
set -eu
: "${srcdir:=$(dirname "$0")/../..}"
cd "$srcdir"
seconds=${1:-5}
[ $# -eq 0 ] || shift
if [ $# -eq 0 ]; then
	for target in tests/fuzz/fuzz_*.c; do
		name=${target#tests/fuzz/fuzz_}
		set -- "$@" "${name%.c}"
	done
fi

scratch=$(mktemp -d)
keep=no
clean() {
	[ "$keep" = yes ] || rm -rf "$scratch"
}
trap clean EXIT
trap 'exit 1' HUP INT TERM

# The files and libraries that a target needs.
sources_of() {
	case $1 in
	forecast) ls src/base/*.c src/physics/units*.c src/weather/*.c ;;
	headers) ls src/base/*.c src/service/freshness.c ;;
	config)
		ls src/base/*.c src/physics/*.c src/weather/*.c src/turf/*.c \
			src/config/*.c
		;;
	*)
		echo "no sources for the fuzz target $1" >&2
		return 1
		;;
	esac
}

libraries_of() {
	case $1 in
	forecast) pkg-config --cflags --libs libcjson ;;
	headers) pkg-config --cflags --libs libcurl ;;
	config) pkg-config --cflags --libs libcjson libconfuse libical ;;
	esac
}

build() {
	# Lists of files and flags are words.
	# shellcheck disable=SC2046
	clang -std=c11 -D_GNU_SOURCE -Isrc -Itests -g -O1 \
		-fsanitize=fuzzer,address,undefined \
		-fno-sanitize-recover=undefined \
		-o "$scratch/$1/target" "tests/fuzz/fuzz_$1.c" \
		$(sources_of "$1") $(libraries_of "$1") -lm
}

fuzz() {
	cp -R "tests/fuzz/corpus/$1" "$scratch/$1/corpus"
	chmod -R u+w "$scratch/$1/corpus"
	dictionary=
	if [ -f "tests/fuzz/$1.dict" ]; then
		dictionary=-dict=tests/fuzz/$1.dict
	fi
	LSAN_OPTIONS="suppressions=$PWD/tests/tools/lsan.supp:print_suppressions=0" \
		"$scratch/$1/target" ${dictionary:+"$dictionary"} \
		-max_total_time="$seconds" -timeout=10 -rss_limit_mb=2048 \
		-artifact_prefix="$scratch/$1/found-" "$scratch/$1/corpus" \
		>"$scratch/$1/log" 2>&1
}

passed=0
failed=0
for name; do
	mkdir -p "$scratch/$name"
	if ! build "$name"; then
		echo "fuzz $name: does not build"
		failed=$((failed + 1))
	elif fuzz "$name"; then
		echo "fuzz $name: $(grep '^Done' "$scratch/$name/log")"
		passed=$((passed + 1))
	else
		tail -n 60 "$scratch/$name/log"
		echo "fuzz $name: failed; see" "$scratch/$name"/found-*
		failed=$((failed + 1))
		keep=yes
	fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]

#!/bin/sh
# The scripts are plain sh that shellcheck has nothing to say about.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need shellcheck
make_scratch

find src tests conf demo docs -type f -name '*.sh' >"$scratch/scripts"
# A release does not carry this one.
[ ! -e .ci/run ] || echo .ci/run >>"$scratch/scripts"
xargs shellcheck -x -P SCRIPTDIR -s sh <"$scratch/scripts" || exit 1

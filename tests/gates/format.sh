#!/bin/sh
# Every C file is as clang-format leaves it.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need clang-format

sources '*.[ch]' | xargs clang-format --dry-run -Werror || exit 1

#!/bin/sh
# The manual pages are clean mdoc.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
need mandoc

status=0
for page in docs/*.[1-8]; do
	mandoc -T lint -W warning "$page" || status=1
done
exit "$status"

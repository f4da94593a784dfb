#!/bin/sh
# The manual and the sample file say what the table of settings says, and the
# sample is a configuration that the program takes.
set -eu
# shellcheck source=common.sh
. "$(dirname "$0")/common.sh"
for program in tests/tools/print_settings lull; do
	[ -x "$builddir/$program" ] && continue
	echo "$program is not built"
	exit 1
done
make_scratch

status=0
"$builddir/tests/tools/print_settings" >"$scratch/table"
awk '
	/^\.\\" settings end/ { inside = 0 }
	inside
	/^\.\\" settings begin/ { inside = 1 }
' docs/lull.conf.5 >"$scratch/manual"
if ! diff -u "$scratch/manual" "$scratch/table" >"$scratch/difference"; then
	echo "docs/lull.conf.5: between its settings marks goes what" \
		"tests/tools/print_settings prints:"
	sed 1,2d "$scratch/difference"
	status=1
fi

# A setting that one may leave out may stand in a comment.
sed -n 's/^\.It Cm //p' "$scratch/table" | sort -u >"$scratch/names"
test -s "$scratch/names"
while read -r name; do
	grep -Eq "(^|[^a-z-])$name([^a-z-]|\$)" conf/lull.conf.sample && continue
	echo "conf/lull.conf.sample: no $name"
	status=1
done <"$scratch/names"

cp conf/lull.conf.sample "$scratch/lull.conf"
echo 'include("cards.conf.sample")' >>"$scratch/lull.conf"
cp conf/practice.conf conf/cards.conf.sample "$scratch"
mkdir "$scratch/state"
if ! "$builddir/lull" check --config "$scratch/lull.conf" \
	--state "$scratch/state" >"$scratch/said" 2>&1; then
	echo "lull check refuses the sample:"
	cat "$scratch/said"
	status=1
fi
if grep 'does not say' "$scratch/said"; then
	status=1
fi
exit "$status"

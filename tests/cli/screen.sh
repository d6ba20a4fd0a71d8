#!/bin/bash
# Answers on the shipped knowledge: a worked case fits one screen of 80 x 40 in ASCII, and --brief three to five lines. Each eighth here, as the
# program prints it; all of them in tests/render/test_shipped.c.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=.

run show cases
if [ "$status" -ne 0 ] || is_empty out; then
  skip "answers on the shipped knowledge" "it cannot be loaded, or has no worked case"
  finish
fi
cases=$(sed -n 's/^\([^ ][^ ]*\).*/\1/p' "$scratch/out" | awk -v every=$((8 * ${EVERY:-1})) 'NR % every == 0')

fits() {
  awk -v rows=39 -v columns=79 '
    length($0) > columns { print "line " NR " has " length($0) " columns"; bad = 1 }
    /[^ -~]/ { print "line " NR " is not plain ASCII"; bad = 1 }
    END { if (NR > rows) { print NR " lines"; bad = 1 } exit bad }' "$scratch/out"
}
is_brief() { [ "$(wc -l < "$scratch/out")" -ge 2 ] && [ "$(wc -l < "$scratch/out")" -le 5 ]; }
for name in $cases; do
  run diagnose --case "$name"
  expect "$name is answered" ended 0
  LC_ALL=C expect "$name fits the screen" fits
  run diagnose --case "$name" --brief
  expect "$name in brief" is_brief
done
finish

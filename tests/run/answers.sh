#!/bin/bash
# What every shipped worked case comes to, against the answers accepted in tests/run/answers.txt: the leading cause, the drill, and a digest of
# every certainty. So an edit that moves a certainty anywhere is noticed though no case expects it; `whymiss compare --git HEAD .` tells what it
# moved. ACCEPT=1 accepts the answers as they are. With them kept, the small mistakes put into the rules must be noticed: 85 of 100.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=.
accepted=tests/run/answers.txt
if [ -n "${ACCEPT:-}" ]; then
  { echo "# Accepted answers of the shipped worked cases, written by make accept."; "$WHYMISS" cases --answers --brief; } > "$accepted"
fi

run cases --accepted "$accepted"
grep -A6 '^not ok' "$scratch/out" | head -40
expect "every worked case comes to its accepted answer" ended 0

if [ "${EVERY:-1}" -gt 1 ]; then
  skip "mistakes in the rules are noticed" "told by the run without sanitizers"
  finish
fi
seconds=$SECONDS
run cases --mutate --accepted "$accepted"
seconds=$((SECONDS - seconds))
sed -n '1,3p; /^thresholds/,/^all/p' "$scratch/out" | sed 's/^/# /'
expect "all cases count" grep -q "^In $("$WHYMISS" cases | sed -n 's/^# \([0-9]*\) worked cases.*/\1/p') cases" "$scratch/out"
share=$(sed -n 's/^all .* \([0-9]*\) %$/\1/p' "$scratch/out")
expect "at least 85 % of the mistakes are noticed ($share %)" test "${share:-0}" -ge 85
expect "in less than a minute ($seconds s)" test "$seconds" -lt 60
finish

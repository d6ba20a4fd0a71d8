#!/bin/bash
# Every step that --steps prints, as text and as JSON, is reckoned again by step_checker.py from the print alone: on all worked
# cases with --all, on every other one without it, on the rest as JSON, on a left-handed player and on means; and the checker
# itself must notice each certainty that is falsified.
set -u
whymiss=${WHYMISS:-build/whymiss}
checker=$PWD/tests/run/step_checker.py
whymiss=$(realpath "$whymiss")
export WHYMISS_BASE=${WHYMISS_BASE:-$PWD}
prints=$(mktemp -d)
trap 'rm -rf "$prints"' EXIT

# A command that fails leaves an empty print, which the checker calls not ok.
print() { # name, arguments of diagnose...
  local name=$1
  shift
  "$whymiss" diagnose "$@" --steps > "$prints/$name" 2> "$prints/errors" || cat "$prints/errors"
}

cases=$("$whymiss" show cases --json |
  python3 -c 'import json, sys; print(*[entry["name"] for entry in json.load(sys.stdin)["entries"]], sep="\n")')
if [ -z "$cases" ]; then echo "not ok - no worked cases"; fi
# Each case in full, and in turn without --all or as JSON.
number=0
while read -r case; do
  number=$((number + 1))
  print "$case-all" --case "$case" --all
  if [ $((number % 2)) -eq 0 ]; then print "$case" --case "$case"; else print "$case-all.json" --case "$case" --all --json; fi
done < <(awk -v every="${EVERY:-1}" 'NR % every == 0' <<< "$cases")

evidence=(club=7i face=1 path=-5 strike=toe ball_speed=88mph)
print left-handed --handed left "${evidence[@]}"
print left-handed.json --handed left "${evidence[@]}" --json
print mean-of-five --mean-of 5 "${evidence[@]}" --all
print mean-of-five.json --mean-of 5 "${evidence[@]}" --all --json

cd "$prints" || exit 1
rm -f errors
python3 -B "$checker" -- *
python3 -B "$checker" --falsify left-handed

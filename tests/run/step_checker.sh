#!/bin/bash
# Every step that --steps prints, as text and as JSON, is reckoned again by step_checker.py from the print alone: on all worked
# cases, with and without --all, and on their mirror images; and the checker itself must notice each certainty that is falsified.
set -u
whymiss=${WHYMISS:-build/whymiss}
checker=tests/run/step_checker.py
number=0

report() { # status, name, output
  number=$((number + 1))
  if [ "$1" -eq 0 ]; then echo "ok $number - $2: ${3%%$'\n'*}"; else printf 'not ok %d - %s\n%s\n' "$number" "$2" "$3"; fi
}

try() { # name, checker option, command...
  local name=$1 option=$2 steps output
  shift 2
  if ! steps=$("$@" 2>&1); then
    report 1 "$name" "$steps"
    return
  fi
  output=$(python3 "$checker" ${option:+"$option"} <<< "$steps" 2>&1)
  report $? "$name" "$output"
}

cases=$("$whymiss" show cases --json | python3 -c 'import json, sys; print(*[entry["name"] for entry in json.load(sys.stdin)["entries"]], sep="\n")')
if [ -z "$cases" ]; then report 1 "worked cases" "none found"; fi

for case in $cases; do
  try "steps of $case" "" "$whymiss" diagnose --case "$case" --steps
  try "all steps of $case" "" "$whymiss" diagnose --case "$case" --steps --all
  try "all steps of $case, JSON" --json "$whymiss" diagnose --case "$case" --steps --all --json
done

evidence=(club=7i face=1 path=-5 strike=toe ball_speed=88mph)
try "left-handed" "" "$whymiss" diagnose --handed left "${evidence[@]}" --steps --all
try "mean of five shots" "" "$whymiss" diagnose --mean-of 5 "${evidence[@]}" --steps --all
try "mean of five shots, JSON" --json "$whymiss" diagnose --mean-of 5 "${evidence[@]}" --steps --all --json
try "each falsehood is noticed" --falsify "$whymiss" diagnose "${evidence[@]}" --steps --all

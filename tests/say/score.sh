#!/bin/bash
# How much of what players say is understood: the development set sentence by sentence, the held-out set, which nobody may tune to, as figures
# alone. A set passes when 90 % of its items are right and 95 % of its sentences have no false item.
set -u
number=0 failed=0

# name, file, options of the tool
score() {
  local name=$1 line items sentences
  number=$((number + 1))
  shift
  if ! [ -e "$1" ]; then
    echo "ok $number - $name # skip there is no $1"
    return
  fi
  "${BUILD:-build}/tests/say_score" "$@" > "$log" 2>&1
  sed 's/^/# /' "$log"
  line=$(tail -1 "$log")
  items=$(sed -n 's/.* items right (\([0-9]*\).*/\1/p' <<< "$line")
  sentences=$(sed -n 's/.* false item (\([0-9]*\).*/\1/p' <<< "$line")
  if [ "${items:-0}" -ge 90 ] && [ "${sentences:-0}" -ge 95 ]; then
    echo "ok $number - $name"
  else
    echo "not ok $number - $name"
    failed=1
  fi
}

log=$(mktemp)
trap 'rm -f "$log"' EXIT
score "the development set" tests/say/dev.yaml
score "the held-out set" tests/say/heldout.yaml --figures
echo "1..$number"
exit "$failed"

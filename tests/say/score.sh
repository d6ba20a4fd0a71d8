#!/bin/bash
# How much of what players say is understood: the development set sentence by sentence, the held-out set, which nobody may tune to, as figures
# alone. Each must reach 90 % of the items right and no false item in 95 % of the sentences.
set -u
number=0 failed=0

# name, least share of items and of sentences, file, options of the tool
score() {
  local name=$1 least_items=$2 least_sentences=$3 line items sentences
  number=$((number + 1))
  shift 3
  if ! [ -e "$1" ]; then
    echo "ok $number - $name # skip there is no $1"
    return
  fi
  "${BUILD:-build}/tests/say_score" "$@" > "$log" 2>&1
  sed 's/^/# /' "$log"
  line=$(tail -1 "$log")
  items=$(sed -n 's/.* items right (\([0-9]*\).*/\1/p' <<< "$line")
  sentences=$(sed -n 's/.* false item (\([0-9]*\).*/\1/p' <<< "$line")
  if [ "${items:-0}" -ge "$least_items" ] && [ "${sentences:-0}" -ge "$least_sentences" ]; then
    echo "ok $number - $name"
  else
    echo "not ok $number - $name"
    failed=1
  fi
}

log=$(mktemp)
trap 'rm -f "$log"' EXIT
score "the development set" 90 95 tests/say/dev.yaml
score "the held-out set" 90 95 tests/say/heldout.yaml --figures
echo "1..$number"
exit "$failed"

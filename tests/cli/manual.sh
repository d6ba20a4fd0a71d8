#!/bin/bash
# The manual page names each command and option that the help names, and no others; its examples run.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=tests/kb_small
page=docs/whymiss.1

run --help
commands=$(sed -n 's/^  \([a-z]*\)  *[a-z].*/\1/p' "$scratch/out" | grep -v '^whymiss$')
for command in $commands; do
  expect "the manual tells of $command" grep -qE "^\.It Cm $command\$" "$page"
  run "$command" --help
  sed -n 's/^  --\([a-z-]*\) .*/\1/p' "$scratch/out" >> "$scratch/options"
done
sort -u "$scratch/options" > "$scratch/helped"
sed -n 's/^\.It Fl -\([a-z-]*\).*/\1/p' "$page" | sort -u > "$scratch/documented"
expect "the manual tells of all options" diff "$scratch/helped" "$scratch/documented"

while read -r line; do
  case $line in *my-academy*) continue ;; esac
  line=${line//'\(dq'/'"'}
  eval "arguments=(${line#whymiss })"
  run "${arguments[@]}"
  expect "example: $line" ended 0
done < <(sed -n 's/^\.Dl //p' "$page")
if command -v mandoc > /dev/null; then
  expect "mandoc finds no fault" mandoc -T lint -W warning "$page"
else
  skip "mandoc finds no fault" "mandoc is not installed"
fi
finish

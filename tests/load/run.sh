#!/bin/bash
# One folder a case: what is loaded, and the exact diagnostics (expected.txt, with the exit status as its last line).
# A case is copied to a folder of its own, made there by its file `prepare` if it has one, and loaded over tests/load/vocabulary; its file
# `command` holds other arguments, one a line. Every code of the table must be told by a case of its name (code or code_variant).
# ACCEPT=1 rewrites the expected files.
set -u
root=$PWD
cases=tests/load
whymiss=$(realpath "${WHYMISS:-build/whymiss}")
if ! [ -x "$whymiss" ]; then
  echo "not ok 1 - $whymiss can be run"
  exit 1
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
number=0 failed=0

say() { # good?, name
  number=$((number + 1))
  if [ "$1" -eq 0 ]; then
    echo "ok $number - $2"
  else
    echo "not ok $number - $2"
    failed=1
  fi
}

run_case() { # folder; leaves the text in $work/got.txt
  local words=(check --bare --kb vocabulary --kb case)
  rm -rf "$work/case"
  cp -r "$1" "$work/case"
  if [ -e "$1/prepare" ]; then (cd "$work/case" && sh ./prepare); fi
  if [ -e "$1/command" ]; then mapfile -t words < "$1/command"; fi
  (cd "$work" && "$whymiss" "${words[@]}" 2> got.txt > answer.txt)
  echo "exit status $?" >> "$work/got.txt"
}

cp -r "$cases/vocabulary" "$work/vocabulary"
for folder in "$cases"/*/; do
  name=$(basename "$folder")
  if [ "$name" = vocabulary ]; then continue; fi
  run_case "$root/$folder"
  if [ -n "${ACCEPT:-}" ]; then cp "$work/got.txt" "$folder/expected.txt"; fi
  diff -u --label "$name: expected" --label "$name: got" "$folder/expected.txt" "$work/got.txt"
  say $? "$name"
done

# Codes without a case; some are told where they can be brought about.
declare -A elsewhere=([no-memory]=tests/oom/test_oom.c [log-locked]=tests/cli/log.sh)
while read -r code; do
  cat "$cases/$code"/expected.txt "$cases/$code"_*/expected.txt "${elsewhere[$code]:-/dev/null}" 2> "$work/missing.txt" |
    grep -qE "\[$code\\\\?\]"
  say $? "a case tells $code"
done < <(sed -n 's/^DIAG_ROW([A-Z_]*, "\([a-z-]*\)".*/\1/p' engine/diag/diag_table.h)
echo "1..$number"
exit "$failed"

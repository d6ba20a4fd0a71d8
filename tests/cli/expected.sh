#!/bin/bash
# What the command prints, word for word, on the small knowledge base: expected.list names the runs.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=tests/kb_small

while IFS= read -r line; do
  case $line in '#'* | '') continue ;; esac
  name=${line%%:*}
  arguments=()
  eval "arguments=(${line#*:})"
  run "${arguments[@]}"
  { cat "$scratch/out"; echo "-- stderr"; cat "$scratch/err"; echo "-- exit $status"; } |
    sed -E 's/\b[0-9a-f]{16}\b/DIGEST/' > "$scratch/now" # the fingerprint of the knowledge is no matter of this test
  file=tests/cli/expected/$name.txt
  if [ -n "${ACCEPT:-}" ]; then cp "$scratch/now" "$file"; fi
  if diff -u "$file" "$scratch/now" > "$scratch/difference" 2>&1; then pass "$name"; else fail "$name" "$scratch/difference"; fi
done < tests/cli/expected.list
finish

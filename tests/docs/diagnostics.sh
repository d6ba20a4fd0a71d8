#!/bin/bash
# docs/diagnostics.md is what the table of diagnostics and the load cases make of it. ACCEPT=1 rewrites it.
set -u
page=docs/diagnostics.md
made=$(mktemp)
trap 'rm -f "$made"' EXIT
echo 1..1
"${BUILD:-build}/tests/docs_diagnostics" > "$made" || exit 1
if [ -n "${ACCEPT:-}" ]; then cp "$made" "$page"; fi
if diff -u --label "$page" --label "the table" "$page" "$made"; then
  echo "ok 1 - $page is up to date"
else
  echo "not ok 1 - $page is not up to date: run make accept"
  exit 1
fi

#!/bin/bash
# docs/diagnostics.md is what the table of diagnostics makes. ACCEPT=1 rewrites it.
set -u
page=docs/diagnostics.md
tool=${BUILD:-build}/tests/docs_diagnostics
if ! [ -x "$tool" ]; then
  echo "Bail out! there is no program $tool"
  exit 1
fi
if [ -n "${ACCEPT:-}" ]; then "$tool" > "$page"; fi
if "$tool" | diff -u --label expected --label got "$page" -; then
  echo "ok 1 - the page of diagnostics is up to date"
else
  echo "not ok 1 - the page of diagnostics is up to date"
  failed=1
fi
echo "1..1"
exit "${failed:-0}"

#!/bin/bash
# docs/reasoning.md: each command is run and each block of YAML used, in a scratch directory over the shipped knowledge.
set -u
if ! /usr/bin/python3 -c 'import yaml' 2> /dev/null; then
  echo "ok 1 - docs/reasoning.md holds # skip python3-yaml is not installed"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin" "$work/lesson"
ln -s "$(realpath "$WHYMISS")" "$work/bin/whymiss"
PATH=$work/bin:$PATH NO_COLOR=1 WHYMISS_BASE=$PWD /usr/bin/python3 tests/docs/page.py docs/reasoning.md "$work/lesson" "$PWD"
status=$?
# The table of strengths: no shipped rule has a strength beside it without a reason in its file.
if WHYMISS_BASE=$PWD "$WHYMISS" check --json > "$work/check.json" && /usr/bin/python3 - "$work/check.json" << 'PY'
import json, sys
found = [finding for finding in json.load(open(sys.argv[1]))["findings"] if finding["code"] == "strength-off-table"]
without = [finding["place"]["file"] for finding in found if not finding.get("accepted")]
print(f"# {len(found)} files have strengths beside the table, without a reason: {without}")
sys.exit(bool(without))
PY
then
  echo "ok 100 - each strength is of the table, or its file says why"
else
  echo "not ok 100 - each strength is of the table, or its file says why"
  status=1
fi
exit "$status"

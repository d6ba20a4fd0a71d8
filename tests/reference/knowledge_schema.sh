#!/bin/bash
# The JSON Schema of the knowledge against the reader: both take the whole shipped knowledge, both refuse 200 broken entries made by a seeded
# mutator, and they agree on each key left out. What only the reader can see is listed in docs/rules.md. ACCEPT=1 rewrites the schema in docs/.
set -u
if ! /usr/bin/python3 -c 'import jsonschema, yaml' 2> /dev/null; then
  echo "ok 1 - the schema and the reader agree # skip python3-jsonschema or python3-yaml is not installed"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export WHYMISS_BASE=${WHYMISS_BASE:-$PWD}
page=docs/schemas/knowledge.schema.json
"$WHYMISS" show schema --bare > "$work/any.json" && "$WHYMISS" show schema > "$work/names.json" || exit 1
if [ -n "${ACCEPT:-}" ]; then cp "$work/any.json" "$page"; fi
if cmp -s "$page" "$work/any.json"; then echo "ok 1 - $page is up to date"; else
  echo "not ok 1 - $page is not what 'whymiss show schema --bare' prints; run make accept"
fi
/usr/bin/python3 tests/reference/knowledge_schema.py "$WHYMISS" "$WHYMISS_BASE" "$work"

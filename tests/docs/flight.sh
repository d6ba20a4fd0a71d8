#!/bin/bash
# The residual table of docs/flight.md is exactly what the program prints. ACCEPT=1 rewrites it.
set -u
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
page=docs/flight.md
"$WHYMISS" flight --residuals > "$work/now" || { echo "not ok 1 - the program prints residuals"; exit 1; }

# The block that begins with the command, without its fences.
awk '/^\$ whymiss flight --residuals$/ { within = 1; next } /^```/ { within = 0 } within' "$page" > "$work/told"
if [ -n "${ACCEPT:-}" ]; then
  awk -v now="$work/now" '
    /^\$ whymiss flight --residuals$/ { print; while ((getline line < now) > 0) print line; within = 1; next }
    /^```/ { within = 0 }
    !within' "$page" > "$work/page" && cp "$work/page" "$page"
  cp "$work/now" "$work/told"
fi
if diff "$work/told" "$work/now" > "$work/difference"; then echo "ok 1 - the residual table is what the program prints"; else
  echo "not ok 1 - the residual table is what the program prints"
  sed 's/^/# /' "$work/difference"
fi
for model in blend smits1994 lyu2018; do
  number=$((${number:-1} + 1))
  if grep -q "^| \`$model\` " "$page"; then echo "ok $number - $model is described"; else echo "not ok $number - $model is described"; fi
done

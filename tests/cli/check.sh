#!/bin/bash
# check: what is told, its JSON against docs/schemas/check.schema.json, its SARIF against the published schema (fetched with npm into
# the build folder), witnesses that can be run, acceptances, and that the shipped knowledge holds nothing unaccounted for.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
: "${BUILD:=build}"
export WHYMISS_BASE=tests/kb_small

for python in python3 /usr/bin/python3 none; do
  if "$python" -c 'import jsonschema' 2> /dev/null; then break; fi
done
export PYTHONWARNINGS=ignore # of validators of old drafts

# schema file, then a Python statement that may change d
validate() {
  "$python" - "$scratch/out" "$1" "${2:-pass}" << 'END'
import json, sys, jsonschema
schema = json.load(open(sys.argv[2]))
d = json.load(open(sys.argv[1]))
exec(sys.argv[3])
make = jsonschema.validators.validator_for(schema)
make.check_schema(schema)
faults = list(make(schema).iter_errors(d))
for fault in faults[:5]:
    print(list(fault.path), fault.message[:200])
sys.exit(1 if faults else 0)
END
}
invalid() { ! validate "$@"; }

schema=docs/schemas/check.schema.json
package=@microsoft/jest-sarif@1.0.0-beta.0
sarif=$BUILD/sarif/package/lib/schemas/sarif-2.1.0-rtm.5.json
fetch_sarif() {
  if [ -e "$sarif" ]; then return 0; fi
  command -v npm > /dev/null || return 1
  mkdir -p "$BUILD/sarif" || return 1
  (cd "$BUILD/sarif" && timeout 60 npm pack --silent "$package" > packed.txt && tar xzf "$(tail -n 1 packed.txt)") > /dev/null 2>&1
  [ -e "$sarif" ]
}
fetch_sarif

# name, arguments: both forms of the report are valid
report() {
  local name=$1
  shift
  run check --json "$@"
  if [ "$python" = none ]; then skip "$name, as JSON" "python3-jsonschema is not installed"; else
    expect "$name, as JSON" validate "$schema"
  fi
  run check --sarif "$@"
  if [ "$python" = none ]; then skip "$name, as SARIF" "python3-jsonschema is not installed"
  elif ! [ -e "$sarif" ]; then skip "$name, as SARIF" "the published schema cannot be fetched"
  else expect "$name, as SARIF" validate "$sarif"; fi
}

# ---- an academy's layer with faults that lie across layers ----
layer=$scratch/layer
mkdir "$layer"
cat > "$layer/rules.yaml" << 'END'
- rule: cuts-and-does-not
  when: {all: [{cuts_across: believed}, {path: {above: 3}}]}
  then: {steep_shaft: suggests}
  because: With a path of more than 3 degrees nobody cuts across, and 7 is too much.
  kind: experience
  source: practice
- rule: cuts-much
  when: {path: {below: -6}}
  then: {cuts_across: points}
  because: The club travels {path}.
  kind: geometry
  group: across
  source: practice
- rule: cuts-far
  when: {path: {below: -5}}
  then: {cuts_across: strong}
  because: The club travels {path}.
  kind: geometry
  group: across
  source: practice
  accept: {shared-readings: the base has no groups}
- rule: says-it-long
  when: {words: {matches: "((far )*far )+left"}}
  then: {steep_shaft: hint}
  because: The player says so.
  kind: experience
  source: practice
END
run check --kb "$layer"
expect "findings are no failure" ended 0
expect "a rule at odds with itself through a finding is told" has err "layer/rules.yaml:1:9: warning: rule 'cuts-and-does-not' can never fire: 'cuts_across believed above 0.2' and 'path above 3 deg' never hold together [never-fires]"
expect "with the one place" has err "layer/rules.yaml:2:16: note: this condition"
expect "and the other" has err "layer/rules.yaml:2:41: note: and this one"
expect "and the way the finding is reached" has err "note: 'cuts_across' is believed by rule"
expect "a covered rule is told" has err "on 'cuts_across' rule 'cuts-much' adds nothing of its own: wherever it fires, rule 'cuts-far' says at least as much"
expect "with the other place" has err "layer/rules.yaml:14:9: note: the rule that covers it"
expect "and what to run to see it" has err "note: see it with: whymiss diagnose path=-9"
expect "a number only the text holds is told where it stands" has err "layer/rules.yaml:4:71: warning: the text says 7"
expect "a slow pattern is told" has err "repeats what repeats already and gives up on a text of"
expect "the summary counts the accepted" grep -q 'warnings, [0-9]* notes\?; [0-9]* findings\? accepted' "$scratch/out"

report "an academy's layer" --kb "$layer"
run check --json --kb "$layer"
for change in 'd["extra"] = 1' 'del d["counts"]' 'd["findings"][0]["level"] = "bad"' 'd["findings"][0]["place"]["line"] = "1"' \
  '[f for f in d["findings"] if "witness" in f][0]["witness"]["command"] = "rm -r"' \
  '[f for f in d["findings"] if "accepted" in f][0]["accepted"]["reason"] = ""'; do
  if [ "$python" = none ]; then skip "the schema refuses: $change" "python3-jsonschema is not installed"; else
    expect "the schema refuses: $change" invalid "$schema" "$change"
  fi
done
expect "JSON leaves stderr empty" is_empty err

# ---- witnesses ----
run check --kb "$layer" --witness "$scratch/cases"
expect "witnesses are counted" has out "witness cases in $scratch/cases"
wrong=0 n=0
for file in "$scratch/cases"/*.yaml; do
  n=$((n + 1))
  run diagnose --kb "$layer" --case "$file"
  [ "$status" -eq 0 ] || wrong=$((wrong + 1))
done
expect "each witness can be run ($n of them)" test "$wrong" -eq 0 -a "$n" -ge 3
run diagnose --kb "$layer" --case "$scratch/cases/covered-cuts-much.yaml" --steps --all
expect "the witness of the covered rule fires both" grep -q 'cuts-much' "$scratch/out"
run diagnose --kb "$layer" --case "$scratch/cases/slow-pattern-says-it-long.yaml"
expect "the witness of a slow pattern makes it give up" has err "[pattern-limit]"
# The commands as they stand, read by a shell.
run check --json --kb "$layer"
sed -n 's/^ *"command": "\(.*\)"$/\1/p' "$scratch/out" | sed 's/\\"/"/g; s/\\\\/\\/g' > "$scratch/commands"
wrong=0
while read -r command; do
  eval "\"$WHYMISS\" $command --kb \"$layer\"" > "$scratch/out" 2> "$scratch/err" || wrong=$((wrong + 1))
done < "$scratch/commands"
expect "each command can be run" test "$wrong" -eq 0 -a -s "$scratch/commands"
run check --witness "$scratch/commands/below"
expect "a place that cannot be made is a failure" ended 5
expect "told as such" has err "cannot make"

# ---- faulty knowledge ----
mkdir "$scratch/faulty"
printf -- '- rule: r%%20 "x"\n  when: {pth: {above: 1}}\n  then: {cuts_across: strnog}\n  because: x\n  kind: geometry\n' > "$scratch/faulty/a b.yaml"
report "knowledge that cannot be loaded" --kb "$scratch/faulty"
run check --sarif --kb "$scratch/faulty"
expect "errors are in the log" has out '"level": "error"'
expect "and not on stderr" is_empty err
expect "and are a finding" ended 1
expect "a path is escaped" has out "faulty/a%20b.yaml"
report "the small knowledge"

# ---- explaining ----
run check --explain never-fires
expect "a code is explained" has out "An entry that means it so says why"
expect "without knowledge too" ended 0
run check --explain neverfires
expect "a misspelt code is wrong usage" ended 2
expect "with the nearest one" has err "did you mean 'never-fires'?"
missing=0
while read -r code; do
  run check --explain "$code"
  [ "$status" -eq 0 ] || missing=$((missing + 1))
done < <(sed -n 's/^DIAG_ROW([A-Z_]*, "\([a-z-]*\)".*/\1/p' engine/diag/diag_table.h)
expect "every code is explained" test "$missing" -eq 0
run check --json --sarif
expect "one log at a time" ended 2
for value in 0 -1 x 1e3 99999999999999999999; do
  run check --seed "$value"
  expect "--seed $value is wrong usage" ended 2
done

# ---- the shipped knowledge ----
export WHYMISS_BASE=$PWD
TIMEFORMAT=%U
spent=$( { time run check > /dev/null; } 2>&1)
run check
expect "the shipped knowledge has nothing unaccounted for" has out "nothing to find fault with"
echo "# check took $spent s"
report "the shipped knowledge"
run check --thorough --impacts 200
expect "nor in the thorough search" has out "nothing to find fault with"
finish

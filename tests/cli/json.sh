#!/bin/bash
# diagnose --json validates against docs/schemas/diagnosis.schema.json in every kind of answer, and the schema refuses what it should.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=tests/kb_small

for python in python3 /usr/bin/python3 none; do
  if "$python" -c 'import jsonschema' 2> /dev/null; then break; fi
done
if [ "$python" = none ]; then
  skip "diagnose --json against its schema" "python3-jsonschema is not installed"
  finish
fi

# The file on stdin, changed by the Python statement, if any, must be valid (0) or not (1).
validate() {
  "$python" - "$scratch/out" "${1:-pass}" << 'END'
import json, sys, jsonschema
schema = json.load(open('docs/schemas/diagnosis.schema.json'))
jsonschema.Draft202012Validator.check_schema(schema)
d = json.load(open(sys.argv[1]))
exec(sys.argv[2])
faults = list(jsonschema.Draft202012Validator(schema).iter_errors(d))
for fault in faults[:5]:
    print(list(fault.path), fault.message[:200])
sys.exit(1 if faults else 0)
END
}
invalid() { ! validate "$1"; }

check() { # name, arguments
  local name=$1
  shift
  run diagnose --json "$@"
  expect "$name" validate
}
check "a leading cause" club=7i face=1 path=-5 strike=toe
check "a left-handed case" --handed left club=7i face=-1 path=5 strike=toe lie=left_slope
check "a mean" --mean-of 12 face=1 path=-5
check "nothing given"
check "nothing wrong" path=0
check "undecided" path=-3.2
check "a red flag" pain=yes path=-5 face=1
check "a contradiction" path=-5 face=1 face_to_path=12
check "drills removed" lie=rough sticks_at_hand=no path=-5 face=1
check "words with quotes, controls and bytes that are not UTF-8" words=$'a "b" \\ \e \xff' path=-5 face=1

run diagnose --json club=7i face=1 path=-5 strike=toe lie=rough
for change in 'd["extra"] = 1' 'del d["causes"]' 'd["causes"][0]["certainty"] = 1.5' 'd["causes"][0]["standing"] = "sure"' \
  'd["readings"][0]["state"] = "guessed"' 'd["readings"][1]["extra"] = 1' 'del d["readings"][1]["number"]' \
  'd["drills"][0]["cautions"] = []' 'd["removed"][0]["setup"] = "x"' 'd["kb_digest"] = "xyz"'; do
  expect "the schema refuses: $change" invalid "$change"
done

# The numbers a left-handed player reads are the mirror image of a right-handed one's, and nothing else differs.
cp "$scratch/out" "$scratch/right"
run diagnose --json --handed left club=7i face=-1 path=5 strike=toe lie=rough
mirrored() {
  "$python" - "$scratch/right" "$scratch/out" << 'END'
import json, sys
a, b = (json.load(open(name)) for name in sys.argv[1:])
numbers = lambda d: {r['name']: r['number'] for r in d['readings'] if 'number' in r}
na, nb = numbers(a), numbers(b)
assert na['path'] == -nb['path'] and na['face_to_path'] == -nb['face_to_path'] and na['strike'] == nb['strike']
pick = lambda d: [(c['name'], c['certainty'], c['standing']) for c in d['causes']]
assert pick(a) == pick(b) and a['drill'] == b['drill'] and a['leading'] == b['leading']
swap = lambda s: s.replace('left', '\0').replace('right', 'left').replace('\0', 'right')
assert [c['title'] for c in a['causes']] == [swap(c['title']) for c in b['causes']]
END
}
expect "a left-handed case is the mirror image" mirrored
finish

#!/bin/bash
# diagnose --shots: what is printed, word for word, on the small knowledge of tests/session (shots.list); JSON against its schema; tables
# on standard input and from a pipe; the columns of the shipped knowledge; 100,000 lines in two seconds.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=tests/session/small

while IFS= read -r line; do
  case $line in '#'* | '') continue ;; esac
  name=${line%%:*}
  arguments=()
  eval "arguments=(${line#*:})"
  run diagnose "${arguments[@]}"
  { cat "$scratch/out"; echo "-- stderr"; cat "$scratch/err"; echo "-- exit $status"; } > "$scratch/now"
  file=tests/cli/expected/shots_$name.txt
  if [ -n "${ACCEPT:-}" ]; then cp "$scratch/now" "$file"; fi
  if diff -u "$file" "$scratch/now" > "$scratch/difference" 2>&1; then pass "$name"; else fail "$name" "$scratch/difference"; fi
  expect "$name fits 80 columns" test "$(LC_ALL=C awk '{ if (length > n) n = length } END { print n + 0 }' "$scratch/out")" -lt 80
done < tests/cli/shots.list

# ---- ways in ----
run diagnose --shots tests/cli/shots/comma.csv
cp "$scratch/out" "$scratch/file"
"$WHYMISS" diagnose --shots - < tests/cli/shots/comma.csv > "$scratch/out" 2> "$scratch/err"
status=$?
expect "standard input is read" ended 0
same() { diff <(sed -n '/^Club/,$p' "$scratch/file") <(sed -n '/^Club/,$p' "$scratch/out"); }
expect "and says the same" same
(while IFS= read -r line; do echo "$line"; done < tests/cli/shots/comma.csv) | "$WHYMISS" diagnose --shots /dev/stdin > "$scratch/out" 2> "$scratch/err"
status=${PIPESTATUS[1]}
expect "a pipe that trickles is read" ended 0
expect "and says the same" same

# ---- words in a table ----
mkdir "$scratch/words"
cat > "$scratch/words/phrases.yaml" << 'END'
- phrase: hurts
  says: pain(?:ful)?|hurts?|hurting
  means: {pain: yes}
  denied: {pain: no}
  sure: 0.95
  such_as: [it hurts, no pain]
  source: practice
- phrase: never
  says: never|not|no|without
  turns: denied
  source: practice
END
table() { printf '%b\n' "$@" > "$scratch/table.csv"; run diagnose --kb "$scratch/words" --shots "$scratch/table.csv"; }
table 'club,path,notes' '7i,-6,good' '7i,-6,"my wrist hurts, left"'
expect "a remark of pain stops the session" has out "STOP      Stop."
expect "its place is told" has out "line 3: my wrist hurts, left."
expect "no drill then" lacks out "set up"
table 'club,path,remark of mine' '7i,-6,it hurts'
expect "also in a column that is not understood" has out "line 2: it hurts."
table 'club,path,notes' '7i,-6,no pain today' '7i,-6,' '7i,-6,felt fine'
expect "no pain is no pain" lacks out STOP
expect "that the remarks were searched is told" has out "'notes' (no reading; searched for pain and danger"
for answer in yes x 3 '0.5' 'a bit'; do
  table 'club,path,Does it hurt?' '7i,-6,no' "7i,-6,$answer"
  case $answer in
  'a bit') expect "words are searched by themselves" lacks out STOP ;;
  *) expect "a header that asks, answered '$answer', stops the session" has out "line 3: Does it hurt?: $answer." ;;
  esac
done
table 'club,path,Does it hurt?' '7i,-6,no' '7i,-6,0' '7i,-6,'
expect "answered by no it does not" lacks out STOP
{ echo 'club,path,notes'; seq -f '7i,-6,remark number %g' 2001; } > "$scratch/table.csv"
run diagnose --kb "$scratch/words" --shots "$scratch/table.csv"
expect "remarks over the limit are told" has out "1 remark not searched"
run diagnose --shots "$scratch/table.csv"
expect "without phrases nothing is said to be searched" lacks out searched

# ---- JSON ----
validate() {
  /usr/bin/python3 - "$scratch/out" "${1:-pass}" << 'END'
import json, sys, jsonschema
schema = json.load(open('docs/schemas/session.schema.json'))
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
if /usr/bin/python3 -c 'import jsonschema' 2> /dev/null; then
  for table in comma.csv semicolon.csv sides.tsv faults.csv five.csv no_flight.csv pain.csv opposite.csv doubts.csv hand.csv; do
    run diagnose --json --shots "tests/cli/shots/$table" --unit strike=mm --club 7i
    expect "$table as JSON" validate
  done
  run diagnose --json --handed left --shots tests/cli/shots/left_handed.csv pain=yes
  expect "a left-handed player in pain as JSON" validate
  run diagnose --json --shots tests/cli/shots/pain.csv
  for change in 'del d["stop"]["line"]' 'd["stop"]["red_flag"] = None' 'd["table"]["columns"][0]["use"] = "remark"'; do
    expect "the schema refuses: $change" invalid "$change"
  done
  run diagnose --json --shots tests/cli/shots/comma.csv
  for change in 'd["extra"] = 1' 'del d["blocks"]' 'd["blocks"][0]["figures"][0]["sd"] = -1' 'd["blocks"][0]["groups"][0]["start"] = "up"' \
    'd["table"]["delimiter"] = ":"' 'd["blocks"][0]["test"]["kind"] = "guess"' 'd["blocks"][0]["causes"][0]["score"] = 2'; do
    expect "the schema refuses: $change" invalid "$change"
  done
else
  skip "diagnose --shots --json against its schema" "python3-jsonschema is not installed"
fi

# The mirror image of the same shots has the same causes, drill and test; sides are exchanged.
run diagnose --json --shots tests/cli/shots/comma.csv
cp "$scratch/out" "$scratch/right"
run diagnose --json --handed left --shots tests/cli/shots/left_handed.csv --club 7i
mirrored() {
  /usr/bin/python3 - "$scratch/right" "$scratch/out" << 'END'
import json, sys
a, b = (json.load(open(name))['blocks'][0] for name in sys.argv[1:])
mean = lambda d: {f['evidence']: f['mean'] for f in d['figures']}
assert abs(mean(a)['path'] + mean(b)['path']) < 1e-9
swap = {'left': 'right', 'right': 'left', 'straight': 'straight', None: None}
assert [(g['n'], g['start'], g['curve']) for g in a['groups']] == [(g['n'], swap[g['start']], swap[g['curve']]) for g in b['groups']]
pick = lambda d: [(c['name'], round(c['score'], 9)) for c in d['causes']]
assert pick(a) == pick(b) and a['drill'] == b['drill'] and a['one_cause'] == b['one_cause'] == 'steep'
pick = lambda d: [d['test'][k] for k in ('kind', 'shots', 'needed', 'power')]
assert pick(a) == pick(b)
END
}
expect "a left-handed player's shots are the mirror image" mirrored

# ---- the shipped knowledge ----
understood() { # evidence:header ... of a table with a row of plausible numbers
  /usr/bin/python3 - "$scratch/out" "$@" << 'END'
import json, sys
columns = {c['header']: c['evidence'] for c in json.load(open(sys.argv[1]))['table']['columns']}
for pair in sys.argv[2:]:
    evidence, header = pair.split(':', 1)
    assert columns[header] == evidence, (header, columns[header], evidence)
END
}
check_headers() { # name, values, pairs
  local name=$1 values=$2 pair
  shift 2
  : > "$scratch/headers"
  for pair in "$@"; do printf '%s;' "${pair#*:}" >> "$scratch/headers"; done
  { cat "$scratch/headers"; echo; echo "$values"; } > "$scratch/table.csv"
  run diagnose --bare --kb "$scratch/knowledge" --json --shots "$scratch/table.csv"
  expect "$name" understood "$@"
}
# Only the vocabulary of the shipped knowledge is needed, and it loads faster so.
mkdir -p "$scratch/knowledge"
cp -r kb/evidence kb/clubs.yaml kb/columns.yaml kb/windows.yaml kb/sources.yaml "$scratch/knowledge"
check_headers "headers in trade words" '7i;88;39;-3;1;4;-4;25;17;-2;6200;5;120;4;20' \
  'club:Club' 'club_speed:Club Speed [mph]' 'ball_speed:Ball-Speed (m/s)' 'path:CLUB PATH' 'face:Face Angle' 'face_to_path:Face-to-Path' \
  'attack:Angle of Attack' 'delivered_loft:Dynamic Loft' 'launch:Launch Angle' 'start:Launch Direction' 'backspin:Spin Rate (rpm)' \
  'axis_tilt:Spin Axis' 'carry:Carry (m)' 'offline:Side (m)' 'apex:Max Height [m]'
check_headers "other words for the same" '7 Iron;88;39;-3;1;-4;25;17;-2;6200;5;120;4;20;45;1,4' \
  'club:club used' 'club_speed:clubhead_speed (mph)' 'ball_speed:ball velocity (m/s)' 'path:swing path angle' 'face:face to target' \
  'attack:attack' 'delivered_loft:delivered loft' 'launch:vertical launch' 'start:start direction' 'backspin:Backspin' 'axis_tilt:axis tilt (deg)' \
  'carry:carry distance m' 'offline:lateral deviation (m)' 'apex:apex (m)' 'landing_angle:descent angle' 'speed_ratio:smash factor'

# ---- many lines ----
awk 'BEGIN {
  srand(7); print "club;path [deg];face [deg];start;curve;ball speed [mph];carry [m];side [m]"
  for (i = 0; i < 100000; i++) {
    p = 6 * rand() - 6; f = 6 * rand() - 3
    line = sprintf("%s;%.1f;%.1f;%.1f;%.1f;%.1f;%.1f;%.1f", i % 3 ? "7i" : "driver", p, f, 0.7 * f + 0.3 * p, 1.2 * (f - p), 105 + 6 * rand(), 135 + 9 * rand(), 30 * rand() - 10)
    gsub(/\./, ",", line); print line
  }
}' > "$scratch/many.csv"
start=$(date +%s%N)
run diagnose --bare --kb "$scratch/knowledge" --shots "$scratch/many.csv"
took=$((($(date +%s%N) - start) / 1000000))
expect "100,000 lines are read" has out "100000 shots, lines 2 to 100001"
if grep -qaE '__(asan|tsan|gcov)_' "$WHYMISS"; then skip "in two seconds" "built to be watched, not to be fast ($took ms)"
else expect "in two seconds ($took ms)" test "$took" -lt 2000; fi
finish

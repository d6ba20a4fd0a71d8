#!/bin/bash
# retest: what is printed, word for word (retest.list), on the small knowledge of tests/session; JSON against its schema; shots one by one.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap and schema_of define and call
source tests/cli/tap
source tests/cli/schema_of
export WHYMISS_BASE=tests/session/small
before=tests/cli/retest/before.csv

while IFS= read -r line; do
  case $line in '#'* | '') continue ;; esac
  name=${line%%:*}
  arguments=()
  eval "arguments=(${line#*:})"
  run retest "${arguments[@]}"
  { cat "$scratch/out"; echo "-- stderr"; cat "$scratch/err"; echo "-- exit $status"; } > "$scratch/now"
  file=tests/cli/expected/retest_$name.txt
  if [ -n "${ACCEPT:-}" ]; then cp "$scratch/now" "$file"; fi
  if diff -u "$file" "$scratch/now" > "$scratch/difference" 2>&1; then pass "$name"; else fail "$name" "$scratch/difference"; fi
  expect "$name fits 80 columns" test "$(LC_ALL=C awk '{ if (length > n) n = length } END { print n + 0 }' "$scratch/out")" -lt 80
done < tests/cli/retest.list

# ---- JSON ----
for after in after same few back before; do
  run retest --json "$before" "tests/cli/retest/$after.csv"
  expect "$after as JSON" follows retest
done
for stop in "tests/cli/retest/after.csv pain=yes" tests/cli/retest/pain.csv; do
  # shellcheck disable=SC2086 # two words
  run retest --json "$before" $stop
  expect "a stop as JSON" follows retest
  expect "it has no verdict" lacks out '"verdict"'
  expect "but the red flag" has out '"red_flag": "hurts"'
done
run retest --json "$before" "$before"
figures() { # python on the figures f and the club c
  /usr/bin/python3 - "$scratch/out" "$1" << 'END'
import json, sys
c = json.load(open(sys.argv[1]))['clubs'][0]
f = {x['evidence']: x for x in c['figures']}
sys.exit(0 if eval(sys.argv[2]) else 1)
END
}
expect "a table against itself has no change" figures 'all(x["change"]["difference"] == 0 and x["change"]["p"] == 1 and x["spread_ratio"] == 1 for x in f.values())'
expect "and nothing is worse" figures 'not any(x["worse"] or x["wilder"] for x in f.values()) and (c["verdict"], c["reason"]) == ("too_early", "same_shots")'

# An independent program's Welch test.
welch() {
  /usr/bin/python3 - "$scratch/out" "$before" tests/cli/retest/after.csv << 'END'
import csv, json, sys
from scipy.stats import ttest_ind
column = lambda name: [float(r['Club Path (deg)']) for r in csv.DictReader(open(name))]
a, b = column(sys.argv[2]), column(sys.argv[3])
r = ttest_ind(b, a, equal_var=False)
c = [x for x in json.load(open(sys.argv[1]))['clubs'][0]['figures'] if x['evidence'] == 'path'][0]['change']
assert abs(c['t'] - r.statistic) < 1e-9 and abs(c['p'] / r.pvalue - 1) < 1e-9, (c, r)
END
}
run retest --json "$before" tests/cli/retest/after.csv
if /usr/bin/python3 -c 'import scipy' 2> /dev/null; then expect "t and p are scipy's" welch; else skip "t and p are scipy's" "python3-scipy is not installed"; fi

# ---- the mirror image of a left-handed player ----
mirror() { awk -F, -v OFS=, 'NR > 1 { $2 = -$2; $3 = -$3 } { print }' "$1" > "$2"; }
mirror "$before" "$scratch/left_before.csv"
mirror tests/cli/retest/after.csv "$scratch/left_after.csv"
cp "$scratch/out" "$scratch/right"
run retest --json --handed left "$scratch/left_before.csv" "$scratch/left_after.csv"
mirrored() {
  /usr/bin/python3 - "$scratch/right" "$scratch/out" << 'END'
import json, sys
a, b = (json.load(open(name))['clubs'][0] for name in sys.argv[1:])
assert (a['verdict'], a['reason'], a['target']['shots_planned']) == (b['verdict'], b['reason'], b['target']['shots_planned'])
path = lambda c: [f['change']['difference'] for f in c['figures'] if f['evidence'] == 'path'][0]
assert abs(path(a) + path(b)) < 1e-9 and path(a) > 1
END
}
expect "a left-handed player's retest is the mirror image" mirrored

# ---- shots one by one ----
follow() { "$WHYMISS" retest "$before" --follow "$@" > "$scratch/out" 2> "$scratch/err"; status=$?; }
follow < tests/cli/retest/after.csv
expect "it stops when it worked" has out "Stop: it worked."
expect "and ends well" ended 0
expect "with the verdict" has out "Verdict   keep"
follow < tests/cli/retest/back.csv
expect "it gives up early" has out "Stop: it will hardly pass."
head -3 tests/cli/retest/after.csv | follow
expect "few shots end too early to say" has out "Verdict   too early to say"
follow < tests/cli/retest/pain.csv
expect "pain beside a shot stops it" has out "STOP: see below."
expect "without a verdict" lacks out Verdict
follow pain=yes < tests/cli/retest/after.csv
expect "in pain no shot is asked for" lacks out "Shot 1"
expect "and it stops" has out "STOP      Stop."
follow --json pain=yes < /dev/null
expect "the stop as JSON" follows retest
follow --json < tests/cli/retest/after.csv
expect "looks as JSON" follows retest
follow < /dev/null
expect "no shots at all is a fault of the input" ended 4

# A line is there before the next shot is hit.
mkfifo "$scratch/shots" "$scratch/lines"
"$WHYMISS" retest "$before" --follow < "$scratch/shots" > "$scratch/lines" &
pid=$!
exec 7> "$scratch/shots" 8< "$scratch/lines"
head -2 tests/cli/retest/same.csv >&7
read -t 20 -r line <&8
echo "$line" > "$scratch/out"
expect "each shot is answered at once" has out "Shot 1 of"
exec 7>&-
cat <&8 > /dev/null
exec 8<&-
wait "$pid"
finish

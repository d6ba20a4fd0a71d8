#!/bin/bash
# 300 invented sessions of players with a known fault (tests/session/tool_players.c, which reads no rules) through `diagnose --shots`: in how
# many is the true cause leading, in how many among the first three; for which faults others are taken. The goals are 80 % and 95 %.
# PLAYERS_SEED draws other players; PLAYERS_TABLE=1 prints the whole confusion table.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
status=0
: "${BUILD:=build}"
export WHYMISS WHYMISS_BASE=. scratch
tool=$BUILD/tests/session_players
if ! [ -x "$tool" ]; then
  echo "Bail out! there is no program $tool"
  exit 1
fi

"$tool" 300 "${PLAYERS_SEED:-20}" "$scratch" > "$scratch/sessions"
: > "$scratch/out"; : > "$scratch/err"
expect "300 sessions are drawn" test "$(wc -l < "$scratch/sessions")" -eq 300
expect "the generator includes nothing that reads knowledge" \
  test -z "$(grep '#include "' tests/session/tool_players.c | grep -vE '"(golf/|support/knowledge\.h)')"

diagnose_one() { # index, fault, club, device, told, evidence ...
  local index=$1 club=$3
  shift 5
  "$WHYMISS" diagnose --json --shots "$scratch/$index.csv" --club "$club" "$@" > "$scratch/$index.json" 2> "$scratch/$index.err"
}
export -f diagnose_one
# shellcheck disable=SC2016
xargs -P 2 -L 1 bash -c 'diagnose_one "$@"' one < "$scratch/sessions"

/usr/bin/python3 - "$scratch" "${PLAYERS_TABLE:-}" > "$scratch/score" << 'END'
import collections, json, sys
where, table = sys.argv[1:]
taken = collections.defaultdict(collections.Counter)
n = first = three = failed = 0
by_device = collections.defaultdict(lambda: [0, 0, 0])
third = collections.Counter()
for line in open(where + '/sessions'):
    index, fault, club, device, told = line.split()[:5]
    n += 1
    try:
        blocks = json.load(open(f'{where}/{index}.json'))['blocks']
        causes = [c['name'] for c in blocks[0]['causes']]
    except (ValueError, OSError, KeyError, IndexError):
        causes, failed = [], failed + 1
    leading, near = causes[:1] == [fault], fault in causes[:3]
    first += leading
    three += near
    third[fault] += near
    taken[fault][causes[0] if causes else 'nothing'] += 1
    for key in (device + ' device', club, {'told': 'what tells of it seen right', 'untold': 'not looked at, or seen wrong'}[told]):
        cell = by_device[key]
        cell[0] += 1
        cell[1] += leading
        cell[2] += near
print(f'# sessions {n}, leading {100 * first / n:.1f} % (goal 80), among three {100 * three / n:.1f} % (goal 95)')
for key, (m, a, b) in sorted(by_device.items()):
    print(f'# {key}: {m} sessions, leading {100 * a / m:.0f} %, among three {100 * b / m:.0f} %')
order = sorted(taken, key=lambda f: (taken[f][f] / sum(taken[f].values()), third[f], f))
for fault in order if table else order[:2]:
    m = sum(taken[fault].values())
    others = ', '.join(f'{c} {k}' for c, k in taken[fault].most_common() if c != fault)
    print(f'# {fault}: leading {taken[fault][fault]} of {m}, among three {third[fault]}; taken for: {others or "nothing else"}')
print(f'FIGURES {first} {three} {failed}')
END
grep '^#' "$scratch/score"
read -r _ first three failed < <(grep '^FIGURES' "$scratch/score")

expect "every session is diagnosed" test "$failed" -eq 0
# The goals (240 and 285) are not reached. Over seeds 1, 2, 3 and 20 it was 75.4 % and 85.2 % of 1200; the thresholds are that less two
# standard errors of 300, 5.0 % and 4.1 %. Where what tells of the fault was looked at and seen right it was 84 % and 93 %.
expect "the true cause is leading in at least 211 of 300 ($first; the goal is 240)" test "$first" -ge 211
expect "and among the first three in at least 243 of 300 ($three; the goal is 285)" test "$three" -ge 243
goal "the goal: leading in 240 of 300 ($first)" test "$first" -ge 240
goal "the goal: among the first three in 285 of 300 ($three)" test "$three" -ge 285
finish

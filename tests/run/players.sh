#!/bin/bash
# 300 invented sessions of players with a known fault (tests/session/tool_players.c, which reads no rules) through `diagnose --shots`: in how
# many is the true cause leading, in how many among the first three; for which faults others are taken. The goals are 80 % and 95 %.
# Told twice: at first sight, and after the coach has done what the page says, three pages at most: while no cause stands out he finds out what
# stands under Next, three things of those he can; and he looks twice more at what stands under Again, two things, and takes what two looks of
# the three agree on.
# PLAYERS_SEED draws other players; PLAYERS_TABLE=1 prints the whole confusion table.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
status=0
if [ "${EVERY:-1}" -gt 1 ]; then
  skip "invented players" "told by the run without sanitizers"
  finish
fi
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

/usr/bin/python3 - "$scratch" "${PLAYERS_TABLE:-}" > "$scratch/score" << 'END'
import collections, json, os, subprocess, sys
from concurrent.futures import ThreadPoolExecutor
where, table = sys.argv[1:]
PAGES, QUESTIONS, SECOND_LOOKS = 3, 3, 2

def diagnose(index, club, evidence):
    done = subprocess.run([os.environ['WHYMISS'], 'diagnose', '--json', '--shots', f'{where}/{index}.csv', '--club', club, *evidence],
                          capture_output=True, text=True)
    try:
        return json.loads(done.stdout)['blocks'][0]
    except (ValueError, KeyError, IndexError):
        return None

def names(block):
    return [c['name'] for c in block['causes']] if block else []

def words(path):
    return dict(word.split('=') for word in open(path).read().split())

# What the page asks for next: what is under Next while no cause stands out, and a second look at what the answer hangs on.
def answers(block, known, looks, again):
    asked = [] if block['leading'] else [c['evidence'] for c in block['checks'] if c['evidence'] in looks][:QUESTIONS]
    twice = [h['evidence'] for h in block['hinges'] if h['evidence'] in again and h['evidence'] in known][:SECOND_LOOKS]
    return {name: looks.pop(name) for name in asked} | {name: again.pop(name) for name in twice}

def session(line):
    index, fault, club, device, told, *evidence = line.split()
    looks, again, known = words(f'{where}/{index}.looks'), words(f'{where}/{index}.again'), dict(e.split('=') for e in evidence)
    block = diagnose(index, club, evidence)
    first, asked = names(block), 0
    for _ in range(PAGES):
        more = answers(block, known, looks, again) if block else {}
        if not more:
            break
        asked += len(more)
        known |= more
        block = diagnose(index, club, [f'{name}={value}' for name, value in known.items() if value])
    return fault, club, device, told, first, names(block), asked, block is None

sessions = list(ThreadPoolExecutor(2).map(session, open(where + '/sessions')))
n = len(sessions)
failed = sum(s[7] for s in sessions)
figures = []
for when, at in ('at first sight', 4), ('after questions and second looks', 5):
    first = sum(s[at][:1] == [s[0]] for s in sessions)
    three = sum(s[0] in s[at][:3] for s in sessions)
    figures += [first, three]
    print(f'# {when}: sessions {n}, leading {100 * first / n:.1f} % (goal 80), among three {100 * three / n:.1f} % (goal 95)')
asked = [s[6] for s in sessions if s[6]]
print(f'# {len(asked)} sessions asked, {sum(asked) / max(1, len(asked)):.1f} questions and second looks each')
cells = collections.defaultdict(lambda: [0, 0, 0])
taken, third = collections.defaultdict(collections.Counter), collections.Counter()
for fault, club, device, told, first, causes, asked, lost in sessions:
    third[fault] += fault in causes[:3]
    taken[fault][causes[0] if causes else 'nothing'] += 1
    for key in (device + ' device', club, {'told': 'what tells of it seen right', 'untold': 'not looked at, or seen wrong'}[told]):
        cells[key][0] += 1
        cells[key][1] += causes[:1] == [fault]
        cells[key][2] += fault in causes[:3]
for key, (m, a, b) in sorted(cells.items()):
    print(f'# {key}: {m} sessions, leading {100 * a / m:.0f} %, among three {100 * b / m:.0f} %')
order = sorted(taken, key=lambda f: (taken[f][f] / sum(taken[f].values()), third[f], f))
for fault in order if table else order[:2]:
    m = sum(taken[fault].values())
    others = ', '.join(f'{c} {k}' for c, k in taken[fault].most_common() if c != fault)
    print(f'# {fault}: leading {taken[fault][fault]} of {m}, among three {third[fault]}; taken for: {others or "nothing else"}')
print('FIGURES', *figures, failed)
END
grep '^#' "$scratch/score"
read -r _ sight sight_three first three failed < <(grep '^FIGURES' "$scratch/score")

expect "every session is diagnosed" test "$failed" -eq 0
# Over seeds 20, 101, 102 and 103, which no rule was tuned on, it is 80.4 % and 87.8 % at first sight, 88.9 % and 95.2 % after. At first sight the
# thresholds are that less two standard errors of 300, 4.6 % and 3.8 %.
expect "at first sight the true cause is leading in at least 227 of 300 ($sight)" test "$sight" -ge 227
expect "and among the first three in at least 252 ($sight_three)" test "$sight_three" -ge 252
expect "after questions and second looks it is leading in at least 240 of 300 ($first)" test "$first" -ge 240
expect "and among the first three in at least 285 ($three)" test "$three" -ge 285
finish

#!/bin/bash
# diagnose --say: what is understood, what is not used and why, red flags, typed evidence, JSON.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=.

# Lines of a paragraph joined to one.
joined() { tr -s '\n ' '  ' < "$scratch/out" > "$scratch/line"; mv "$scratch/line" "$scratch/out"; }

run diagnose --say "I slice my driver, mostly off the toe. Used to hook it"
joined
expect "words are diagnosed" ended 0
expect "shows what it understood" has out '"mostly off the toe": strike along the face toe side'
expect "of the club" has out '"driver": driver'
expect "shows what it did not use, and why" has out '"hook" (it was so once)'
expect "rests on the words" has out 'the ball bends to the right'

run diagnose --say "path 5 left, slice" path=3
joined
expect "typed numbers win" has out 'Seen club path: 3.0 deg right'
expect "and the words are told as known" has out '"path 5 left" (given otherwise)'

run diagnose path=3 --say "slice"
expect "whatever the order" ended 0

run diagnose --say "i slice it, thin. i hit it with my 7 iron"
expect "does not ask what was said" lacks out 'How does the club meet the ball?'
expect "nor for the club" lacks out 'Which club is it?'

run diagnose --say "my lower back hurts when i swing"
expect "pain in words stops" has out 'STOP'
expect "and no drill is offered" has out 'No drill is offered'
run diagnose --say "no pain, but i get pins and needles in my fingers"
expect "numbness stops" has out 'STOP'
run diagnose --say "no pain, no numbness or dizziness, i slice it"
expect "what is denied does not stop" lacks out 'STOP'

run diagnose --say "i am left-handed and slice it"
joined
expect "the hand is heard" has out 'left-handed'
expect "a left-hander's slice bends to the left" has out '"slice": curve left'
run diagnose --handed right --say "i am left-handed and slice it"
expect "a hand that was given wins" has err '[said-hand]'
run diagnose --handed left --say "the ball starts right and bends right"
joined
expect "left and right are the player's own" has out 'start direction right'

run diagnose --say "i hit it left and right"
expect "both sides are a two-way miss" has out 'misses both ways'
run diagnose --say "my grip is weak. my grip is strong"
expect "contradictions are told, not guessed" has out 'contradict each other'
run diagnose --say "path 5"
expect "a number without its side is no evidence" has out 'which side is not said'

run diagnose --say "the weather is nice"
expect "nothing understood is told" has out 'nothing in them is understood'
run diagnose --say ""
expect "empty words are no words" ended 0
run diagnose --say $'a "slice" \e[31m\xff\n\tthin'
expect "odd bytes are shown escaped" ended 0
expect "no escape reaches the terminal" lacks out $'\e'

run diagnose --shots - --say "i slice it"
expect "a table of shots and words are two things" ended 2
run why contact --say "i thin it"
expect "why reads the words too" has out 'thin'
run whatif --say "i thin it" "then" contact=fat
expect "whatif changes what was said" ended 0

if /usr/bin/python3 -c 'import jsonschema' 2> /dev/null; then
  validate() {
    /usr/bin/python3 - "$scratch/out" << 'END'
import json, sys, jsonschema
schema = json.load(open('docs/schemas/diagnosis.schema.json'))
d = json.load(open(sys.argv[1]))
faults = list(jsonschema.Draft202012Validator(schema).iter_errors(d))
for fault in faults[:5]:
    print(list(fault.path), fault.message[:200])
pieces = d['words']['pieces']
text = d['words']['text'].encode()
for p in pieces:
    assert text[p['start']:p['end']].decode() == p['said'], p
uses = {p['evidence']: p['use'] for p in pieces}
assert uses['strike'] == 'used' and uses['contact'] == 'denied' and uses['path'] == 'known', uses
assert uses['ball_speed'] == 'no_unit' and uses['pain'] == 'used'
readings = {r['name']: r for r in d['readings']}
assert readings['strike']['typed'] == 'off the toe' and readings['words']['text'] == d['words']['text']
sys.exit(1 if faults else 0)
END
  }
  run diagnose --json path=-5 --say "never fat, off the toe; path 5 right, ball speed 62, no pain"
  expect "JSON validates and says the same" validate
else
  skip "JSON validates and says the same" "python3-jsonschema is not installed"
fi
finish

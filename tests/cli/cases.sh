#!/bin/bash
# cases: how worked cases come out, what they reach, which mistakes they notice.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
source tests/cli/schema_of
export WHYMISS_BASE=tests/kb_small

run cases
expect "all worked cases pass" ended 0
expect "as TAP 14" has out "TAP version 14"
expect "with a plan" has out "1..2"
expect "and counts" has out "# 2 worked cases: 2 as expected, 0 not"
run cases toe-cut
expect "one by name" has out "ok 1 - toe-cut"
expect "and no other" has out "1..1"
run cases toe-cutt
expect "an unknown name is faulty input" ended 4
expect "with the nearest" has err "did you mean 'toe-cut'?"
expect "and nothing is run" is_empty out

wrong=$scratch/wrong.yaml
cat > "$wrong" << 'END'
- case: wrong
  evidence: {face: 1, path: -5}
  expect:
    leading: weak_hold
    drill: none
    believed: [cuts_across, sound_path]
    not_believed: [path_left, hurts]
- case: expects-nothing
  evidence: {face: 1}
  expect: {}
END
run cases "$wrong" toe-cut
expect "a case that does not come out fails" ended 1
expect "it is not ok" has out "not ok 1 - wrong"
expect "its place is told" has out "at: \"$wrong:1:9\""
expect "what was expected" has out "expected: weak_hold"
expect "what it got" has out "got: steep_shaft"
expect "why not" has out "cause weak_hold: the lead hand holds the club too weakly"
expect "and by which rule" has out "rule few-knuckles"
expect "why what should be none is there" has out "drill gate: gate of two balls"
expect "a case that expects nothing is skipped" has out "ok 2 - expects-nothing # SKIP it expects nothing"
expect "files and names go together" has out "ok 3 - toe-cut"
expect "and are counted" has out "# 3 worked cases: 1 as expected, 1 not, 1 expect nothing"
read_block() { # the YAML block holds the four failures
  /usr/bin/python3 - "$scratch/out" << 'END'
import sys, yaml
text = open(sys.argv[1]).read()
block = text[text.index('  ---\n') + 6:text.index('  ...\n')]
failed = yaml.safe_load(block)['failed']
assert [f['expectation'] for f in failed] == ['leading', 'drill', 'believed', 'not_believed'], failed
assert failed[2]['expected'] == 'sound_path' and failed[2]['got'].startswith('certainty')
assert all(('why' in f) != ('why_not' in f) for f in failed)
assert failed[0]['why_not'].startswith('cause weak_hold')
END
}
if /usr/bin/python3 -c 'import yaml' 2> /dev/null; then expect "the block is YAML" read_block; fi
if command -v prove > /dev/null; then
  cp "$scratch/out" "$scratch/tap.out"
  judged() { ! prove -e cat "$scratch/tap.out" > "$scratch/judged" && grep -q 'Failed test:  1' "$scratch/judged"; }
  expect "a reader of TAP finds the one failure" judged
fi
run cases --json "$wrong"
expect "JSON follows its schema" follows cases
expect "and fails alike" ended 1
run cases --json
expect "JSON of passing cases too" follows cases

printf -- '- rule: x\n' > "$scratch/rule.yaml"
run cases "$scratch/rule.yaml"
expect "a file of other entries is refused" ended 4
expect "and told" has err "an entry that starts with 'case: name'"
: > "$scratch/empty.yaml"
run cases "$scratch/empty.yaml"
expect "an empty file is refused" ended 4
printf -- '- case: a\n  evidence: {pth: 1}\n  expect: {leading: gate}\n' > "$scratch/faulty.yaml"
run cases "$scratch/faulty.yaml"
expect "all faults of a case are told" has err "did you mean 'path'?"
expect "also of what it expects" has err "[case-expects]"
run cases "$scratch/none.yaml"
expect "a file that is not there is told" has err "cannot read"

run cases --coverage
expect "coverage" ended 0
expect "counts rules" has out "rules fired                  6 of    10   60 %"
expect "rounds down" has out "conditions held              6 of    11   54 %"
expect "and says what is not reached" has out "tests/kb_small/rules/rules.yaml:49:9: rule 'few-knuckles': never fired"
run cases --coverage --json
expect "coverage as JSON" follows coverage
run cases --coverage "$wrong"
expect "coverage still fails with a failing case" ended 1

run cases --mutate
expect "mutants" ended 0
expect "are counted" has out "41 small mistakes, each put into the rules by itself, and 2 worked cases."
expect "the usual measure is told" has out "A mistake is noticed when something a case expects no longer holds."
expect "what no case notices is told with old and new text" has out "path: {below: -2.5}  ->  path: {below: -3.5}"
expect "and whether a case gets there" has out "(no case gets there)"
share() { sed -n 's/^all .* \([0-9]*\) of .*/\1/p' "$scratch/out"; }
verdict=$(share)
run cases --mutate --notice certainty
certainty=$(share)
expect "a finer measure notices more" test "$certainty" -gt "$verdict"
run cases --mutate --notice answer
expect "a level between lies between" test "$(share)" -ge "$verdict" -a "$(share)" -le "$certainty"
run cases --mutate --json
expect "mutants as JSON" follows mutants
run cases --mutate "$wrong"
expect "cases that fail are left out" has out "Left out: 1 cases that fail as things are."
run cases --mutate --notice cetrainty
expect "an unknown level is a usage error" ended 2
expect "with the nearest" has err "did you mean 'certainty'?"
run cases --notice answer
expect "a level alone is a usage error" ended 2
run cases --mutate --coverage
expect "so are two questions at once" ended 2
run cases --answers --json
expect "and answers as JSON" ended 2

run cases --answers
cp "$scratch/out" "$scratch/answers"
expect "answers are told" has out "case toe-cut: leading steep_shaft, drill gate"
expect "with certainties" has out "  cause steep_shaft +0.78 leading"
mkdir "$scratch/mine"
cat > "$scratch/mine/r.yaml" << 'END'
- rule: cut-means-steep
  replaces: cut-means-steep
  when: {cuts_across: believed}
  then: {steep_shaft: strong}
  because: Stronger than before.
  kind: experience
  source: practice
END
run cases --answers --kb "$scratch/mine"
differs() { ! cmp -s "$scratch/answers" "$scratch/out"; }
expect "another strength shows in the answers" differs
run cases --answers
expect "the same knowledge gives the same lines" cmp "$scratch/answers" "$scratch/out"

run cases --answers --brief
cp "$scratch/out" "$scratch/kept"
expect "a line a case" grep -qE '^toe-cut: leading steep_shaft \+0\.78, drill gate \+[0-9.]+, all [0-9a-f]{16}$' "$scratch/kept"
run cases --accepted "$scratch/kept"
expect "accepted answers hold" ended 0
run cases --accepted "$scratch/kept" --kb "$scratch/mine"
expect "another strength is told though no case expects it" ended 1
expect "with both answers" has out "expected: \"$(sed -n 's/^toe-cut: //p' "$scratch/kept")\""
run cases --accepted "$scratch/kept" --kb "$scratch/mine" --json
expect "as JSON too" follows cases
grep -v '^toe-cut' "$scratch/kept" > "$scratch/fewer"
run cases --accepted "$scratch/fewer"
expect "a case without an accepted answer is told" has out "none is accepted yet"
run cases --mutate --accepted "$scratch/kept"
expect "mistakes that change accepted answers are noticed" test "$(share)" -eq "$certainty"
expect "and how is told" has out "In 2 cases it is noticed also when the accepted answer changes."
run cases --mutate --accepted "$scratch/kept" --json
expect "mutants as JSON follow their schema still" follows mutants
run cases --answers --accepted "$scratch/kept"
expect "answers are told or compared, not both" ended 2
run cases --brief
expect "brief alone is a usage error" ended 2
finish

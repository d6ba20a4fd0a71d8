#!/bin/bash
# mend: edits that would set a case right; each is made here, and the case run again.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
source tests/cli/schema_of
export WHYMISS_BASE=$scratch/base
cp -r tests/kb_small "$scratch/base"
rules=$scratch/base/rules/rules.yaml
before=$(cat "$rules")

case=$scratch/case.yaml
cat > "$case" << 'END'
- case: nearly-left
  evidence: {face: 3, path: -2}
  expect: {leading: steep_shaft}
END
run mend "$case"
expect "a case that fails can be mended" ended 0
expect "what it expects is told" has out "leading: expects steep_shaft, gets none"
expect "the edit is told with its place" has out "$rules:2:9: rule 'left-path': another threshold"
expect "with the old text" has out "old  path: {below: -2.5}"
expect "and with what it breaks" has out "breaks 0 of 2 other cases"
expect "nothing is written" test "$before" = "$(cat "$rules")"
run cases "$case"
expect "so the case still fails" ended 1
run mend "$case"
limit=$(sed -n 's/ *new  path: {below: \(.*\)}/\1/p' "$scratch/out" | head -1)
expect "a limit is offered" test -n "$limit"
sed -i "s/when: {path: {below: -2.5}}/when: {path: {below: $limit}}/" "$rules"
run cases "$case" toe-cut toe-cut-left-handed
expect "made by hand, the edit sets the case right and breaks no other" ended 0
run mend "$case"
expect "then there is nothing to mend" ended 0
expect "which is said" has out "nothing to mend"

cp -r tests/kb_small/rules/rules.yaml "$rules"
run mend --json "$case"
expect "JSON follows its schema" follows mending
run mend --json toe-cut
expect "JSON of a case that needs nothing too" follows mending

cat > "$scratch/hard.yaml" << 'END'
- case: says-nothing
  evidence: {ball_speed: 30}
  expect: {leading: steep_shaft}
END
run mend "$scratch/hard.yaml"
expect "where no single edit helps, that is a finding" ended 1
expect "and said" has out "0 of them set it right."

# A new rule, taken from the page, works as it stands once it has a name and a reason.
cat > "$scratch/new.yaml" << 'END'
- case: open-face-alone
  evidence: {face: 6, path: 0}
  expect: {leading: weak_hold}
END
run mend "$scratch/new.yaml"
expect "a new rule is offered" has out "a new rule"
mkdir "$scratch/mine"
sed -n '/- rule: NAME/,/source: practice/p' "$scratch/out" | sed '/source: practice/q' |
  sed 's/^     new  //; s/^          //; s/NAME/mine/; s/WHY/So it is./' > "$scratch/mine/rule.yaml"
run cases --kb "$scratch/mine" "$scratch/new.yaml"
expect "as a rule of a layer it sets the case right" ended 0

printf -- '- case: a\n  evidence: {path: 1}\n  expect: {}\n- case: b\n  evidence: {path: 1}\n  expect: {}\n' > "$scratch/two.yaml"
run mend "$scratch/two.yaml"
expect "a file with two cases is refused" ended 4
expect "and told" has err "holds 2 cases; mend takes one"
run mend
expect "without a case it is a usage error" ended 2
run mend toe-cutt
expect "an unknown case has its nearest" has err "did you mean 'toe-cut'?"
finish

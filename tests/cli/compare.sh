#!/bin/bash
# compare: what an edit changes, from directories and from git.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
source tests/cli/schema_of
export WHYMISS_BASE=tests/kb_small

mine=$scratch/mine
mkdir "$mine" "$scratch/same"
cat > "$mine/r.yaml" << 'END'
- rule: cut-on-the-toe
  replaces: cut-on-the-toe
  when: {cuts_across: believed}
  then: {steep_shaft: -strong, aims_left: strong}
  because: Another opinion.
  kind: experience
  source: practice
END
cp "$mine/r.yaml" "$scratch/same/r.yaml"

run compare "$mine"
expect "a layer against the shipped knowledge" ended 0
expect "tells both" has out "old  10 rules"
expect "tells the cases that got worse" has out "cases.yaml:1:9: worse: toe-cut"
expect "with both answers" has out "leading steep_shaft -> aims_left"
expect "and what no longer holds" has out "no longer as expected: leading steep_shaft"
expect "draws impacts" has out "2000 plausible impacts, drawn with seed 1"
expect "tells the moves" has out "steep_shaft -> aims_left"
expect "and the regions" has out "path left, face open to it"
cp "$scratch/out" "$scratch/first"
run compare "$mine"
expect "the same seed, the same page" cmp "$scratch/first" "$scratch/out"
run compare "$mine" --seed 2
differs() { ! cmp -s "$scratch/first" "$scratch/out"; }
expect "another seed, another page" differs
run compare --fail-on worse "$mine"
expect "a gate on what is worse" ended 1
run compare --json "$mine"
expect "JSON follows its schema" follows comparison
run compare --json --impacts 0 "$mine"
expect "without impacts too" follows comparison

run compare "$mine" "$scratch/same" --fail-on any
expect "two layers that say the same" ended 0
expect "are told to" has out "Both say the same."
run compare "$scratch/same" "$mine" --impacts 0
lacks_impacts() { lacks out "plausible impacts"; }
expect "--impacts 0 leaves the draw out" lacks_impacts
run compare --bare tests/kb_small tests/kb_small --fail-on any
expect "--bare takes directories as they are" ended 0
run compare --bare tests/kb_small
expect "and needs two" ended 2
run compare tests/kb_small
expect "a whole base is no layer" ended 3
expect "and --bare is offered" has err "--bare takes it as a whole"
run compare
expect "without a directory it is a usage error" ended 2
run compare a b c
expect "so are three" ended 2
run compare "$scratch/nowhere"
expect "a directory that is not there is told" has err "nowhere"
run compare "$mine" --fail-on wors
expect "an unknown gate is a usage error" ended 2
expect "with the nearest" has err "did you mean 'worse'?"
for bad in -1 x 1e3 99999999999; do
  run compare "$mine" --impacts="$bad"
  expect "--impacts $bad is refused" ended 2
done

# The gate on any change: a base whose only edit changes no verdict.
mkdir "$scratch/weaker"
sed 's/-strong, aims_left: strong/0.75/' "$mine/r.yaml" > "$scratch/weaker/r.yaml"
run compare --fail-on worse "$scratch/weaker"
expect "an edit that breaks nothing passes the gate" ended 0
run compare --fail-on any "$scratch/weaker"
expect "and fails the stricter one" ended 1

if command -v git > /dev/null; then
  unset GIT_DIR GIT_WORK_TREE
  export GIT_CONFIG_GLOBAL=/dev/null GIT_CONFIG_SYSTEM=/dev/null
  export GIT_AUTHOR_NAME=nobody GIT_AUTHOR_EMAIL=nobody@example.invalid
  export GIT_COMMITTER_NAME=nobody GIT_COMMITTER_EMAIL=nobody@example.invalid
  cp -r tests/kb_small "$scratch/repo"
  git -C "$scratch/repo" init -q
  git -C "$scratch/repo" add .
  git -C "$scratch/repo" commit -q -m first
  export WHYMISS_BASE=$scratch/repo TMPDIR=$scratch/tmp
  mkdir "$TMPDIR"
  run compare --git HEAD --fail-on any
  expect "the shipped knowledge against a revision of itself" ended 0
  sed -i 's/then: {steep_shaft: points}/then: {steep_shaft: -points}/' "$scratch/repo/rules/rules.yaml"
  run compare --git HEAD --fail-on worse
  expect "an edit of the working tree shows" ended 1
  expect "as worse" has out "worse: toe-cut"
  expect "no temporary directory stays" test -z "$(ls "$TMPDIR")"
  mkdir "$scratch/repo/academy"
  cp "$mine/r.yaml" "$scratch/repo/academy"
  git -C "$scratch/repo" add academy
  git -C "$scratch/repo" commit -q -m second
  sed -i 's/-strong/-hint/' "$scratch/repo/academy/r.yaml"
  run compare --git HEAD "$scratch/repo/academy"
  expect "a layer against a revision of itself" ended 0
  run compare --git no-such-revision
  expect "an unknown revision is faulty input" ended 4
  expect "told as such" has err "git gives no 'no-such-revision'"
  run compare --git=--output=x
  expect "an option is no revision" ended 4
  expect "and no temporary directory stays then" test -z "$(ls "$TMPDIR")"
  run compare --git HEAD a b
  expect "--git takes one directory" ended 2
  PATH='' run compare --git HEAD
  expect "without git it is told" has err "there is no program 'git'"
else
  skip "compare --git" "git is not installed"
fi
finish

#!/bin/bash
# new kb: what it makes passes check, its own cases and tidy; it touches nothing that is there; what is laid over the shipped
# knowledge survives a change of that.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=$scratch/base
mkdir "$scratch/base"
cp -r rules kb "$scratch/base"
mine=$scratch/mine

run new --help
expect "the help names its one option" test "$(grep -c '^  --' "$scratch/out")" -eq 1
run new kb "$scratch/clubbed" --club 7i
expect "an option of other commands is refused" ended 2
run new kb "$mine"
expect "a new layer is made" ended 0
expect "its files are named" has out "made $mine/kb/vocabulary.yaml"
for kind in evidence cause drill; do
  expect "it holds a $kind" test "$(cat "$mine"/*/*.yaml | grep -c "^- $kind: ")" -eq 1
done
for kind in rule case; do
  expect "it holds two entries: $kind" test "$(cat "$mine"/*/*.yaml | grep -c "^- $kind: ")" -eq 2
done
expect "each of its files names the rule format" test "$(grep -l '^- format: 1' "$mine"/*/*.yaml | wc -l)" -eq \
  "$(find "$mine" -name '*.yaml' | wc -l)"
expect "it is commented" test "$(cat "$mine"/*/*.yaml | grep -c '#')" -ge 12
run check --kb "$mine"
expect "check is content with it" ended 0
expect "and finds nothing in it" lacks err "$mine"
run cases --kb "$mine"
expect "all cases pass with it, the shipped ones too" ended 0
expect "its own among them" has out "academy-hook-over-straight-foot"
run diagnose --kb "$mine" --case academy-hook-over-straight-foot --handed left
expect "it makes sense for the other hand" has out "the lead foot holds the hips back"
run tidy --check "$mine"
expect "it is laid out as tidy does it" ended 0

cp -r "$mine" "$scratch/before"
run new kb "$mine"
expect "a directory that is not empty is refused" ended 4
expect "with its name" has err "'$mine' is not empty"
expect "and left alone" diff -r "$scratch/before" "$mine"
mkdir "$scratch/hidden" "$scratch/empty"
touch "$scratch/hidden/.keep"
run new kb "$scratch/hidden"
expect "a hidden file counts" ended 4
run new kb "$scratch/empty"
expect "an empty directory will do" ended 0
expect "and gets the same files" diff -r "$scratch/before" "$scratch/empty"
touch "$scratch/file"
run new kb "$scratch/file"
expect "a file is no place" ended 5
expect "and the reason is told" has err "[file-unreadable]"
run new kb "$scratch/no/such"
expect "nor is a directory in one that is not there" ended 5
for words in "" "kb" "rules x" "kb x y"; do
  # shellcheck disable=SC2086 # words on purpose
  run new $words
  expect "'new $words' is refused" ended 2
done

# An upgrade beneath: the shipped knowledge says something else, the layer stays and what it replaces is listed.
cat > "$mine/kb/replaced.yaml" <<'END'
- format: 1
- club: 7i
  replaces: 7i
  title: our 7 iron
  family: iron
  loft: 31 deg
  length: 0.94 m
  lie: 62.5 deg
  head_mass: 268 g
  source: practice
END
printf -- '- finding: brought_by_upgrade\n  title: an upgrade\n  about: an upgrade\n' > "$scratch/base/kb/upgrade.yaml"
run check --kb "$mine"
expect "what the layer replaces is listed" has out "7i"
run show --kb "$mine" 7i
expect "and stands after an upgrade" has out "our 7 iron"
run show --kb "$mine" brought_by_upgrade
expect "beside what the upgrade brought" ended 0
run show --kb "$mine" lead_foot_holds_hips
expect "and beside the rest of the layer" ended 0

sed -i 's/^- format: 1/- format: 2/' "$mine/kb/drills.yaml"
run check --kb "$mine"
expect "a newer format is an error" has err "[format-newer]"
expect "that says the program is older" has err "this program is older"
expect "and is not buried under others" test "$(grep -c ': error: ' "$scratch/err")" -eq 1
run cases "$mine/kb/cases.yaml"
expect "a file of cases may name the format" lacks err "format"
printf -- '- format: 2\n- case: x\n  evidence: {path: 1}\n' > "$scratch/case.yaml"
for words in "diagnose --case" "cases"; do
  # shellcheck disable=SC2086
  run $words "$scratch/case.yaml"
  expect "'$words' tells that a case is of a newer format" has err "[format-newer]"
done
printf -- '- format: 1\n- case: x\n  evidence: {path: 1}\n' > "$scratch/case.yaml"
run diagnose --case "$scratch/case.yaml"
expect "a single case may name the format" ended 0
finish

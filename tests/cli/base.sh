#!/bin/bash
# Where the knowledge comes from: WHYMISS_BASE, beside the program, above it, layers, and failures of reading and writing.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
here=$PWD
program=$(realpath "$WHYMISS")

installed=$scratch/installed
mkdir -p "$installed/bin" "$installed/share/whymiss"
cp "$program" "$installed/bin/whymiss"
cp -r tests/kb_small/kb tests/kb_small/rules "$installed/share/whymiss"
WHYMISS=$installed/bin/whymiss
cd / || exit 1
run check
expect "an installed program finds its knowledge from any directory" ended 0
expect "and says what it holds" has out "10 rules in 3 layers"

built=$scratch/built
mkdir -p "$built/out"
cp "$program" "$built/out/whymiss"
WHYMISS=$built/out/whymiss
run check
expect "without knowledge it cannot check" ended 3
expect "and says where it looked" has err "$built/share/whymiss"
cp -r "$here/tests/kb_small/kb" "$here/tests/kb_small/rules" "$built"
run check
expect "a program in a build tree finds the knowledge above it" ended 0
export WHYMISS_BASE=$scratch/nowhere
run check
expect "WHYMISS_BASE goes first, also when it is wrong" has err "$scratch/nowhere"
export WHYMISS_BASE=$here/tests/kb_small
cd "$here" || exit 1
WHYMISS=$program

mine=$scratch/mine
mkdir -p "$mine/.hidden" "$mine/deep/er"
cat > "$mine/deep/er/gate.yaml" << 'END'
- cause: aims_left
  replaces: aims_left
  title: feet and hips aim {left}
  about: mine
  area: aim
  source: practice
END
echo 'not: [knowledge' > "$mine/.hidden/x.yaml"
echo 'not: [knowledge' > "$mine/.x.yaml"
echo 'not: [knowledge' > "$mine/notes.txt"
run check --kb "$mine"
expect "a layer is read whole, hidden and other files are not" ended 0
expect "what it replaces is listed" has out "deep/er/gate.yaml:1: cause 'aims_left' replaces the one at $here/tests/kb_small/kb/claims.yaml:"
run diagnose --kb "$mine" face=1 path=-5
expect "the layer speaks" has out "feet and hips aim left"
run diagnose --kb="$mine" --handed=left face=-1 path=5
expect "also left-handed" has out "feet and hips aim right"

mkdir "$scratch/clash"
sed '/replaces/d' "$mine/deep/er/gate.yaml" > "$scratch/clash/gate.yaml"
run diagnose --kb "$scratch/clash" path=1
expect "a second entry of a name is a fault of the knowledge" ended 3
expect "told with both places" has err "claims.yaml:"
expect "and nothing is answered" is_empty out
run check --kb "$scratch/clash"
expect "to check it is a finding" ended 1
run check --bare --kb "$scratch/clash"
expect "--bare leaves the shipped knowledge out" has out "1 causes"

mkdir "$scratch/void"
run check --kb "$scratch/void"
expect "a directory without knowledge is told" has err "there is no *.yaml file in it"
mkdir -p "$scratch/loop/a"
cp "$mine/deep/er/gate.yaml" "$scratch/loop"
ln -s .. "$scratch/loop/a/b"
run check --kb "$scratch/loop"
expect "a circle of links ends" has err "nested too deeply"
mkdir "$scratch/pipe"
mkfifo "$scratch/pipe/x.yaml"
run check --kb "$scratch/pipe"
expect "a pipe does not hang it" has err "it is not a file"
mkdir "$scratch/huge"
truncate -s 9000000 "$scratch/huge/x.yaml"
run check --kb "$scratch/huge"
expect "a huge file is refused" has err "is larger than"

case=$scratch/case.yaml
printf -- '- case: mine\n  handed: left\n  shots: 9\n  evidence:\n    face: -1\n    path: 5 +/- 0.5 deg\n' > "$case"
run diagnose --case "$case" strike=toe
expect "a case file and an argument go together" has out "club path: 5.0 deg right +/- 0.8"
: > "$case"
run diagnose --case "$case"
expect "an empty case file is faulty input" ended 4
expect "told as such" has err "not an empty one"
run diagnose --case /dev/null
expect "so is what is no file" has err "it is not a file"

if [ -w /dev/full ]; then
  "$WHYMISS" diagnose path=-5 > /dev/full 2> "$scratch/err" < /dev/null
  status=$?
  expect "output that does not arrive is a failure" ended 5
  expect "told as such" has err "cannot write the output"
fi
for command in "" diagnose why whynot contrast whatif show check; do
  # shellcheck disable=SC2086 # the empty one is no argument
  run $command --help
  expect "help${command:+ of }$command fits 80 columns" test "$(LC_ALL=C awk '{ if (length > n) n = length } END { print n }' "$scratch/out")" -lt 80
done
run --version
expect "--version tells the libraries" has out "libyaml"
expect "and PCRE2" has out "PCRE2"
finish

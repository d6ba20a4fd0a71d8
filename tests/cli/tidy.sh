#!/bin/bash
# tidy: files and directories, to the screen, looked at, in place. What the layout is, tests/workshop/test_tidy.c holds.
# shellcheck disable=SC1091,SC2034,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=$scratch/base
cp -r tests/kb_small "$scratch/base"
rules=$scratch/base/rules/rules.yaml
digest() { run check; grep '^digest' "$scratch/out"; }
before=$(digest)

run tidy tests/kb_small --check
expect "the small knowledge is laid out" ended 0
expect "so nothing is named" is_empty out
run tidy rules kb --check
expect "so is the shipped knowledge" ended 0
expect "to the last file" is_empty out

# the same with another layout
sed -i 's/^\( *\)/\1\1/; s/^\( *\)- /\1-   /; s/^\(- *rule: .*\)/\n\n\1   # kept/; s/: {/:   {/' "$rules"
expect "another layout says the same" test "$(digest)" = "$before"
comments=$(grep -c '# kept$' "$rules")
cp "$rules" "$scratch/rules.yaml"
chmod 640 "$rules"
run tidy --check "$scratch/base"
expect "--check ends with 1" ended 1
expect "and names the file" has out "$rules"
expect "and no other" test "$(wc -l < "$scratch/out")" -eq 1
expect "and writes nothing" cmp "$rules" "$scratch/rules.yaml"
run tidy "$rules"
expect "one file goes to the screen" ended 0
cp "$scratch/out" "$scratch/shown.yaml"
expect "and is not written" cmp "$rules" "$scratch/rules.yaml"
run tidy "$scratch/base"
expect "several files want --check or --write" ended 2
run tidy --write "$scratch/base"
expect "--write puts the layout in place" cmp "$rules" "$scratch/shown.yaml"
expect "and names the file" has out "$rules"
expect "with its permissions" test "$(stat -c %a "$rules")" = 640
expect "and leaves nothing else behind" test "$(find "$scratch/base" -type f | wc -l)" -eq 4
expect "the network is the same" test "$(digest)" = "$before"
expect "all comments are there" test "$(grep -c '  # kept$' "$rules")" -eq "$comments"
expect "without the comments it is the file as it was" diff -B <(sed 's/ *# kept$//' "$rules") tests/kb_small/rules/rules.yaml
inode=$(stat -c %i "$rules")
run tidy --write "$scratch/base"
expect "a second time nothing changes" is_empty out
expect "and the file is not even replaced" test "$inode" = "$(stat -c %i "$rules")"

# one faulty file holds the others back
cp "$scratch/rules.yaml" "$rules"
printf -- '- ? rule\n  : x\n' > "$scratch/base/rules/odd.yaml"
run tidy --write "$scratch/base"
expect "what cannot be laid out safely is refused" ended 4
expect "with its place" has err "$scratch/base/rules/odd.yaml:1:3: error:"
expect "and nothing is written" cmp "$rules" "$scratch/rules.yaml"
printf -- '- rule: {\n' > "$scratch/base/rules/odd.yaml"
run tidy "$scratch/base/rules/odd.yaml"
expect "what is no YAML is told" has err "[yaml-syntax]"
expect "and nothing is printed" is_empty out
rm "$scratch/base/rules/odd.yaml"

ln -s "$rules" "$scratch/link.yaml"
run tidy --write "$scratch/link.yaml"
expect "a link is not replaced by a file" ended 5
expect "nor is what it points at" cmp "$rules" "$scratch/rules.yaml"
run tidy "$scratch/none.yaml"
expect "a file that is not there is told" has err "[file-unreadable]"
run tidy
expect "without a file there is nothing to do" ended 2
run tidy --check --write "$rules"
expect "--check and --write exclude each other" ended 2

for folder in rules kb; do
  cp -r "$folder" "$scratch/$folder"
done
WHYMISS_BASE=$PWD
before=$(digest)
run tidy --write "$scratch/rules" "$scratch/kb"
WHYMISS_BASE=$scratch
expect "the shipped knowledge laid out has the same digest" test "$(digest)" = "$before"
run tidy --check "$scratch/rules" "$scratch/kb"
expect "and is laid out then" ended 0
finish

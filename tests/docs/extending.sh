#!/bin/bash
# docs/extending.md: each command is run and each block of YAML used, in a scratch directory over the shipped knowledge.
set -u
if ! /usr/bin/python3 -c 'import yaml' 2> /dev/null; then
  echo "ok 1 - docs/extending.md holds # skip python3-yaml is not installed"
  exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin" "$work/lesson"
ln -s "$(realpath "$WHYMISS")" "$work/bin/whymiss"
PATH=$work/bin:$PATH NO_COLOR=1 WHYMISS_BASE=$PWD /usr/bin/python3 tests/docs/page.py docs/extending.md "$work/lesson" "$PWD"

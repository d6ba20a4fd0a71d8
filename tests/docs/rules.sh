#!/bin/bash
# Every example of docs/rules.md, run.
set -u
python3 -B tests/docs/rules_examples.py docs/rules.md tests/docs/rules_context.yaml "$(realpath "${WHYMISS:-build/whymiss}")"

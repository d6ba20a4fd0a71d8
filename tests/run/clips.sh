#!/bin/bash
# The whole fixpoint against a general-purpose rule engine (Debian's package clips), on all worked cases and 500 random ones.
set -eu
mkdir -p "$BUILD/tests"
"$BUILD/tests/run_clips" "$BUILD/tests" 500 "${EVERY:-1}"

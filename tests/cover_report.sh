#!/bin/bash
# Prints, file by file, the share of the lines of engine/ that ran; the argument is the build directory.
set -eu
build=$1
find "$build/engine" -name '*.gcda' | sort | while read -r counts; do
  gcov --no-output --object-directory "$(dirname "$counts")" "$counts" 2> /dev/null
done | awk -F"[':% ]+" '
  /^File / { file = $2 }
  /^Lines executed/ && file ~ /^engine\/.*\.c$/ {
    printf "%6.1f %% of %4d  %s\n", $3, $5, file
    ran += $3 / 100 * $5; all += $5; file = ""
  }
  END { if (all) printf "%6.1f %% of %4d  in all\n", 100 * ran / all, all }'

#!/bin/bash
# Runs the test programs named as arguments, then the shell tests of tests/*/, and counts their "ok" and "not ok" lines.
# A test that fails otherwise (a crash, an exit status, no line at all) counts as one failure.
# Environment: BUILD, WHYMISS; ACCEPT=1 lets shell tests rewrite their expected files; PROGRAMS_ONLY=1 leaves shell tests out;
# VERBOSE=1 prints every line. The last line is "N passed, N failed"; exit status 1 when one failed.
set -u
export BUILD=${BUILD:-build} WHYMISS=${WHYMISS:-build/whymiss} ACCEPT=${ACCEPT:-}
export CMOCKA_MESSAGE_OUTPUT=TAP LC_ALL=C.UTF-8
# A sanitizer's finding must fail a test even where the program's own exit status is expected.
export ASAN_OPTIONS=${ASAN_OPTIONS:-exitcode=99:detect_leaks=1} UBSAN_OPTIONS=${UBSAN_OPTIONS:-print_stacktrace=1}

passed=0 failed=0 skipped=0
log=$(mktemp)
trap 'rm -f "$log"' EXIT

run_one() { # name, command...
  local name=$1 status good bad skips
  shift
  "$@" > "$log" 2>&1 < /dev/null
  status=$?
  good=$(grep -c '^ok ' "$log")
  skips=$(grep -ciE '^(not )?ok .*# skip' "$log") # cmocka calls a skipped case "not ok"
  bad=$(grep '^not ok ' "$log" | grep -cvi '# skip')
  good=$((good - $(grep -ci '^ok .*# skip' "$log")))
  if [ "$bad" -eq 0 ] && { [ "$status" -ne 0 ] || [ $((good + skips)) -eq 0 ]; }; then
    bad=1
    echo "not ok - $name: exit status $status after $good passed"
  fi
  passed=$((passed + good)) failed=$((failed + bad)) skipped=$((skipped + skips))
  printf '%-44s %4d passed %4d failed\n' "$name" "$good" "$bad"
  if [ "$bad" -ne 0 ]; then grep -v '^ok ' "$log"; elif [ -n "${VERBOSE:-}" ]; then cat "$log"; fi
}

for program in "$@"; do run_one "${program#"$BUILD"/}" "$program"; done
if [ -z "${PROGRAMS_ONLY:-}" ]; then
  for script in tests/{load,run,cli,say,reference,docs}/*.sh; do
    if [ -e "$script" ]; then run_one "$script" bash "$script"; fi
  done
fi

if [ "$skipped" -ne 0 ]; then echo "$skipped skipped"; fi
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]

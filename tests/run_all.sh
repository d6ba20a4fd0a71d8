#!/bin/bash
# Runs the test programs named as arguments, then the shell tests of tests/*/, as many at once as there are processors, and counts
# their "ok" and "not ok" lines. A test that fails otherwise (a crash, an exit status, no line at all) counts as one failure.
# Environment: BUILD, WHYMISS; ACCEPT=1 lets shell tests rewrite their expected files; PROGRAMS_ONLY=1 leaves shell tests out;
# EVERY=n lets tests over the whole library of cases take each n-th only; TEST_JOBS how many at once; VERBOSE=1 prints every line.
# The last line is "N passed, N failed"; exit status 1 when one failed.
set -u
export BUILD=${BUILD:-build} WHYMISS=${WHYMISS:-build/whymiss} ACCEPT=${ACCEPT:-} EVERY=${EVERY:-1}
export CMOCKA_MESSAGE_OUTPUT=TAP LC_ALL=C.UTF-8
# A sanitizer's finding must fail a test even where the program's own exit status is expected.
export ASAN_OPTIONS=${ASAN_OPTIONS:-exitcode=99:detect_leaks=1} UBSAN_OPTIONS=${UBSAN_OPTIONS:-print_stacktrace=1}

passed=0 failed=0 skipped=0 todo=0
logs=$(mktemp -d)
export logs
trap 'rm -rf "$logs"' EXIT

# The longest first, so that none of them is left alone at the end.
tests=()
if [ -z "${PROGRAMS_ONLY:-}" ]; then
  tests+=(tests/run/*.sh tests/cli/screen.sh tests/cli/check.sh)
  for script in tests/{load,cli,say,session,reference,docs}/*.sh; do
    case $script in tests/cli/screen.sh | tests/cli/check.sh) continue ;; esac
    if [ -e "$script" ]; then tests+=("$script"); fi
  done
fi
tests+=("$@")

# The log and the exit status of test number n go to files of that number.
# shellcheck disable=SC2317 # called by xargs below
run_one() { # number, test
  case $2 in
  *.sh) bash "$2" ;;
  *) "$2" ;;
  esac > "$logs/$1.log" 2>&1 < /dev/null
  echo $? > "$logs/$1.status"
}
export -f run_one
# shellcheck disable=SC2016 # the inner shell expands
for number in "${!tests[@]}"; do printf '%s\0%s\0' "$number" "${tests[$number]}"; done |
  xargs -0 -n 2 -P "${TEST_JOBS:-$(nproc)}" bash -c 'run_one "$1" "$2"' run_one

count_one() { # number, name
  local name=$2 log=$logs/$1.log status good bad skips due
  status=$(cat "$logs/$1.status" 2> /dev/null || echo "none")
  good=$(grep -c '^ok ' "$log")
  skips=$(grep -ciE '^(not )?ok .*# skip' "$log") # cmocka calls a skipped case "not ok"
  due=$(grep -ciE '^not ok .*# todo' "$log")
  bad=$(grep '^not ok ' "$log" | grep -cviE '# (skip|todo)')
  good=$((good - $(grep -ci '^ok .*# skip' "$log")))
  if [ "$bad" -eq 0 ] && { [ "$status" != 0 ] || [ $((good + skips)) -eq 0 ]; }; then
    bad=1
    echo "not ok - $name: exit status $status after $good passed"
  fi
  passed=$((passed + good)) failed=$((failed + bad)) skipped=$((skipped + skips)) todo=$((todo + due))
  printf '%-44s %4d passed %4d failed\n' "$name" "$good" "$bad"
  grep -iE '^not ok .*# todo' "$log"
  if [ "$bad" -ne 0 ]; then grep -v '^ok ' "$log"; elif [ -n "${VERBOSE:-}" ]; then cat "$log"; fi
}
for number in "${!tests[@]}"; do count_one "$number" "${tests[$number]#"$BUILD"/}"; done

if [ "$skipped" -ne 0 ]; then echo "$skipped skipped"; fi
if [ "$todo" -ne 0 ]; then echo "$todo goals not reached yet"; fi
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]

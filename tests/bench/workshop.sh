#!/bin/bash
# How long the workshop takes on the shipped knowledge: seconds of processor time. A bound in brackets is what is promised.
set -u
: "${WHYMISS:=build/whymiss}"
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
TIMEFORMAT='%U %S'

measure() { # bound, words, command...
  local bound=$1 words=$2 used
  shift 2
  used=$({ time "$@" > "$scratch/out" 2> "$scratch/err"; } 2>&1 | awk 'END { printf "%.1f", $1 + $2 }')
  printf '%-28s %6s s (%s)\n' "$words" "$used" "$bound"
  awk -v used="$used" -v bound="$bound" 'BEGIN { exit !(used < bound) }'
}

# One case of the library made to fail: the most common leading cause is expected of a shot with nothing wrong.
cat > "$scratch/case.yaml" << 'END'
- case: bench
  evidence: {club: driver, path: 4, face: 1, attack: 3, strike: heel, launch: 14, backspin: 2900}
  expect: {leading: shaft_steepens}
END
mkdir "$scratch/layer"
cat > "$scratch/layer/rule.yaml" << 'END'
- rule: bench-rule
  when: {path: {below: -3}}
  then: {shaft_steepens: strong}
  because: Only to measure.
  kind: experience
  source: practice
END
slow=0
measure 10 "cases" "$WHYMISS" cases || slow=1
measure 10 "cases --coverage" "$WHYMISS" cases --coverage || slow=1
measure 60 "cases --mutate" "$WHYMISS" cases --mutate || slow=1
measure 60 "compare, 2000 impacts" "$WHYMISS" compare "$scratch/layer" || slow=1
measure 20 "mend" "$WHYMISS" mend "$scratch/case.yaml" || slow=1
exit $slow

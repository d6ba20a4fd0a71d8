#!/bin/sh
# Runs one fuzzing program for some seconds, from the seeds of its own, and where it reads whole files of knowledge from the
# shipped ones too. A finding stays beside the program: add it to tests/fuzz/seeds/ once it is mended.
set -eu
program=$1
seconds=$2
name=$(basename "$program")
corpus=$program.corpus
mkdir -p "$corpus"

case $name in
fuzz_node | fuzz_model) shipped="rules kb" ;;
*) shipped= ;;
esac
seeds=
for folder in $shipped "tests/fuzz/seeds/$name"; do
  if [ -d "$folder" ]; then seeds="$seeds $folder"; fi
done
echo "$name: fuzzing for $seconds s"
# shellcheck disable=SC2086 # the list is meant to be split
if "$program" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=1024 -max_len=8192 -verbosity=0 \
  -print_final_stats=1 -artifact_prefix="$program." "$corpus" $seeds > "$program.log" 2>&1; then
  grep '^stat::number_of_executed_units' "$program.log"
else
  cat "$program.log"
  exit 1
fi

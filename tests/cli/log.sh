#!/bin/bash
# The lesson log: kept, shown, deleted; refused where it must be; whole at any moment, though its writer is killed 200 times.
# shellcheck disable=SC1010,SC1091,SC2034,SC2153,SC2154,SC2317 # what tap defines and calls
set -u
source tests/cli/tap
work=$scratch
export WHYMISS_BASE=$PWD/tests/kb_small WHYMISS_LOG=$work/log NO_COLOR=1
whymiss=$(realpath "$WHYMISS")
log=$WHYMISS_LOG/keen-heron-1.yaml

"$whymiss" log add keen-heron-1 --date 2026-05-30 --note 'said "ow", then: # no' path=-5 > "$work/out"
expect "a lesson is kept and told" test "$(cat "$work/out")" = "keen-heron-1: lesson of 2026-05-30 kept"
expect "directory and log are the owner's alone" test "$(stat -c %a "$WHYMISS_LOG" "$log" | tr '\n' ' ')" = "700 600 "
"$whymiss" log show keen-heron-1 > "$work/out"
expect "a note comes back as it was" grep -qF 'said "ow", then: # no' "$work/out"

echo "# my own remark" >> "$log"
cp "$log" "$work/before"
"$whymiss" log add keen-heron-1 --date 2026-06-02 path=5 > /dev/null
expect "what stood there stays to the byte" cmp -s -n "$(stat -c %s "$work/before")" "$work/before" "$log"
"$whymiss" log show keen-heron-1 > "$work/out"
expect "the course tells a move larger than noise" grep -q ', moved (' "$work/out"
"$whymiss" log show keen-heron-1 --json > "$work/log.json"
expect "JSON validates against its schema" /usr/bin/python3 - "$work/log.json" <<'PY'
import json, sys
try:
    import jsonschema
except ImportError:
    sys.exit(0)
jsonschema.validate(json.load(open(sys.argv[1])), json.load(open("docs/schemas/log.schema.json")))
PY
"$whymiss" log add > /dev/null 2> "$work/err"
expect "nothing to keep is a usage error" test $? -eq 2
made=$("$whymiss" log add path=1 | cut -d: -f1)
expect "without a name the log gets a made-up one" test -e "$WHYMISS_LOG/$made.yaml"
"$whymiss" log add "../../etc/x" path=1 2> "$work/err"
expect "a name that is a path is refused" test $? -eq 4 -a ! -e "$work/etc"
"$whymiss" log add keen-heron-1 --date yesterday path=1 2> "$work/err"
expect "a date that is none is refused" grep -q '\[log-date\]' "$work/err"

for date in 2026-13-45 2026-00-10 2026-02-29 2026-04-31 2026-05-00 2026-05-30T24:00 2026-05-30T10:60; do
  "$whymiss" log add keen-heron-1 --date "$date" path=1 2> "$work/err"
  expect "there is no $date" grep -q '\[log-date\]' "$work/err"
done
"$whymiss" log add leap-year --date 2028-02-29T23:59 path=1 > "$work/out"
expect "a leap day is a date" grep -q 'lesson of 2028-02-29T23:59 kept' "$work/out"

# Pain is told, kept and shown.
"$whymiss" log add sore-otter --date 2026-05-30 pain=yes path=-5 > "$work/out"
expect "a red flag is told at once" grep -q '^STOP: Stop. Pain is no matter of practice' "$work/out"
"$whymiss" log show sore-otter > "$work/out"
expect "and shown" grep -q '^  STOP      Stop. Pain is no matter of practice' "$work/out"
expect "without a cause" test "$(grep -cE '^  (cause|drill) ' "$work/out")" = 0
"$whymiss" log show sore-otter --json > "$work/log.json"
expect "also as JSON" grep -q '"stop": "[a-z_]*"' "$work/log.json"
"$whymiss" log add sore-otter --date 2026-06-30 path=-5 > "$work/out"
expect "without pain nothing stops" test "$(grep -c STOP "$work/out")" = 0

# A second writer is kept out while the lock is held, and nothing changes.
cp "$log" "$work/before"
python3 - "$WHYMISS_LOG/.keen-heron-1.lock" "$whymiss" > "$work/out" 2>&1 <<'PY'
import fcntl, subprocess, sys
with open(sys.argv[1], "r+") as lock:
    fcntl.lockf(lock, fcntl.LOCK_EX)
    done = subprocess.run([sys.argv[2], "log", "add", "keen-heron-1", "path=1"], capture_output=True, text=True)
    print(done.returncode, done.stderr)
PY
expect "a second writer is told" grep -q '^5 .*\[log-locked\]' "$work/out"
expect "and changes nothing" cmp -s "$work/before" "$log"

sed 's/format: 1/format: 2/' "$log" > "$WHYMISS_LOG/newer.yaml"
cp "$WHYMISS_LOG/newer.yaml" "$work/newer"
"$whymiss" log add newer path=1 2> "$work/err"
expect "a log of a newer format is refused with its place" grep -q 'newer.yaml:3:11: .*\[log-format\]' "$work/err"
expect "and left alone" cmp -s "$work/newer" "$WHYMISS_LOG/newer.yaml"

# Killed 200 times, at moments spread over the time a writing takes: after each, the log is one of the whole texts it may be.
python3 - "$whymiss" "$WHYMISS_LOG" > "$work/kills" 2>&1 <<'PY'
import os, random, signal, subprocess, sys, time
whymiss, directory = sys.argv[1:]
path = os.path.join(directory, "often-killed.yaml")
def add(n): return [whymiss, "log", "add", "often-killed", "--date", "2026-01-01", "--note", f"lesson {n}", "path=-5"]
start = time.monotonic()
subprocess.run(add(0), check=True, stdout=subprocess.DEVNULL)
took = max(time.monotonic() - start, 0.002)
random.seed(20)
done = torn = kept = 0
held = open(path).read()
for n in range(1, 201):
    child = subprocess.Popen(add(n), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(random.uniform(0, 1.3 * took))
    child.send_signal(signal.SIGKILL)
    child.wait()
    now = open(path).read()
    if now != held and not (now.startswith(held) and now.endswith(f'note: "lesson {n}"\n')):
        torn += 1
    kept += now != held
    held = now
    done += 1
last = subprocess.run(add(999), stdout=subprocess.DEVNULL).returncode
shown = subprocess.run([whymiss, "log", "show", "often-killed"], capture_output=True, text=True)
print(done, torn, kept, last, shown.returncode, shown.stdout.count("lesson "))
PY
read -r done torn kept last shown _ < "$work/kills"
echo "# killed $done times: $kept times the lesson was kept before, $torn logs torn"
expect "killed 200 times, never torn" test "$done" = 200 -a "$torn" = 0
expect "some were killed before and some after the step" test "$kept" -gt 0 -a "$kept" -lt 200
expect "and the log goes on" test "$last" = 0 -a "$shown" = 0

"$whymiss" log delete often-killed > /dev/null
expect "deleting leaves nothing of the player" test -z "$(find "$WHYMISS_LOG" -name '*often-killed*')"
touch "$WHYMISS_LOG/.often-killed.lock" "$WHYMISS_LOG/.often-killed.yaml.new"
"$whymiss" log delete often-killed 2> /dev/null
expect "nor does deleting what a writer left without a log" test -z "$(find "$WHYMISS_LOG" -name '*often-killed*')"
echo '- nonsense' > "$WHYMISS_LOG/torn.yaml"
"$whymiss" log add torn path=1 2> /dev/null
rm "$WHYMISS_LOG/torn.yaml"
"$whymiss" log delete torn 2> /dev/null
expect "not even of a log taken away by hand" test -z "$(find "$WHYMISS_LOG" -name '*torn*')"

# Writers and deleters at once: two that hold the lock at the same time would lose a lesson that was said to be kept.
python3 - "$whymiss" "$WHYMISS_LOG" > "$work/crowd" 2>&1 <<'PY'
import os, subprocess, sys
whymiss, directory = sys.argv[1:]
path = os.path.join(directory, "crowded.yaml")
lost = 0
for n in range(40):
    subprocess.run([whymiss, "log", "add", "crowded", "--note", "first"], stdout=subprocess.DEVNULL)
    delete = subprocess.Popen([whymiss, "log", "delete", "crowded"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    adds = [subprocess.Popen([whymiss, "log", "add", "crowded", "--note", f"n{i}"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) for i in range(3)]
    said = sum("kept" in add.communicate()[0] for add in adds)
    deleted = delete.wait() == 0
    held = open(path).read() if os.path.exists(path) else ""
    lost += not deleted and held.count("note: \"n") != said
    subprocess.run([whymiss, "log", "delete", "crowded"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
print(lost, sum("crowded" in name for name in os.listdir(directory)))
PY
expect "a crowd loses no lesson and leaves nothing" test "$(cat "$work/crowd")" = "0 0"
"$whymiss" log show often-killed 2> "$work/err"
expect "and there is no log any more" grep -q '\[log-missing\]' "$work/err"
finish

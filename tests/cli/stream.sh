#!/bin/bash
# JSON Lines in, JSON Lines out: order kept, bad lines answered in place, memory constant, a slow or gone taker handled.
# shellcheck disable=SC1010,SC1091,SC2034,SC2153,SC2154,SC2317 # what tap defines and calls
source tests/cli/tap
export WHYMISS_BASE=tests/kb_small
python=/usr/bin/python3

cat > "$scratch/in" << 'END'
{"id": 1, "evidence": {"face": 1, "path": -5, "strike": "toe"}}

{"id": "two\ud83d\ude00", "handed": "left", "shots": 5, "evidence": {"face": "-1 +/- 0.5", "path": 5}}
{"id": 3, "evidence": {"pth": 2}}
not json at all {
{"id": 5, "evidence": {"path": "wide"}}
{"id": 6, "evidence": {"path": -400}}
[1, 2]
{"id": 8, "evidnce": {}}
{"id": 9, "evidence": null}
{"id": 10, "evidence": {"path": null, "face": 2}}
END
stream() { "$WHYMISS" stream "$@" > "$scratch/out" 2> "$scratch/err"; status=$?; }
stream < "$scratch/in"
expect "bad lines are findings, not a failure" ended 1
expect "a line for each line that is not blank" test "$(wc -l < "$scratch/out")" -eq 10
expect "an error stands in the place of its line" grep -q '^{"id":3,"line":4,"errors":\[{"code":"unknown-name","column":24,' "$scratch/out"
expect "an id of the upper planes comes back" grep -q '"two\\ud83d\\ude00"' "$scratch/out"
expect "null is not given" grep -q '^{"id":10,.*"verdict"' "$scratch/out"
expect "nor is evidence that is null" grep -q '^{"id":9,.*"no_evidence"' "$scratch/out"
lines_validate() {
  "$python" - "$scratch/out" << 'END'
import json, sys
lines = [json.loads(line) for line in open(sys.argv[1])]
try:
    import jsonschema
except ImportError:
    sys.exit(0)
schema = json.load(open("docs/schemas/stream.schema.json"))
validator = jsonschema.Draft202012Validator(schema)
bad = [(i, e.message) for i, line in enumerate(lines) for e in validator.iter_errors(line)]
print(bad[:3])
sys.exit(bool(bad) or not list(validator.iter_errors({"id": 1})))
END
}
expect "every line validates against the schema" lines_validate

mirror() { "$python" - "$scratch/out" << 'END'
import json, sys
a, b = [json.loads(line) for line in open(sys.argv[1])]
sys.exit(a["causes"] != b["causes"])
END
}
printf '%s\n' '{"evidence":{"face":1,"path":-5}}' '{"handed":"left","evidence":{"face":-1,"path":5}}' > "$scratch/two"
stream < "$scratch/two"
expect "a mirrored left-handed line has the same causes" mirror

"$python" -c '
import json, random
random.seed(7)
for i in range(20000):
    print(json.dumps({"id": i, "evidence": {"face": round(random.gauss(0, 3), 1), "path": round(random.gauss(0, 3), 1)}}))
' > "$scratch/many"
stream < "$scratch/many"; cp "$scratch/out" "$scratch/one"
stream --jobs 5 < "$scratch/many"
expect "five at once answer the same bytes in the same order" cmp "$scratch/one" "$scratch/out"
in_order() { "$python" -c '
import json, sys
sys.exit([json.loads(line)["id"] for line in sys.stdin] != list(range(20000)))' < "$scratch/out"; }
expect "and every id is there once" in_order

# Peak memory of 2,000 and of 20,000 lines.
peak() { # lines
  head -n "$1" "$scratch/many" > "$scratch/some"
  "$python" - "$WHYMISS" "$scratch/some" << 'END'
import resource, subprocess, sys
subprocess.run([sys.argv[1], "stream", "--jobs", "2"], stdin=open(sys.argv[2]), stdout=subprocess.DEVNULL, check=True)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
END
}
if grep -q __asan_init "$WHYMISS"; then
  skip "memory does not grow with the stream" "the address sanitizer keeps what was freed"
else
  few=$(peak 2000) many=$(peak 20000)
  echo "# peak memory: $few KiB for 2,000 lines, $many KiB for 20,000"
  expect "memory does not grow with the stream" test "$many" -lt $((few + few / 5 + 1024))
fi

yes '{"evidence":{"path":-5}}' | "$WHYMISS" stream --jobs 2 2> "$scratch/err" | head -3 > "$scratch/out"
expect "a taker that is gone ends the stream" test "$(wc -l < "$scratch/out")" -eq 3
expect "with one plain word" grep -qx "whymiss.*output.*" "$scratch/err"

answer_now() { "$python" - "$WHYMISS" << 'END'
import subprocess, sys
program = subprocess.Popen([sys.argv[1], "stream"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
program.stdin.write(b'{"id": 1}\n'); program.stdin.flush()
line = program.stdout.readline()
program.stdin.close()
sys.exit(not line.startswith(b'{"id":1,') or program.wait() != 0)
END
}
expect "each answer comes as soon as it can" timeout 20 bash -c "$(declare -f answer_now); WHYMISS=$WHYMISS python=$python answer_now"
held_up() { "$python" - "$WHYMISS" << 'END'
import fcntl, os, subprocess, sys, time
program = subprocess.Popen([sys.argv[1], "stream"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
os.set_blocking(program.stdin.fileno(), False)
line, taken, quiet = b'{"evidence":{"path":-5}}\n' * 100, 0, 0
while quiet < 20:
    try:
        taken += os.write(program.stdin.fileno(), line); quiet = 0
    except BlockingIOError:
        quiet += 1; time.sleep(0.05)
program.kill(); program.wait()
print("taken", taken)
sys.exit(taken > 2_000_000)
END
}
expect "a taker that does not take holds the reader up" timeout 60 bash -c "$(declare -f held_up); WHYMISS=$WHYMISS python=$python held_up"

"$python" -c 'print("{\"id\": 1, \"say\": \"" + "x" * 1100000 + "\"}"); print("{\"id\": 2}")' > "$scratch/long"
stream < "$scratch/long"
expect "a line that is too long is told and the next is answered" grep -q '^{"id":2,"line":2,' "$scratch/out"
stream --jobs 0 < /dev/null
expect "no jobs is a usage error" ended 2
finish

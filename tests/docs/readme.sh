#!/bin/bash
# The examples of README.md that show output: each ```console block is "$ command" and then exactly what it prints. ACCEPT=1 rewrites the output.
set -u
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
ln -s "$(realpath "$WHYMISS")" "$work/whymiss"
PATH=$work:$PATH NO_COLOR=1 WHYMISS_BASE=$PWD python3 - README.md "${ACCEPT:-}" <<'PY'
import re, subprocess, sys
path, accept = sys.argv[1], sys.argv[2]
text, n, bad = open(path).read(), 0, 0
def run(match):
    global n, bad
    n += 1
    command = match.group(1)
    done = subprocess.run(command, shell=True, capture_output=True, text=True)
    wanted = match.group(2)
    good = done.returncode == 0 and done.stdout == wanted
    if not good and not accept:
        bad += 1
        print("\n".join("# " + line for line in (done.stdout + done.stderr).splitlines()))
    print(f"{'ok' if good or accept else 'not ok'} {n} - {command}")
    return f"```console\n$ {command}\n{done.stdout}```"
new = re.sub(r"```console\n\$ (.*)\n((?:(?!```).*\n)*)```", run, text)
if n == 0:
    print("not ok 1 - README.md has an example")
    bad = 1
if accept:
    open(path, "w").write(new)
sys.exit(bad > 0)
PY

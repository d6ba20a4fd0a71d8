"""Runs the examples of the page of the rule language: every block of YAML is loaded with the others, every condition of the
table is tried on a case in which it holds and on one in which it does not, every word of a list is loaded where it belongs.
Arguments: the page, the context the examples need, the program. Prints TAP; exit status 1 when one failed."""

import json
import os
import re
import subprocess
import sys
import tempfile

page_path, context_path, program = sys.argv[1:4]
page = open(page_path, encoding="utf-8").read()
work = tempfile.TemporaryDirectory()
base = os.path.join(work.name, "base")
tries = os.path.join(work.name, "try")
os.mkdir(base)
os.mkdir(tries)
count = failed = 0


def say(good, name, told=""):
    global count, failed
    count += 1
    failed += not good
    print(f"{'ok' if good else 'not ok'} {count} - {name}")
    if not good and told:
        print("\n".join("# " + line for line in told.splitlines()))


def run(*words):
    done = subprocess.run([program, *words], capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


def write(folder, name, text):
    with open(os.path.join(folder, name), "w", encoding="utf-8") as out:
        out.write(text)


# ---- blocks ----

BLOCK = re.compile(r"(?:^    .*\n|^\n(?=    ))+", re.M)
KIND = re.compile(r"- (evidence|finding|cause|drill|club|source|rule|case|phrase|column|window): (\S+)")
FLIGHTS = [f"{start}_{curve}" for start in ("left", "straight", "right") for curve in ("left", "straight", "right")]


def blocks():
    for found in BLOCK.finditer(page):
        text = re.sub(r"^    ", "", found.group(0), flags=re.M).lstrip("\n")
        if KIND.match(text):
            yield text


def whole(block):
    """The page leaves out of a list of flights all but one."""
    left_out = re.search(r"^( +)\.\.\. .*\n", block, re.M)
    if not left_out:
        return block
    rest = [flight for flight in FLIGHTS if f"{flight}:" not in block]
    return block.replace(left_out.group(0), "".join(f"{left_out.group(1)}{flight}: words\n" for flight in rest))


def number_evidence(name, keys="  ask: x\n  effort: measure\n"):
    return (f"- evidence: {name}\n  title: x\n  about: x\n  kind: number\n  unit: deg\n  range: [-90, 90]\n"
            f"  error: 1\n  spread: 1\n{keys}")


NUMBERS = ["face", "face_to_path", "attack", "arc_direction", "plane_tilt", "start", "curve", "axis_tilt", "offline", "carry",
           "path_scatter"]


def load_blocks():
    entries = []
    write(base, "context.yaml", open(context_path, encoding="utf-8").read())
    write(base, "numbers.yaml", "".join(number_evidence(name) for name in NUMBERS))
    for i, block in enumerate(blocks()):
        write(base, f"block_{i:02}.yaml", whole(block))
        entries += KIND.findall(block)
    status, _, told = run("check", "--bare", "--kb", base)
    good = status == 0 and ": error:" not in told
    say(good, "all blocks load together", told)
    if not good:
        return False
    kinds = {kind for kind, _ in entries}
    for kind in re.findall(r"`(\w+)`", re.search(r"says what it is:\n(.*)\)\.", page).group(1)):
        say(kind in kinds or kind == "phrase", f"the page has an example of '{kind}'")
    for kind, name in entries:
        if kind not in ("column", "window", "phrase"):
            status, _, told = run("show", f"{kind}:{name}", "--bare", "--kb", base)
            say(status == 0, f"the example {kind} {name} is part of the knowledge", told)
    for kind, name in entries:
        if kind == "case":
            status, _, told = run("diagnose", "--case", name, "--bare", "--kb", base)
            say(status == 0, f"the example case {name} runs", told)
    return True


# ---- conditions ----

# Evidence with which it holds, and with which it does not.
TRUTH = {
    "path: {above: 2}": ("path=5", "path=-5"),
    "path: {below: -2}": ("path=-5", "path=5"),
    "path: {between: [-2, 2]}": ("path=0", "path=5"),
    "path: {outside: [-2, 2]}": ("path=9", "path=0"),
    "path: {near: 0, within: 1.5}": ("path=0 +/- 0.5", "path=3"),
    "lie: {is: fairway}": ("lie=fairway", "lie=rough"),
    "lie: {one_of: [rough, sand]}": ("lie=sand", "lie=fairway"),
    "pain: {is: yes}": ("pain=yes", "pain=no"),
    'words: {matches: "slic(e|ing)"}': ("words=a slice", "words=a hook"),
    "attack: {known: yes}": ("attack=1", "pain=no"),
    "attack: {known: no}": ("pain=no", "attack=1"),
    "cuts_across: {believed: yes}": ("path=-9 face_to_path=9", "path=9 face_to_path=9"),
    "cuts_across: {believed: 0.4}": ("path=-9 face_to_path=9", "path=9 face_to_path=9"),
    'formula: "face > path + 1"': ("face=9 path=0", "face=0 path=9"),
}


def certainty(evidence):
    """Of the finding 'tried'."""
    words = re.findall(r"\w+=[^=]*?(?=\s\w+=|$)", evidence)
    status, out, told = run("diagnose", *words, "--json", "--bare", "--kb", base, "--kb", tries)
    if status != 0:
        return None, told
    return next(f["certainty"] for f in json.loads(out)["findings"] if f["name"] == "tried"), told


def try_condition(name, when, truth):
    write(tries, "try.yaml", f"- rule: try\n  when: {{{when}}}\n  then: {{tried: 0.9}}\n  because: x\n  kind: geometry\n")
    yes, told = certainty(truth[0])
    say(yes is not None and yes > 0.2, f"{name} holds with {truth[0]}", f"certainty {yes}\n{told}")
    no, told = certainty(truth[1])
    say(no is not None and no <= 0.2, f"{name} does not hold with {truth[1]}", f"certainty {no}\n{told}")


def table_conditions():
    table = re.search(r"### Conditions\n(.*?)\nJoined", page, re.S).group(1)
    for row in re.findall(r"^\| (`.*?`) \|(?! on)", table.replace("e|i", "e\\i"), re.M):
        name = None
        for code in re.findall(r"`([^`]*)`", row.replace("e\\i", "e|i")):
            if not code.startswith("{"):
                name = code.split(":")[0]
            yield code if not code.startswith("{") else f"{name}: {code}"


def try_conditions():
    for condition in table_conditions():
        if condition in TRUTH:
            try_condition(condition, condition, TRUTH[condition])
        else:
            say(False, f"the table's condition {condition} has evidence to try it with")
    short = re.search(r"^Short forms: (.*)\.$", page, re.M).group(1)
    for code, long in re.findall(r"`([^`]*)` for `([^`]*)`", short):
        name = code.split(":")[0]
        try_condition(code, code, TRUTH[f"{name}: {long}"])
    try_condition("all", "all: [{pain: yes}, {lie: rough}]", ("pain=yes lie=rough", "pain=no lie=rough"))
    try_condition("any", "any: [{pain: yes}, {lie: rough}]", ("pain=no lie=rough", "pain=no lie=sand"))
    try_condition("none", "none: [{pain: yes}, {lie: rough}]", ("pain=no lie=sand", "pain=no lie=rough"))


# ---- words ----

def codes(pattern):
    """The words in back quotes of the part of the page that the pattern's group matches."""
    return re.findall(r"`([^`]+)`", re.search(pattern, page, re.S).group(1))


def try_entry(name, text):
    write(tries, "try.yaml", text)
    status, _, told = run("check", "--bare", "--kb", base, "--kb", tries)
    say(status == 0 and ": error:" not in told, name, told)


def try_strengths():
    part = re.search(r"or a word, (.*?);", page, re.S).group(1)
    for word, strength in re.findall(r"`(\w+)`\s+(0\.\d+)", part):
        for sign in ("", "-"):
            write(tries, "try.yaml",
                  f"- rule: try\n  when: {{pain: yes}}\n  then: {{tried: {sign}{word}}}\n  because: x\n  kind: geometry\n")
            got, told = certainty("pain=yes")
            wanted = float(sign + strength)
            say(got is not None and abs(got - wanted) < 1e-12, f"{sign}{word} is {wanted}", f"got {got}\n{told}")


def try_words():
    for unit in codes(r"Units: (.*?)\.\n"):
        try_entry(f"unit {unit}", number_evidence("new", "  ask: x\n  effort: look\n").replace("unit: deg", f"unit: '{unit}'"))
    for kind in codes(r"\| `kind` \| (.*?) \(required\)"):
        say(f"kind: {kind}\n" in open(context_path, encoding="utf-8").read(), f"kind {kind} is in the context")
    for effort in re.findall(r"`(\w+)` \(", re.search(r"^\| `effort` \|(.*)\|$", page, re.M).group(1)):
        try_entry(f"effort {effort}", number_evidence("new", f"  ask: x\n  effort: {effort}\n"))
    for formula in codes(r"an error of its own is written (.*?), of which"):
        try_entry(f"formula {formula}", number_evidence("new", f"  formula: {formula.replace('...', 'path')}\n"))
    for area in codes(r"`area` of a cause is one of (.*?)\. A finding"):
        try_entry(f"area {area}", f"- cause: new\n  title: x\n  about: x\n  area: {area}\n")
    for kind in re.findall(r"`(\w+)`(?: \(|\.)", re.search(r"^`kind` is (.*)$", page, re.M).group(1)):
        try_entry(f"kind of rule {kind}",
                  f"- rule: new\n  when: {{pain: yes}}\n  then: {{tried: hint}}\n  because: x\n  kind: {kind}\n")
    for family in re.search(r"family: iron +# (.*)", page).group(1).split(", "):
        try_entry(f"family {family}",
                  f"- club: new\n  title: x\n  family: {family}\n  loft: 9\n  length: 1\n  lie: 60\n  head_mass: 200\n")
    for status in re.search(r"status: 2nd +# (.*)", page).group(1).split(", "):
        try_entry(f"status {status}", f"- source: new\n  title: x\n  status: {status}\n")
    try_entry("a red flag", "- finding: new\n  title: x\n  about: x\n  red_flag: text\n")
    try_entry("a good finding", "- finding: new\n  title: x\n  about: x\n  good: yes\n")
    try_entry("a rule that removes", "- rule: new\n  when: {pain: yes}\n  removes: [gate_of_two_balls]\n  because: x\n"
              "  kind: convention\n")


if load_blocks():
    try_conditions()
    try_strengths()
    try_words()
print(f"1..{count}")
sys.exit(failed > 0)

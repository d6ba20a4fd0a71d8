"""Runs the examples of a page: argv is the page, a scratch directory to run in, and the directory of the knowledge.

A ```yaml block whose first line is a comment with a path is written to that path. A ```console block holds commands behind "$ ",
each with what it prints; a line "..." stands for any lines, "..." in a line for any words. `<!-- ends 1 -->` before a block: its last command ends so, else with 0. In a page that has `<!-- numbers checked -->`,
each paragraph or table row with a number outside of blocks and `code` must be followed by `<!-- from: A; B -->`, and each of its
numbers must stand in what A or B gives: a whymiss command, `kb ENTRY.KEY` or `calc EXPRESSION`. Prints TAP lines.
"""
import glob, os, re, subprocess, sys

page, scratch, base = sys.argv[1:]
text = open(page).read()
count = bad = 0


def say(good, words, why=""):
    global count, bad
    count += 1
    bad += not good
    for line in why.splitlines() if not good else []:
        print("# " + line)
    print(f"{'ok' if good else 'not ok'} {count} - {words}")


def run(command):
    done = subprocess.run(command, shell=True, capture_output=True, text=True, cwd=scratch)
    return done.stdout + done.stderr, done.returncode


def matches(wanted, got):
    """Whether the lines are those wanted, where "..." stands for any lines, or any words of a line."""
    pattern = "".join(r"(?:.*\n)*?" if line == "..." else re.escape(line).replace(r"\.\.\.", ".*") + "\n" for line in wanted)
    return re.fullmatch(pattern, "".join(line + "\n" for line in got)) is not None


def console(block, ends):
    for part in re.split(r"^\$ ", block, flags=re.M)[1:]:
        command, *wanted = part.rstrip("\n").split("\n")
        last = block.rstrip("\n").endswith(part.rstrip("\n"))
        printed, status = run(command)
        good = matches(wanted, printed.rstrip("\n").split("\n") if printed.rstrip("\n") else [])
        good = good and status == (ends if last else 0)
        say(good, command, f"ends {status}\n{printed}")


def write_file(block):
    first = block.split("\n", 1)[0]
    found = re.match(r"# (\S+\.yaml)", first)
    if not found:
        say(False, f"a yaml block says which file it is: {first}")
        return
    path = os.path.join(scratch, found.group(1))
    os.makedirs(os.path.dirname(path), exist_ok=True)
    open(path, "w").write(block)


blocks = re.compile(r"(?:<!-- ends (\d+) -->\n)?```(\w*)\n(.*?)```", re.S)
for ends, kind, block in blocks.findall(text):
    if kind == "yaml":
        write_file(block)
    elif kind == "console":
        console(block, int(ends or 0))
    else:
        say(False, f"a block is yaml or console, not '{kind}'")

# ---- numbers ----

NUMBER = re.compile(r"(?<![\w.-])[-+]?\d+(?:\.\d+)?(?![\w])")


def numbers(words):
    return {round(abs(float(found)), 9) for found in NUMBER.findall(words)}


def knowledge():
    import yaml
    names = glob.glob(f"{base}/kb/**/*.yaml", recursive=True) + glob.glob(f"{base}/rules/*.yaml")
    return {str(next(iter(entry.values()))): entry for name in sorted(names)
            for entry in yaml.load(open(name), yaml.BaseLoader) if next(iter(entry)) not in ("phrase", "column", "window")}


def from_kb(path):
    name, *keys = path.split(".")
    at = entries[name]
    for key in keys:
        at = at[int(key)] if isinstance(at, list) else at[key]
    return str(at)


def given(source):
    """All numbers a source gives."""
    kind, _, rest = source.strip().partition(" ")
    if kind == "whymiss":
        return numbers(run(source.strip())[0])
    if kind == "kb":
        return numbers(from_kb(rest))
    if kind == "calc" and re.fullmatch(r"[-+*/(). 0-9]+[-+*/][-+*/(). 0-9]+", rest):
        exact = eval(rest)
        return numbers(rest) | {round(abs(exact), digits) for digits in (0, 1, 2, 3, 4)}
    raise KeyError(source)


if "<!-- numbers checked -->" in text:
    entries = knowledge()
    prose = re.sub(r"^#.*$", "", blocks.sub("\n\n", text), flags=re.M)
    # A row of a table is a paragraph; the comment stands in its last cell.
    prose = re.sub(r"^(\|.*)$", r"\n\1\n", prose, flags=re.M)
    for paragraph in re.split(r"\n\s*\n", prose):
        sources = [source for found in re.findall(r"<!-- from: (.*?) -->", paragraph, re.S) for source in found.split(";")]
        words = re.sub(r"<!--.*?-->|`[^`]*`|\([a-z]+-\d{4}\)", "", paragraph, flags=re.S)
        told = numbers(words)
        if not told and not sources:
            continue
        start = " ".join(words.split())[:60]
        try:
            known = set().union(*(given(source) for source in sources)) if sources else set()
        except (KeyError, IndexError, ValueError, TypeError) as fault:
            say(False, f"numbers of: {start}", f"no such source: {fault!r}")
            continue
        missing = sorted(told - known)
        say(told and not missing, f"numbers of: {start}", f"{missing} come from no source named there")
if count == 0:
    say(False, f"{page} has examples")
sys.exit(bad > 0)

"""Reads what --steps prints, as text or as JSON, into one shape: a list of steps."""

import json
import re

from step_checker_algebra import Faulty

# ---- the text, read into the same shape as the JSON ----

NUMBER = r"[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?"


def paragraphs(text):
    """Steps as (number, head, lines), with wrapped lines put together again."""
    steps = []
    for line in text.splitlines():
        start = re.match(r"^( *\d+)  (\S.*)$", line)
        if start and len(start.group(1)) == 4:
            steps.append((int(start.group(1)), [start.group(2)], []))
        elif not steps or not line.startswith("      "):
            continue
        elif not line.startswith("       "):
            steps[-1][1].append(line.strip())
        elif line[7] != " ":
            steps[-1][2].append(line[7:])
        else:
            steps[-1][2][-1] += " " + line.strip()
    return [(number, " ".join(head), lines) for number, head, lines in steps]


def split_steps(words):
    """The words without their ", step N" tail, and the numbers."""
    tail = re.search(r"((?:, step \d+)*)$", words).group(1)
    return words[: len(words) - len(tail)], [int(n) for n in re.findall(r"\d+", tail)]


def read_reading(lines):
    first = lines[0]
    step = {}
    given = re.match(r'^(\w+) = (.*) \(given as ".*"\)$', first, re.S)
    derived = re.match(r"^(\w+) = (.*?) by (.*)$", first, re.S)
    club = re.match(r"^(\w+) = (.*) \(the club's\)(.*)$", first, re.S)
    if given:
        step["kind"], step["evidence"], worth = "given", given.group(1), given.group(2)
    elif club:
        step["kind"], step["evidence"], worth = "derived", club.group(1), club.group(2)
        step["inputs"] = [{"step": n} for n in split_steps(club.group(3))[1]]
    elif derived:
        step["kind"], step["evidence"], worth = "derived", derived.group(1), derived.group(2)
        step["formula"], numbers = split_steps(derived.group(3))
        step["inputs"] = [{"step": n} for n in numbers]
    else:
        raise Faulty(f"reading not understood: {first}")
    number = re.match(rf"^({NUMBER}) \+/- ({NUMBER})( \S+)?$", worth)
    if number:
        step["value"], step["error"] = float(number.group(1)), float(number.group(2))
    else:
        word, _, sure = worth.partition(", sure ")
        step["value"], step["sure"] = word.strip('"'), float(sure or 1)
    for line in lines[1:]:
        read_error_line(step, line)
    return step


def read_error_line(step, line):
    mean = re.match(rf"^error from one reading ({NUMBER}), spread ({NUMBER}) over (\d+) shots$", line)
    if mean:
        step["mean_of"] = [float(mean.group(1)), float(mean.group(2)), int(mean.group(3))]
        return
    own = re.match(r"^own error of the formula: its bend(?:, and (.*))?$", line)
    if own:
        stated, numbers = split_steps(own.group(1) or "0")
        step["own_error"] = {"formula": stated, "inputs": [{"step": n} for n in numbers]}
        return
    if not line.startswith("error from "):
        raise Faulty(f"line not understood: {line}")
    step["error_from"] = []
    for part in line[len("error from "):].split(", "):
        found = re.match(rf"^(formula of )?(\w+) ({NUMBER}) x ({NUMBER})$", part)
        step["error_from"].append({"of_formula": bool(found.group(1)), "evidence": found.group(2),
                                   "slope": float(found.group(3)), "error": float(found.group(4))})


def read_belief(line):
    """(belief or None, depth, words) of a line with a belief in its margin, or None."""
    found = re.match(r"^([-+]?\d\.\d{4}|unknown)( +)(\S.*)$", line)
    if not found or found.group(3).startswith("x strength"):
        return None
    column = len(found.group(1)) + len(found.group(2))
    belief = None if found.group(1) == "unknown" else float(found.group(1))
    return belief, (column - 9) // 2, found.group(3)


JOINS = {"all of these": "all", "any of these": "any", "none of these": "none"}


def read_premise(lines, depth=0):
    belief, its_depth, words = read_belief(lines[0])
    if its_depth != depth:
        raise Faulty(f"clause at the wrong depth: {lines[0]}")
    lines.pop(0)
    for start, kind in JOINS.items():
        if not words.startswith(start + " ("):
            continue
        clauses = []
        while lines and read_belief(lines[0]) and read_belief(lines[0])[1] > depth:
            clauses.append(read_premise(lines, depth + 1))
        return {"join": kind, "belief": belief, "clauses": clauses}
    decides = not words.endswith(", not decisive")
    condition, numbers = split_steps(words.removesuffix(", not decisive"))
    leaf = {"condition": condition, "belief": belief, "decides": decides,
            "inputs": [{"step": n} for n in numbers]}
    return leaf


def read_rule(head, lines):
    found = re.match(r"^rule (\S+) \(.*:\d+:\d+\)(?:, group (\S+))?$", head)
    step = {"kind": "rule", "rule": found.group(1), "group": found.group(2), "conclusions": []}
    step["premise"] = read_premise(lines)
    step["state"] = "fired"
    for line in lines:
        effect = re.match(rf"^({NUMBER}) x strength ({NUMBER}) = ({NUMBER}) for (\w+)(?:, step (\d+))?$", line)
        if effect:
            step["conclusions"].append({"premise": float(effect.group(1)), "claim": effect.group(4),
                                        "strength": float(effect.group(2)), "value": float(effect.group(3))})
        elif line.startswith("does not fire"):
            step["state"] = "failed"
        elif line.startswith("not judged"):
            step["state"] = "unknown"
        elif not line.startswith(("because", "takes out", "it also speaks on")):
            raise Faulty(f"line not understood: {line}")
    return step


def read_claim(head, lines):
    name = re.match(r"^(?:finding|cause|advice on drill) (\w+): ", head).group(1)
    step = {"kind": "claim", "claim": name, "contributions": []}
    for line in lines:
        certainty = re.match(rf"^certainty ({NUMBER})(, the counted ones combined)?$", line)
        if certainty:
            step["certainty"] = float(certainty.group(1))
            continue
        belief, _, words = read_belief(line)
        found = re.match(r"^rule (\S+?)(?:, step (\d+))?(, not counted: .*)?$", words)
        step["contributions"].append({"rule": found.group(1), "value": belief, "counted": not found.group(3),
                                      "step": int(found.group(2)) if found.group(2) else None})
    return step


def read_drill(head, lines):
    step = {"kind": "drill", "drill": re.match(r"^drill (\w+): ", head).group(1), "causes": []}
    for line in lines:
        whole = re.match(rf"^from causes ({NUMBER}), advice ({NUMBER})(?:, step (\d+))?, "
                         rf"(external|body thought): value ({NUMBER})$", line)
        if whole:
            step["from_causes"], step["advice"] = float(whole.group(1)), float(whole.group(2))
            step["task"], step["value"] = whole.group(4).split()[0], float(whole.group(5))
        elif not line.startswith("taken out"):
            part, _, words = read_belief(line)
            found = re.match(rf"^certainty ({NUMBER}) x effect ({NUMBER}) on (\w+)(?:, step (\d+))?$", words)
            step["causes"].append({"part": part, "certainty": float(found.group(1)),
                                   "effect": float(found.group(2)), "cause": found.group(3),
                                   "step": int(found.group(4)) if found.group(4) else None})
    return step


def read_text(text):
    steps = []
    for number, head, lines in paragraphs(text):
        if head.startswith("rule "):
            step = read_rule(head, lines)
        elif re.match(r"^(finding|cause|advice on drill) \w+: ", head):
            step = read_claim(head, lines)
        elif re.match(r"^drill \w+: ", head) and re.search(r": value ", " ".join(lines)):
            step = read_drill(head, lines)
        else:
            step = read_reading(lines)
        step["number"] = number
        steps.append(step)
    return steps


def decide_all(clause):
    """Where no step is left out, every clause can be checked."""
    clause["decides"] = True
    for inner in clause.get("clauses", []):
        decide_all(inner)


def read_json(text):
    whole = json.loads(text)
    steps = whole["steps"]
    for step in steps:
        if step["kind"] == "claim":
            step["claim"] = step.get("finding") or step.get("cause") or step.get("drill")
        if step["kind"] == "rule":
            for conclusion in step["conclusions"]:
                conclusion["premise"] = step["premise"]["belief"]
            if whole["left_out"] == 0:
                decide_all(step["premise"])
    return steps

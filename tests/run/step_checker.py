#!/usr/bin/env python3
"""Re-evaluates every step that `whymiss diagnose --steps` prints, from the print alone.

Reads the files named: the text of the steps, or their JSON where the name ends in .json. Reckons each
printed number again from the numbers it is said to come from: the error of a mean, formulas and their
errors, beliefs of clauses (normal distribution), joins, premise x strength, groups, the combination
of certainties, the value of a drill. It knows nothing of the program's code. Formulas with functions
of the trade are not reckoned again; they are counted. Prints a line a file, "ok" or "not ok"; a file
without a step is not ok. With --falsify it instead changes each printed certainty in turn, and "ok"
says that every one of these changes was noticed. Exit 0 when all are ok.
"""

import json
import math
import re
import sys

THRESHOLD = 0.2
BODY_WEIGHT = 0.7


class Faulty(Exception):
    """The print contradicts itself or cannot be read."""


# ---- the algebra, written from its published description ----


def normal_below(z):
    return 0.5 * math.erfc(-z / math.sqrt(2))


def belief_inside(value, error, low, high):
    if error <= 0:
        if value in (low, high):
            return 0.0
        return 1.0 if low < value < high else -1.0
    above_low = 1.0 if low == -math.inf else normal_below((value - low) / error)
    above_high = 0.0 if high == math.inf else normal_below((value - high) / error)
    return 2 * (above_low - above_high) - 1


def combine(x, y):
    if x >= 0 and y >= 0:
        return x + y - x * y
    if x <= 0 and y <= 0:
        return x + y + x * y
    return (x + y) / (1 - min(abs(x), abs(y)))


def combine_all(values):
    total = 0.0
    for value in values:
        total = combine(total, value)
    return total


def join(kind, beliefs):
    """None is unknown. all: the smallest; any: the largest; none: the largest, reversed."""
    known = [belief for belief in beliefs if belief is not None]
    unknown = len(known) < len(beliefs)
    if kind == "all":
        if unknown and not (known and min(known) <= THRESHOLD):
            return None
        return min(known)
    if unknown and not (known and max(known) > THRESHOLD):
        return None
    return max(known) if kind == "any" else -max(known)


# ---- formulas: the arithmetic of the rule language, not the trade's functions ----

FUNCTIONS = {
    "hypot": math.hypot, "min": min, "max": max, "abs": abs, "sqrt": math.sqrt,
    "sin": lambda x: math.sin(math.radians(x)), "cos": lambda x: math.cos(math.radians(x)),
    "tan": lambda x: math.tan(math.radians(x)), "asin": lambda x: math.degrees(math.asin(x)),
    "acos": lambda x: math.degrees(math.acos(x)), "atan": lambda x: math.degrees(math.atan(x)),
    "atan2": lambda y, x: math.degrees(math.atan2(y, x)),
}


class NotReckoned(Exception):
    """The formula calls a function this checker does not know."""


class Formula:
    """A recursive-descent reader that evaluates as it reads; a comparison gives left - right."""

    def __init__(self, text, values):
        self.tokens = re.findall(r"\d+\.?\d*(?:[eE][-+]?\d+)?|\.\d+|[A-Za-z_]\w*|[-+*/(),<>]", text)
        self.values = values
        self.at = 0

    def peek(self):
        return self.tokens[self.at] if self.at < len(self.tokens) else None

    def take(self):
        self.at += 1
        return self.tokens[self.at - 1]

    def whole(self):
        left = self.sum()
        if self.peek() in ("<", ">"):
            sign = 1 if self.take() == ">" else -1
            left = sign * (left - self.sum())
        if self.peek() is not None:
            raise Faulty(f"formula not understood at {self.peek()}")
        return left

    def sum(self):
        total = self.product()
        while self.peek() in ("+", "-"):
            total = total + self.product() if self.take() == "+" else total - self.product()
        return total

    def product(self):
        total = self.unary()
        while self.peek() in ("*", "/"):
            total = total * self.unary() if self.take() == "*" else total / self.unary()
        return total

    def unary(self):
        if self.peek() == "-":
            self.take()
            return -self.unary()
        return self.primary()

    def primary(self):
        token = self.take()
        if token == "(":
            inner = self.sum()
            self.take()
            return inner
        if token[0].isdigit() or token[0] == ".":
            return float(token)
        if self.peek() != "(":
            return self.values[token]
        self.take()
        arguments = [self.sum()]
        while self.take() == ",":
            arguments.append(self.sum())
        if token not in FUNCTIONS:
            raise NotReckoned(token)
        return FUNCTIONS[token](*arguments)


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


# ---- checking ----


class Checker:
    """tight: the tolerance where printed digits are the only loss; loose: where they are magnified."""

    def __init__(self, steps, digits):
        self.by_number = {step["number"]: step for step in steps}
        self.steps = steps
        self.half = 0.5 * 10.0 ** -digits
        self.tight = 4 * self.half
        self.checked = 0
        self.skipped = 0
        self.not_listed = 0
        self.readings = {s["evidence"]: s for s in steps if s["kind"] in ("given", "derived")}
        self.rules = {s["rule"]: s for s in steps if s["kind"] == "rule"}
        self.claims = {s["claim"]: s for s in steps if s["kind"] == "claim"}

    def agree(self, what, printed, reckoned, tolerance=None):
        self.checked += 1
        if printed is None and reckoned is None:
            return
        if printed is None or reckoned is None:
            raise Faulty(f"{what}: printed {printed}, reckoned {reckoned}")
        allowed = tolerance if tolerance is not None else self.tight
        if not abs(printed - reckoned) <= allowed + 1e-12:
            raise Faulty(f"{what}: printed {printed}, reckoned {reckoned}, may differ by {allowed:.2g}")

    def require(self, holds, what):
        self.checked += 1
        if not holds:
            raise Faulty(what)

    def run(self):
        for place, step in enumerate(self.steps, 1):
            self.require(step["number"] == place, f"step {step['number']} stands at place {place}")
            self.place = place
            getattr(self, "check_" + step["kind"])(step)

    def earlier(self, number):
        self.require(0 < number < self.place, f"step {self.place} rests on step {number}, which is not earlier")
        return self.by_number[number]

    # -- readings --

    def check_given(self, step):
        if step.get("mean_of"):
            error, spread, shots = step["mean_of"]
            self.agree(step["evidence"] + " error", step["error"], math.hypot(error, spread / math.sqrt(shots)),
                       1e-4 * step["error"])

    def check_derived(self, step):
        inputs = [self.earlier(one["step"]) for one in step["inputs"]]
        if "error" not in step:
            return
        roots = step.get("error_from", [])
        error = math.sqrt(sum((root["slope"] * root["error"]) ** 2 for root in roots))
        self.agree(step["evidence"] + " error", step["error"], error, 1e-4 * max(error, 1e-9))
        if step.get("formula"):
            self.check_formula(step, inputs)

    def slopes_of(self, step):
        if step["kind"] == "given":
            return {(False, step["evidence"]): 1.0}
        return {(root["of_formula"], root["evidence"]): root["slope"] for root in step.get("error_from", [])}

    def formula_slopes(self, text, values, inputs):
        """Slope over each root, by central differences over the inputs."""
        slopes = {}
        for one in inputs:
            step = max(0.05 * one["error"], 1e-6 * max(1, abs(one["value"])))
            above = Formula(text, {**values, one["evidence"]: one["value"] + step}).whole()
            below = Formula(text, {**values, one["evidence"]: one["value"] - step}).whole()
            for root, slope in self.slopes_of(one).items():
                slopes[root] = slopes.get(root, 0) + (above - below) / (2 * step) * slope
        return slopes

    def check_formula(self, step, inputs):
        values = {one["evidence"]: one["value"] for one in inputs}
        try:
            number = Formula(step["formula"], values).whole()
            slopes = self.formula_slopes(step["formula"], values, inputs)
        except NotReckoned:
            self.skipped += 1
            return
        self.agree(step["evidence"], step["value"], number, 2e-4 * max(step["error"], self.half * abs(number) + 1e-9))
        own = (True, step["evidence"])
        for root, slope in self.slopes_of(step).items():
            if root != own:
                self.agree(f"slope of {step['evidence']} over {root[1]}", slope, slopes.get(root, 0),
                           1e-3 * abs(slope) + 1e-6)

    # -- rules --

    def check_rule(self, step):
        premise = step["premise"]
        self.check_premise(premise)
        state = step["state"]
        belief = premise["belief"]
        fires = None if belief is None else belief > THRESHOLD - (self.half if belief <= THRESHOLD and state == "fired" else 0)
        reckoned = "unknown" if belief is None else "fired" if fires else "failed"
        self.require(state == reckoned, f"rule {step['rule']} is {state}, its premise says {reckoned}")
        for conclusion in step["conclusions"]:
            if state != "fired":
                continue
            self.require(abs(conclusion["strength"]) <= 0.95, f"rule {step['rule']}: strength beyond 0.95")
            self.agree(f"rule {step['rule']} premise", conclusion["premise"], belief, 1e-12)
            self.agree(f"rule {step['rule']} for {conclusion['claim']}", conclusion["value"],
                       belief * conclusion["strength"])

    def check_premise(self, clause):
        if "join" not in clause:
            self.check_leaf(clause)
            return
        for inner in clause["clauses"]:
            self.check_premise(inner)
        self.agree(clause["join"], clause["belief"], join(clause["join"], [c["belief"] for c in clause["clauses"]]))

    def check_leaf(self, leaf):
        numbers = [one["step"] for one in leaf.get("inputs", []) if one.get("step")]
        if leaf.get("step"):
            numbers.append(leaf["step"])
        read = [self.earlier(n) for n in numbers]
        words = leaf["condition"]
        if not leaf["decides"] and not read:
            self.not_listed += 1  # judged from steps left out; --all lists them, and the join is checked all the same
            return
        believed = re.match(rf"^(\w+) believed above ({NUMBER})$", words)
        if believed:
            self.check_believed(leaf, believed.group(1), float(believed.group(2)))
        elif words.endswith(" > 0") and words[0] in "(-0123456789" or " > 0" in words and " is " not in words:
            self.check_comparison(leaf, words, read)
        else:
            self.check_evidence(leaf, words)

    def check_believed(self, leaf, name, threshold):
        claim = self.claims.get(name)
        if leaf["belief"] is None:
            self.require(claim is None, f"{name} is said to be unknown, but has a certainty")
            return
        certainty = claim["certainty"] if claim else 0.0
        if certainty <= threshold:
            certainty = min(certainty, THRESHOLD)
        self.agree(leaf["condition"], leaf["belief"], certainty)

    def check_comparison(self, leaf, words, read):
        if leaf["belief"] is None:
            return
        values = {one["evidence"]: one["value"] for one in read}
        try:
            number = Formula(words.rsplit(" > 0", 1)[0], values).whole()
            slopes = self.formula_slopes(words.rsplit(" > 0", 1)[0], values, read)
        except NotReckoned:
            self.skipped += 1
            return
        errors = {}
        for one in self.readings.values():
            if one["kind"] == "given" and "error" in one:
                errors[(False, one["evidence"])] = one["error"]
            for root in one.get("error_from", []):
                errors[(root["of_formula"], root["evidence"])] = root["error"]
        error = math.sqrt(sum((slope * errors.get(root, 0)) ** 2 for root, slope in slopes.items()))
        self.agree(words, leaf["belief"], belief_inside(number, error, 0, math.inf), self.tight + 2e-4 * (self.half > 1e-9))

    def check_evidence(self, leaf, words):
        name = words.split(" ", 1)[0]
        reading = self.readings.get(name)
        if words in (name + " known", name + " not known"):
            is_known = reading is not None
            self.agree(words, leaf["belief"], 1.0 if is_known == words.endswith(name + " known") else -1.0)
            return
        if leaf["belief"] is None:
            self.require(reading is None or " matches " in words, f"{name} is said to be unknown, but was read")
            return
        self.require(reading is not None, f"{words}: judged, but {name} was not read")
        self.agree(words, leaf["belief"], self.reckon_evidence(words[len(name) + 1:], reading),
                   self.tight + 1e-4 * (self.half > 1e-9))

    def reckon_evidence(self, words, reading):
        single = re.match(rf"^(above|below) ({NUMBER})", words)
        pair = re.match(rf"^(between|outside) ({NUMBER}) and ({NUMBER})", words)
        if single:
            limit = float(single.group(2))
            low, high = (limit, math.inf) if single.group(1) == "above" else (-math.inf, limit)
            return belief_inside(reading["value"], reading["error"], low, high)
        if pair:
            inside = belief_inside(reading["value"], reading["error"], float(pair.group(2)), float(pair.group(3)))
            return inside if pair.group(1) == "between" else -inside
        if words.startswith("matches /"):
            found = re.search(words[len("matches /"):-1], reading["value"], re.IGNORECASE)
            return 1.0 if found else -1.0
        wanted = words.split(" ", 1)[1] if words.startswith("is ") else words[len("one of "):]
        sure = reading.get("sure", 1.0)
        return sure if reading["value"] in wanted.split(", ") else -sure

    # -- claims --

    def check_claim(self, step):
        listed = {one["rule"]: one for one in step["contributions"]}
        for name, rule in self.rules.items():
            for conclusion in rule["conclusions"]:
                if conclusion["claim"] == step["claim"] and rule["state"] == "fired":
                    self.require(name in listed, f"{step['claim']}: rule {name} fired but is not listed")
        groups = {}
        for one in step["contributions"]:
            rule = self.earlier(one["step"])
            value = [c["value"] for c in rule["conclusions"] if c["claim"] == step["claim"]]
            self.agree(f"{step['claim']} by {one['rule']}", one["value"], value[0] if value else None, 1e-12)
            if rule["group"]:
                groups.setdefault(rule["group"], []).append(one)
            else:
                self.require(one["counted"], f"{step['claim']}: rule {one['rule']} has no group but is not counted")
        for group, members in groups.items():
            self.check_group(step, group, members)
        counted = [one["value"] for one in step["contributions"] if one["counted"]]
        low = combine_all([value - self.half for value in counted])
        high = combine_all([value + self.half for value in counted])
        middle = combine_all(counted)
        self.agree(step["claim"], step["certainty"], middle, max(high - middle, middle - low) + self.half + 1e-9)

    def check_group(self, step, group, members):
        counted = [one for one in members if one["counted"]]
        self.require(len(counted) == 1, f"{step['claim']}: {len(counted)} of group {group} counted, not one")
        strongest = max(abs(one["value"]) for one in members)
        self.agree(f"strongest of group {group}", abs(counted[0]["value"]), strongest, 2 * self.half)

    # -- drills --

    def check_drill(self, step):
        rest = 1.0
        for share in step["causes"]:
            claim = self.earlier(share["step"]) if share["step"] else None
            self.require(claim is not None, f"drill {step['drill']}: no step for {share['cause']}")
            self.agree(share["cause"], share["certainty"], claim["certainty"], 1e-12)
            self.agree(step["drill"] + " part", share["part"], share["certainty"] * share["effect"])
            rest *= 1 - share["part"]
        self.agree(step["drill"] + " from causes", step["from_causes"], 1 - rest, self.tight * (1 + len(step["causes"])))
        advice = self.claims.get(step["drill"])
        self.agree(step["drill"] + " advice", step["advice"], advice["certainty"] if advice else 0.0, 1e-12)
        value = combine(step["from_causes"], step["advice"])
        if step["task"] == "body":
            value *= BODY_WEIGHT
        room = 1 / (1 - min(abs(step["from_causes"]), abs(step["advice"])) + 1e-9) if step["advice"] < 0 else 1
        self.agree(step["drill"] + " value", step["value"], value, self.tight * max(1, room))


def check(text, is_json):
    """Checks one print; returns the checker."""
    try:
        steps = read_json(text) if is_json else read_text(text)
        checker = Checker(steps, 10 if is_json else 4)
        checker.run()
    except (AttributeError, IndexError, KeyError, TypeError, ValueError) as fault:
        raise Faulty(f"not understood: {type(fault).__name__}: {fault}") from fault
    return checker


def count_missed(text):
    """Falsifies each printed certainty in turn, in its third decimal: how many, and the lines where it is not noticed.
    Readings as given are left alone, and clauses that did not decide: nothing in the print says what they should be."""
    found = []
    for one in re.finditer(r"(?<= )[-+]?\d\.\d{4}\b", text):
        line = text[text.rfind("\n", 0, one.start()) + 1:text.find("\n", one.start())]
        if "+/-" not in line and "error from" not in line and "not decisive" not in line:
            found.append(one)
    missed = []
    for one in found:
        value = float(one.group())
        false = f"{value + (0.003 if value < 0.5 else -0.003):+.4f}"
        try:
            check(text[: one.start()] + false + text[one.end():], False)
            missed.append(text[: one.end()].rsplit("\n", 1)[-1])
        except Faulty:
            pass
    return len(found), missed


def report(number, name, text, falsify):
    """One line of the Test Anything Protocol for a print; True when all agrees."""
    try:
        checker = check(text, name.endswith(".json"))
        missed = None
        if falsify:
            n, missed = count_missed(text)
            note = f"{n} falsehoods, {len(missed)} not noticed"
        else:
            note = (f"{len(checker.steps)} steps, {checker.checked} checks; not checked: {checker.skipped} formulas "
                    f"of the trade's functions, {checker.not_listed} clauses whose steps are not listed")
        good = bool(checker.steps) and not missed and not (falsify and n == 0)
    except Faulty as fault:
        good, note, missed = False, str(fault), None
    print(f"{'ok' if good else 'not ok'} {number} - {name}: {note}")
    for line in missed or []:
        print("# not noticed:", line)
    return good


def main():
    names = [name for name in sys.argv[1:] if not name.startswith("--")]
    all_good = bool(names)
    for number, name in enumerate(names, 1):
        with open(name, encoding="utf-8") as file:
            good = report(number, name, file.read(), "--falsify" in sys.argv[1:])
        all_good = all_good and good
    return 0 if all_good else 1


if __name__ == "__main__":
    sys.exit(main())

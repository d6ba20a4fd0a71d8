#!/usr/bin/env python3
"""Re-evaluates every step that `whymiss diagnose --steps` prints, from the print alone.

Reads the files named: the text of the steps, or their JSON where the name ends in .json. Reckons each
printed number again from the numbers it is said to come from: the error of a mean, formulas and their
errors, beliefs of clauses (normal distribution), joins, premise x strength, groups, the combination
of certainties, the value of a drill. It knows nothing of the program's code. Formulas with functions
of the trade are not reckoned again; they are counted. Prints a line a file, "ok" or "not ok"; a file
without a step that does not say so is not ok. With --falsify it instead changes each printed certainty in turn, and "ok"
says that every one of these changes was noticed. Exit 0 when all are ok.
"""

import math
import re
import sys

from step_checker_algebra import (BODY_WEIGHT, Faulty, Formula, NotReckoned, THRESHOLD, belief_inside, combine, combine_all,
                                  join)
from step_checker_print import NUMBER, read_json, read_text

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
            try:
                self.check_formula(step, inputs)
            except NotReckoned:
                self.skipped += 1

    def roots_of(self, step):
        """Root -> (slope, error): what the value hangs on, as printed."""
        if step["kind"] == "given":
            return {(False, step["evidence"]): (1.0, step["error"])}
        return {(root["of_formula"], root["evidence"]): (root["slope"], root["error"])
                for root in step.get("error_from", [])}

    def look_around(self, text, inputs):
        """The formula's value, its slopes over the roots, and the error its bend adds."""
        values = {one["evidence"]: one["value"] for one in inputs}

        def at(**moved):
            try:
                return Formula(text, {**values, **{name: values[name] + by for name, by in moved.items()}}).whole()
            except (ValueError, ZeroDivisionError):
                return math.nan

        middle = at()
        unsure = [one for one in inputs if one["error"] > 0 and self.roots_of(one)]
        names = [one["evidence"] for one in unsure]
        steps = {}
        for one in unsure:
            name = one["evidence"]
            for step in (math.sqrt(3) * one["error"], 0.05 * one["error"]):
                steps[name] = max(step, 1e-6 * max(1, abs(one["value"])))
                if math.isfinite(at(**{name: steps[name]})) and math.isfinite(at(**{name: -steps[name]})):
                    break
        slopes = {}
        for one in unsure:
            name, step = one["evidence"], steps[one["evidence"]]
            slope = (at(**{name: step}) - at(**{name: -step})) / (2 * step)
            for root, (its, _) in self.roots_of(one).items():
                slopes[root] = slopes.get(root, 0) + slope * its
        return middle, slopes, self.bend(at, middle, unsure, names, steps)

    def bend(self, at, middle, unsure, names, steps):
        """sqrt(1/2 trace((H C)^2)): the second-order error of normal inputs with covariance C."""
        n = len(names)

        def second(a, b):
            if a == b:
                return (at(**{a: steps[a]}) - 2 * middle + at(**{a: -steps[a]})) / steps[a] ** 2
            same = at(**{a: steps[a], b: steps[b]}) + at(**{a: -steps[a], b: -steps[b]})
            opposite = at(**{a: steps[a], b: -steps[b]}) + at(**{a: -steps[a], b: steps[b]})
            value = (same - opposite) / (4 * steps[a] * steps[b])
            return value if math.isfinite(value) else 0.0

        def covariance(a, b):
            others = self.roots_of(b)
            return sum(slope * others[root][0] * error**2
                       for root, (slope, error) in self.roots_of(a).items() if root in others)

        hessian = [[second(a, b) for b in names] for a in names]
        spread = [[covariance(a, b) for b in unsure] for a in unsure]
        product = [[sum(hessian[i][k] * spread[k][j] for k in range(n)) for j in range(n)] for i in range(n)]
        return math.sqrt(max(0.0, sum(product[i][k] * product[k][i] for i in range(n) for k in range(n)) / 2))

    def check_formula(self, step, inputs):
        number, slopes, bend = self.look_around(step["formula"], inputs)
        self.agree(step["evidence"], step["value"], number, 2e-4 * max(step["error"], self.half * abs(number) + 1e-9))
        own = (True, step["evidence"])
        printed = {root: slope for root, (slope, _) in self.roots_of(step).items() if root != own}
        self.check_slopes(step, printed, slopes)
        by_slope = sum(error**2 * slopes.get(root, 0)**2 for root, (_, error) in self.roots_of(step).items() if root != own)
        stated = self.stated_error(step.get("own_error", {}))
        reckoned = math.sqrt(by_slope + stated**2 + bend**2)
        # The program takes an error to be good to some 2 %, and where a parabola does not do, from points: good to some 6 %. What is
        # reckoned here is the parabola, in full.
        bent = bend > 0.3 * reckoned
        self.agree(f"error of {step['evidence']}", step["error"], reckoned, (0.25 if bent else 0.05) * reckoned + 1e-6)

    def check_slopes(self, step, printed, slopes):
        """As reckoned; or, of a bent formula, all scaled alike."""
        largest = max(printed, key=lambda root: abs(slopes.get(root, 0)), default=None)
        scale = 1.0
        if largest and slopes.get(largest) and "own_error" in step:
            scale = printed[largest] / slopes[largest]
            if abs(scale - 1) < 1e-3:
                scale = 1.0
            self.require(0.5 < scale < 2, f"slope of {step['evidence']} over {largest[1]} is {scale:.3g} times what it should be")
        for root, slope in printed.items():
            self.agree(f"slope of {step['evidence']} over {root[1]}", slope, scale * slopes.get(root, 0), 2e-3 * abs(slope) + 1e-6)

    def stated_error(self, own):
        values = {one["evidence"]: one["value"] for one in (self.earlier(i["step"]) for i in own.get("inputs", []))}
        if "stated" in own:
            return own["stated"]
        return abs(Formula(own.get("formula", "0"), values).whole())

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
        try:
            number, slopes, _ = self.look_around(words.rsplit(" > 0", 1)[0], read)
        except NotReckoned:
            self.skipped += 1
            return
        errors = {}
        for one in self.readings.values():
            if "error" in one:
                errors.update({root: error for root, (_, error) in self.roots_of(one).items()})
        error = math.sqrt(sum((slope * errors[root]) ** 2 for root, slope in slopes.items()))
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
        # A case may have nothing to say, and must say that.
        told = bool(checker.steps) or text.startswith("No rule that fired speaks for a finding or a cause.")
        good = told and not missed and not (falsify and n == 0)
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

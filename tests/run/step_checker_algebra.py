"""The algebra of certainties and the arithmetic of formulas, written from their published description."""

import math
import re

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

"""Flies random shots with scipy's solve_ivp and compares with the lines of the tool named as the first argument.

Independent of the C: own equations, own coefficients (typed again from the published forms), another integrator
(DOP853, 1e-11), another event finder. Prints one "ok" or "not ok" line a model and one for the paths.
"""
import math
import random
import subprocess
import sys

from scipy.integrate import solve_ivp

MASS, DIAMETER, GRAVITY = 0.04593, 0.04267, 9.80665
RADIUS = DIAMETER / 2
YARD = 0.9144
SHOTS = 50


def smits1994(re, s):
    return 0.24 + 0.18 * s + 0.06 * math.sin(math.pi * (re - 9e4) / 2e5), 0.54 * s**0.4


def lyu2018(re, s):
    return 1.91e-11 * re**2 - 5.40e-6 * re + 0.56, -3.25 * s**2 + 1.99 * s


def blend(re, s):
    """As flight.h documents it: mean of both at the ends of their ranges, and one drag term for much spin."""
    first = smits1994(min(max(re, 7e4), 2.1e5), s)
    second = lyu2018(min(max(re, 7.5e4), 2e5), min(s, 1.99 / 6.5))
    q = (max(0.0, s - 0.12) / 0.12) ** 2
    return (first[0] + second[0]) / 2 + 0.105 * q / (1 + q), (first[1] + second[1]) / 2


def spin_loss(model, speed):
    return {"smits1994": 2.0e-5 * speed / RADIUS, "lyu2018": 0.04, "blend": 2.25e-5 * speed / RADIUS}[model]


FITS = {"smits1994": smits1994, "lyu2018": lyu2018, "blend": blend}


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def spin_axis(launch, start, tilt):
    """Unit axis square to the launch direction with that elevation, found by a search and not in closed form."""
    across = [math.sin(start), -math.cos(start), 0.0]
    ahead = [math.cos(launch) * math.cos(start), math.cos(launch) * math.sin(start), math.sin(launch)]
    upward = cross(across, ahead)
    low, high = -math.pi / 2, math.pi / 2
    for _ in range(200):
        middle = (low + high) / 2
        if math.sin(middle) * upward[2] < math.sin(tilt):
            low = middle
        else:
            high = middle
    return [math.cos(low) * a + math.sin(low) * u for a, u in zip(across, upward)]


def fly(shot):
    model, speed, launch, start, spin, tilt, temperature, pressure, tail, side = shot
    launch, start, tilt = (math.radians(x) for x in (launch, start, tilt))
    kelvin = temperature + 273.15
    density = pressure * 100 / (287.05 * kelvin)
    viscosity = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    axis = spin_axis(launch, start, tilt)
    area = math.pi * RADIUS**2

    def slope(_, y):
        air = [y[3] - tail, y[4] - side, y[5]]
        size = math.sqrt(sum(a * a for a in air))
        drag, lift = FITS[model](density * size * DIAMETER / viscosity, RADIUS * y[6] / size)
        pressure_force = density * area * size**2 / (2 * MASS)
        along = [a / size for a in air]
        up = cross(axis, along)
        push = [pressure_force * (lift * u - drag * a) for u, a in zip(up, along)]
        return [*y[3:6], push[0], push[1], push[2] - GRAVITY, -spin_loss(model, size) * y[6]]

    def ground(t, y):
        return y[2] if t > 1e-6 else 1.0

    def top(_, y):
        return y[5]

    ground.terminal, ground.direction = True, -1
    top.direction = -1
    state = [0, 0, 0, speed * math.cos(launch) * math.cos(start), speed * math.cos(launch) * math.sin(start),
             speed * math.sin(launch), spin * math.pi / 30]
    flown = solve_ivp(slope, (0, 60), state, method="DOP853", events=(ground, top), rtol=1e-11, atol=1e-11,
                      dense_output=True)
    end = flown.y_events[0][0]
    return {
        "carry": math.hypot(end[0], end[1]),
        "side": end[1],
        "apex": max(y[2] for y in flown.y_events[1]),
        "landing angle": math.degrees(math.atan2(-end[5], math.hypot(end[3], end[4]))),
        "time": flown.t_events[0][0],
        "landing spin": end[6] * 30 / math.pi,
        "place": flown.sol,
    }


def random_shot(rng, model):
    launch = rng.uniform(4, 45)
    return (model, rng.uniform(25, 82), launch, rng.uniform(-15, 15), rng.uniform(800, 9500), rng.uniform(-35, 35),
            rng.uniform(-5, 40), rng.uniform(700, 1040), rng.uniform(-8, 8), rng.uniform(-8, 8))


def ask(tool, shots, *arguments):
    lines = "".join(" ".join(map(repr, s)).replace("'", "") + "\n" for s in shots)
    return subprocess.run([tool, *arguments], input=lines, capture_output=True, text=True, check=True).stdout


WITHIN = {"carry": 0.05 * YARD, "side": 0.05 * YARD, "apex": 0.05 * YARD, "landing angle": 0.02, "time": 0.002,
          "landing spin": 1.0}


def check_model(tool, model, number):
    rng = random.Random(1994 + number)
    shots = [random_shot(rng, model) for _ in range(SHOTS)]
    worst = dict.fromkeys(WITHIN, 0.0)
    for shot, line in zip(shots, ask(tool, shots).splitlines(), strict=True):
        told = dict(zip(WITHIN, map(float, line.split()), strict=True))
        flown = fly(shot)
        for name in WITHIN:
            worst[name] = max(worst[name], abs(told[name] - flown[name]))
    good = all(worst[name] <= WITHIN[name] for name in WITHIN)
    print(f"{'ok' if good else 'not ok'} {number} - {model}: {SHOTS} random flights, worst carry"
          f" {worst['carry'] / YARD:.5f} yd, side {worst['side'] / YARD:.5f} yd, apex {worst['apex'] / YARD:.5f} yd")
    return good


def check_paths(tool, number):
    shots = [random_shot(random.Random(7 + i), "blend") for i in range(10)]
    worst, points = 0.0, 0
    for shot, block in zip(shots, ask(tool, shots, "path").strip().split("\n\n"), strict=True):
        place = fly(shot)["place"]
        for line in block.splitlines()[1:-1]:
            time, *told = map(float, line.split())
            worst = max(worst, math.dist(told, place(time)[:3]))
            points += 1
    good = points > 50 and worst <= 0.05 * YARD
    print(f"{'ok' if good else 'not ok'} {number} - paths: {points} points, worst {worst / YARD:.5f} yd")
    return good


def main():
    tool = sys.argv[1]
    results = [check_model(tool, model, i + 1) for i, model in enumerate(FITS)]
    results.append(check_paths(tool, len(FITS) + 1))
    sys.exit(not all(results))


main()

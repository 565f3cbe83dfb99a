"""Writes deadzone, response_curves, circularity and key_filters: plain
arithmetic, with nothing of the code under test."""
import math

import numpy as np
from common import plain, write


def share(value, inner, outer):
    return min(1.0, max(0.0, (value - inner) / (outer - inner)))


def per_axis(x, y, inner, outer):
    return [math.copysign(share(abs(a), inner, outer), a) if a else 0.0 for a in (x, y)]


def radial(x, y, inner, outer):
    radius = math.hypot(x, y)
    if radius <= inner:
        return [0.0, 0.0]
    out = share(radius, inner, outer)
    return [x / radius * out, y / radius * out]


PLACES = [
    (0, 0), (0.05, 0.02), (0.1, 0.1), (0.2, 0), (0, -0.2), (0.15, 0.15), (0.3, -0.4), (0.5, 0.05),
    (0.6, 0.6), (0.9, 0), (0.95, 0.1), (1, 0), (-1, 1), (0.70710678, 0.70710678), (-0.3, 0.9),
]
write(
    "deadzone",
    "axial: sgn(a) clamp((|a|-d)/(s-d), 0, 1) on each axis. scaled_radial: (x, y)/r "
    "clamp((r-d)/(s-d), 0, 1).",
    [],
    {
        "d": 0.15,
        "s": 0.95,
        "points": [
            {
                "in": plain(place),
                "axial": per_axis(*place, 0.15, 0.95),
                "scaled_radial": radial(*place, 0.15, 0.95),
            }
            for place in PLACES
        ],
    },
)

INPUTS = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]
write(
    "response_curves",
    "r^p; and the exponential (e^kr-1)/(e^k-1), which a curve of points may follow.",
    [],
    {
        "r": INPUTS,
        "power": {str(p): [r**p for r in INPUTS] for p in (0.5, 0.75, 1, 1.5, 2, 3)},
        "exponential": {
            str(k): [(math.exp(k * r) - 1) / (math.exp(k) - 1) for r in INPUTS] for k in (-2, 1, 3)
        },
    },
)


def out_of_round(radius, count):
    """Mean of |R / R(axis) - 1| over even angles from 0 on."""
    angles = np.arange(count) / count * 2 * np.pi
    return float(np.mean(np.abs(radius(angles) - 1)))


def square(angle):
    return 1 / np.maximum(np.abs(np.cos(angle)), np.abs(np.sin(angle)))


def octagon(angle):
    return np.cos(np.pi / 8) / np.cos((angle % (np.pi / 4)) - np.pi / 8)


def superellipse(power):
    return lambda angle: (
        np.abs(np.cos(angle)) ** power + np.abs(np.sin(angle)) ** power
    ) ** (-1 / power)


SHAPES = {"square": square, "octagon": octagon, "superellipse_4": superellipse(4)}
write(
    "circularity",
    "Mean of |R(angle)/R(axis) - 1| over even angles: 8 as a stick is asked, 3600 as good as all. "
    "Of a square over all angles it is (4/pi) ln(1+sqrt 2) - 1.",
    ["numpy"],
    {
        "square_analytic": 4 / math.pi * math.log(1 + math.sqrt(2)) - 1,
        "out_of_round": {
            name: {str(count): out_of_round(radius, count) for count in (8, 3600)}
            for name, radius in SHAPES.items()
        },
        "square_max": math.sqrt(2) - 1,
    },
)


# Key filters by the words of X11 XKB (SlowKeys, BounceKeys): times in milliseconds.
EVENTS = [
    (0, "down"), (12, "up"), (20, "down"), (180, "up"), (195, "down"), (210, "up"),
    (600, "down"), (1000, "up"), (1004, "down"), (1009, "up"), (1500, "down"), (1799, "up"),
    (2200, "down"), (2500, "up"),
]


def slow_keys(delay):
    """A press counts once it was held for `delay`; one let go earlier never was."""
    out, down = [], None
    for at, what in EVENTS:
        if what == "down":
            down = at
        elif down is not None:
            if at - down >= delay:
                out += [[down + delay, "press"], [at, "release"]]
            down = None
    return out


def bounce_keys(delay):
    """After each release the key is deaf for `delay`; presses that begin then never were."""
    out, last_up, accepted = [], None, False
    for at, what in EVENTS:
        if what == "down":
            accepted = last_up is None or at - last_up >= delay
            if accepted:
                out.append([at, "press"])
        else:
            if accepted:
                out.append([at, "release"])
            last_up = at
    return out


def switched(levels, on, off):
    state, out = 0, []
    for level in levels:
        if state == 0 and level >= on:
            state = 1
        elif state == 1 and level <= off:
            state = 0
        out.append(state)
    return out


LEVELS = [0, 0.2, 0.45, 0.52, 0.48, 0.51, 0.47, 0.40, 0.36, 0.34, 0.5, 0.6, 0.35, 0.3, 0.1]
write(
    "key_filters",
    "The definitions of X11 XKB in plain Python. BounceKeys: deaf from each release on, also from "
    "that of a press that was not accepted.",
    [],
    {
        "events_ms": EVENTS,
        "slow_keys": {str(delay): slow_keys(delay) for delay in (50, 150, 300)},
        "bounce_keys_from_release": {str(delay): bounce_keys(delay) for delay in (10, 30, 500)},
        "hysteresis": {"x": LEVELS, "on": 0.5, "off": 0.35, "y": switched(LEVELS, 0.5, 0.35)},
    },
)

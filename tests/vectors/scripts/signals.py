"""Writes one_euro, one_pole, spectrum and return_to_centre."""
import math

import numpy as np
import scipy.signal as sg
from common import normals, plain, uniforms, write
from OneEuroFilter import OneEuroFilter

# The 1 euro filter, by the package of its authors (the same code as their repository's). A first
# stamp of exactly 0 is taken for none in it, so stamps begin above 0.


def run(name, stamps, values, cutoff, coefficient, hertz=60.0):
    smooth = OneEuroFilter(hertz, cutoff, coefficient, 1.0)
    return {
        "name": name,
        "mincutoff": cutoff,
        "beta": coefficient,
        "dcutoff": 1.0,
        "t": plain(stamps),
        "x": plain(values),
        "y": [float(smooth(x, t)) for x, t in zip(plain(values), plain(stamps))],
    }


EVEN = (np.arange(120) + 1) / 60
STEP = np.r_[np.zeros(10), np.ones(50)]
SHAKE = 0.3 * np.sin(2 * np.pi * 0.5 * EVEN) + 0.08 * np.sin(2 * np.pi * 5 * EVEN)
UNEVEN = 0.5 + np.cumsum((0.7 + 0.6 * uniforms(80, 99)) / 60)
# Told only on change: long silences between bursts, as of a stick that rests.
BURSTS = 0.5 + np.cumsum(np.where(np.arange(60) % 12 == 0, 0.8, 0.004))
# The first fifth of a second of the authors' own ground truth (their repository,
# groundTruth.csv, read): 120 values a second, cutoff 1 Hz, coefficient 0.1, six digits. Seconds,
# noisy, filtered.
GROUND_TRUTH = [
    (0, -0.0385099, -0.0385099),
    (0.00833333, -0.0280664, -0.0379872),
    (0.0166667, 0.048622, -0.0334427),
    (0.025, 0.111498, -0.0252696),
    (0.0333333, 0.053026, -0.0207099),
    (0.0416667, 0.120548, -0.0119912),
    (0.05, 0.00972308, -0.0106507),
    (0.0583333, 0.074193, -0.00526521),
    (0.0666667, -0.0236801, -0.00641239),
    (0.075, 0.0462396, -0.00308863),
    (0.0833333, 0.0892027, 0.00291027),
    (0.0916667, 0.158329, 0.0135545),
    (0.1, 0.0423086, 0.01552),
    (0.108333, 0.0887203, 0.0206024),
    (0.116667, 0.039102, 0.0218784),
    (0.125, 0.140277, 0.030313),
    (0.133333, 0.156938, 0.0396331),
    (0.141667, 0.0961089, 0.0438101),
    (0.15, 0.216881, 0.0572083),
    (0.158333, 0.067538, 0.057997),
    (0.166667, 0.0737634, 0.0591871),
    (0.175, 0.0989231, 0.0621793),
    (0.183333, 0.148209, 0.0687489),
    (0.191667, 0.0959887, 0.0708137),
    (0.2, 0.225627, 0.0829925),
]
write(
    "one_euro",
    "OneEuroFilter of PyPI, by the filter's authors; ground_truth: the first rows of their own "
    "file, six digits. alpha: 1 / (1 + tau/Te), tau = 1 / (2 pi "
    "fc).",
    ["numpy", "OneEuroFilter"],
    {
        "alpha_table": [
            {"fs": fs, "fc": fc, "alpha": 1 / (1 + fs / (2 * math.pi * fc))}
            for fs in (60, 120, 250)
            for fc in (0.5, 1, 1.5, 2, 3, 5, 10)
        ],
        "runs": [
            run("step", EVEN[:60], STEP, 1.0, 0.0),
            run("step, rising with speed", EVEN[:60], STEP, 1.0, 0.5),
            run("5 Hz and noise", EVEN, SHAKE + 0.01 * normals(120, 7), 1.2, 0.05),
            run("uneven stamps", UNEVEN, np.sin(2 * np.pi * 0.7 * UNEVEN), 0.8, 0.2),
            run("bursts", BURSTS, 0.4 * np.sin(np.arange(60) / 7), 0.8, 2.0),
        ],
        "ground_truth": {"mincutoff": 1.0, "beta": 0.1, "rows": GROUND_TRUTH},
    },
)


def magnitude(alpha, turn):
    return alpha / math.sqrt(1 - 2 * (1 - alpha) * math.cos(turn) + (1 - alpha) ** 2)


ONE_POLE = []
for cutoff in (0.5, 1, 2, 4, 6):
    alpha = 1 / (1 + 60 / (2 * math.pi * cutoff))
    ONE_POLE.append(
        {
            "fc": cutoff,
            "alpha": alpha,
            "dc_delay_ms": (1 - alpha) / alpha / 60 * 1000,
            "mag": {
                str(hertz): float(
                    abs(sg.freqz([alpha], [1, alpha - 1], [hertz], fs=60)[1][0])
                )
                for hertz in (0.5, 1, 2, 4, 5, 8, 12)
            },
        }
    )
    for hertz, got in ONE_POLE[-1]["mag"].items():
        assert abs(got - magnitude(alpha, 2 * math.pi * float(hertz) / 60)) < 1e-12
write(
    "one_pole",
    "A one-pole low-pass at 60 values a second: scipy.signal.freqz, which agrees with alpha / "
    "sqrt(1 - 2 (1-alpha) cos w + (1-alpha)^2); delay of slow movement (1-alpha)/alpha values.",
    ["numpy", "scipy"],
    {"fs": 60, "cases": ONE_POLE},
)

# Two axes of a hold: a rhythm of 5.3 Hz along a slanted line, one of 9 Hz, a drift, and noise.
RATE, LENGTH, SEGMENT = 120, 720, 360
T = np.arange(LENGTH) / RATE
RHYTHM = 0.03 * np.sin(2 * np.pi * 5.3 * T + 0.4)
RIGHT = 0.1 + 0.01 * T + 0.8 * RHYTHM + 0.004 * normals(LENGTH, 42)
UP = 0.4 - 0.02 * T + 0.6 * RHYTHM + 0.01 * np.sin(2 * np.pi * 9 * T) + 0.004 * normals(LENGTH, 43)
ASKED = {"fs": RATE, "window": "hann", "nperseg": SEGMENT, "detrend": "linear"}


def bins(segment_of):
    """One-sided density at the bins above 0 and below half the rate: right, up, both."""
    right, up = segment_of(RIGHT), segment_of(UP)
    hertz, both = sg.csd(right, up, **ASKED)
    return {
        "hertz": hertz[1:-1].tolist(),
        "right": sg.welch(right, **ASKED)[1][1:-1].tolist(),
        "up": sg.welch(up, **ASKED)[1][1:-1].tolist(),
        "both": both.real[1:-1].tolist(),
    }


def between(starts):
    """The same at a raster of frequencies, by the chirp z-transform of each windowed segment."""
    first, step, count = 0.75, 0.125, 139
    window = sg.get_window("hann", SEGMENT)

    def transform(values):
        return [
            sg.czt(
                sg.detrend(values[start : start + SEGMENT]) * window,
                count,
                np.exp(-2j * np.pi * step / RATE),
                np.exp(2j * np.pi * first / RATE),
            )
            for start in starts
        ]

    right, up = np.array(transform(RIGHT)), np.array(transform(UP))
    scale = 2 / (RATE * np.sum(window**2))
    return {
        "hertz": (first + step * np.arange(count)).tolist(),
        "right": (scale * np.mean(np.abs(right) ** 2, 0)).tolist(),
        "up": (scale * np.mean(np.abs(up) ** 2, 0)).tolist(),
        "both": (scale * np.mean((right.conj() * up).real, 0)).tolist(),
    }


HALVES = (0, SEGMENT // 2, SEGMENT)
# Where a frequency is a bin of both, they agree.
WELCH, CHIRP = bins(lambda values: values), between(HALVES)
for place, hertz in enumerate(WELCH["hertz"]):
    for other, same in enumerate(CHIRP["hertz"]):
        if abs(hertz - same) < 1e-9:
            for key in ("right", "up", "both"):
                assert abs(WELCH[key][place] - CHIRP[key][other]) < 1e-9 * max(WELCH[key])
write(
    "spectrum",
    "scipy.signal.welch and csd with detrend='linear' and a periodic Hann window of 360 values at "
    "120 a second, half overlapped; between their bins scipy.signal.detrend, get_window and czt. "
    "`one`: the first window alone. `three`: the mean of the three windows of all 720 values.",
    ["numpy", "scipy"],
    {
        "fs": RATE,
        "nperseg": SEGMENT,
        "right": RIGHT.tolist(),
        "up": UP.tolist(),
        "one": {"bins": bins(lambda values: values[:SEGMENT]), "between": between((0,))},
        "three": {"bins": WELCH, "between": CHIRP},
    },
)

# A stick let go from 1: second order, damping 0.5, 25 radians a second.
DAMPING, OWN = 0.5, 25.0
TURN = OWN * math.sqrt(1 - DAMPING**2)


def released(at):
    return np.exp(-DAMPING * OWN * at) * (
        np.cos(TURN * at) + DAMPING * OWN / TURN * np.sin(TURN * at)
    )


FINE = np.arange(0, 2, 1e-5)
write(
    "return_to_centre",
    "A second-order system let go from 1, damping 0.5, 25 radians a second, by its closed form; "
    "overshoot exp(-pi d / sqrt(1 - d^2)). Settled: the last time outside, to 10 microseconds.",
    ["numpy"],
    {
        "damping": DAMPING,
        "radians_per_second": OWN,
        "overshoot": math.exp(-math.pi * DAMPING / math.sqrt(1 - DAMPING**2)),
        "settled_seconds": {
            str(part): float(FINE[np.abs(released(FINE)) > part].max()) for part in (0.02, 0.05, 0.1)
        },
        "t": plain(np.arange(0, 1, 1 / 250)),
        "r": plain(released(np.arange(0, 1, 1 / 250))),
    },
)

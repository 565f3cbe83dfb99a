"""Writes robust, drift, ar1_neff, circular, ellipse_pca, paired and polar."""
import math

import numpy as np
import scipy.linalg as linalg
import scipy.stats as st
from common import normals, plain, write

SCIPY = ["numpy", "scipy"]

VALUES = np.array([0.01, 0.012, 0.009, 0.5, 0.011, 0.013, 0.008, 0.010])
write(
    "robust",
    "numpy.percentile (type 7), scipy.stats.median_abs_deviation.",
    SCIPY,
    {
        "y": VALUES.tolist(),
        "median": float(np.median(VALUES)),
        "mad_raw": float(st.median_abs_deviation(VALUES)),
        "mad_normal": float(st.median_abs_deviation(VALUES, scale="normal")),
        "normal_scale_const": 1 / float(st.norm.ppf(0.75)),
        "pct_type7": {str(p): float(np.percentile(VALUES, p)) for p in (5, 25, 50, 75, 95)},
    },
)

T = np.arange(10.0)
Y = np.array([0.010, 0.0112, 0.0119, 0.0133, 0.0138, 0.0152, 0.0161, 0.0300, 0.0178, 0.0191])
LINE = st.theilslopes(Y, T, 0.95)
write(
    "drift",
    "scipy.stats.theilslopes.",
    SCIPY,
    {
        "t": T.tolist(),
        "y": Y.tolist(),
        "theil_sen": {
            "slope": float(LINE.slope),
            "lo": float(LINE.low_slope),
            "hi": float(LINE.high_slope),
        },
    },
)

SHOCKS = normals(300, 31)
SERIES = np.zeros(300)
for i in range(1, 300):
    SERIES[i] = 0.8 * SERIES[i - 1] + SHOCKS[i]
ABOUT = SERIES - SERIES.mean()
LAG_ONE = float(np.sum(ABOUT[1:] * ABOUT[:-1]) / np.sum(ABOUT**2))
write(
    "ar1_neff",
    "First-order autoregressive series, coefficient 0.8, by numpy.",
    ["numpy"],
    {
        "x": SERIES.tolist(),
        "lag1": LAG_ONE,
    },
)

ANGLES = np.radians([350, 10, 5, 355, 20, 340, 15])
ASKED = np.arange(0, 360, 45)
PRODUCED = np.array([12, 55, 104, 147, 190, 240, 281, 329])
write(
    "circular",
    "scipy.stats.circmean, circstd; the rotation by numpy.",
    SCIPY,
    {
        "deg": [350, 10, 5, 355, 20, 340, 15],
        "circmean_deg": math.degrees(st.circmean(ANGLES, high=np.pi, low=-np.pi)),
        "R_bar": float(abs(np.mean(np.exp(1j * ANGLES)))),
        "circstd_rad": float(st.circstd(ANGLES)),
        "rotation_estimate_example": {
            "target_deg": ASKED.tolist(),
            "produced_deg": PRODUCED.tolist(),
            "mean_rotation_deg": math.degrees(
                np.angle(np.mean(np.exp(1j * np.radians(PRODUCED - ASKED))))
            ),
        },
    },
)

ALONG, ACROSS = normals(200, 555), normals(200, 777)
COS, SIN = math.cos(math.radians(30)), math.sin(math.radians(30))
PLACES = np.c_[
    0.02 + COS * 0.03 * ALONG - SIN * 0.01 * ACROSS,
    -0.01 + SIN * 0.03 * ALONG + COS * 0.01 * ACROSS,
]
COVARIANCE = np.cov(PLACES.T, ddof=1)
SMALL, LARGE = np.linalg.eigh(COVARIANCE)[0]
MAIN = np.linalg.eigh(COVARIANCE)[1][:, 1]
N = len(PLACES)
AREA = math.pi * math.sqrt(np.linalg.det(COVARIANCE))
DISTANCES = np.hypot(*(PLACES - PLACES.mean(0)).T)
write(
    "ellipse_pca",
    "numpy.cov and eigh, scipy.stats.chi2 and f; 200 places, deviations 0.03 and 0.01, turned by "
    "30 degrees.",
    SCIPY,
    {
        "X": PLACES.tolist(),
        "mean": PLACES.mean(0).tolist(),
        "cov_ddof1": COVARIANCE.tolist(),
        "eigenvalues_desc": [float(LARGE), float(SMALL)],
        "major_axis_deg_mod180": math.degrees(math.atan2(MAIN[1], MAIN[0])) % 180,
        "area95_chi2": AREA * float(st.chi2.ppf(0.95, 2)),
        "area95_prediction_F": AREA
        * 2 * (N - 1) * (N + 1) / (N * (N - 2)) * float(st.f.ppf(0.95, 2, N - 2)),
        "radius_percentiles_type7": {
            str(p): float(np.percentile(DISTANCES, p)) for p in (50, 90, 95, 99)
        },
        "rayleigh": {
            "sigma1": 1.0,
            "mean": math.sqrt(math.pi / 2),
            "median": math.sqrt(2 * math.log(2)),
            "r95": math.sqrt(-2 * math.log(0.05)),
            "r99": math.sqrt(-2 * math.log(0.01)),
            "r999": math.sqrt(-2 * math.log(0.001)),
        },
    },
)

BEFORE = np.array([1.42, 1.75, 1.30, 1.61, 1.55, 1.80, 1.49, 1.38])
AFTER = np.array([1.60, 1.92, 1.41, 1.70, 1.83, 1.88, 1.66, 1.47])
TESTED = st.ttest_rel(AFTER, BEFORE)
write(
    "paired",
    "scipy.stats.ttest_rel.",
    SCIPY,
    {
        "pre": BEFORE.tolist(),
        "post": AFTER.tolist(),
        "mean_diff": float((AFTER - BEFORE).mean()),
        "sd_diff": float((AFTER - BEFORE).std(ddof=1)),
        "ci95": plain(TESTED.confidence_interval(0.95)),
        "t": float(TESTED.statistic),
        "p": float(TESTED.pvalue),
    },
)

# A map of the plane: least squares from asked directions to ends, and the polar factors.
DIRECTIONS = np.radians([0, 45, 90, 135, 180, -135, -90, -45])
UNIT = np.c_[np.cos(DIRECTIONS), np.sin(DIRECTIONS)]


def turn(degrees):
    angle = math.radians(degrees)
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])


def polar_case(degrees, strong, weak, along, flips, seed):
    """Ends of a turned, stretched and perhaps swapped or inverted push, with 3 % of noise."""
    stretch = turn(along) @ np.diag([strong, weak]) @ turn(-along)
    noise = 0.03 * normals(16, seed).reshape(8, 2)
    ends = UNIT @ (turn(degrees) @ stretch @ np.array(flips)).T + noise
    fitted = np.linalg.lstsq(UNIT, ends, rcond=None)[0].T
    factor, positive = linalg.polar(fitted @ np.linalg.inv(np.array(flips)))
    return {
        "ends": ends.tolist(),
        "flips": flips,
        "matrix": fitted.tolist(),
        "degrees": math.degrees(math.atan2(factor[1, 0], factor[0, 0])),
        "stretch": [positive[0, 0], positive[0, 1], positive[1, 1]],
        "singular_values": np.linalg.svd(fitted)[1].tolist(),
    }


PLAIN, SWAPPED, INVERTED = [[1, 0], [0, 1]], [[0, 1], [1, 0]], [[1, 0], [0, -1]]
write(
    "polar",
    "numpy.linalg.lstsq and svd, scipy.linalg.polar: map = turn @ stretch @ flips.",
    SCIPY,
    {
        "asked_degrees": np.degrees(DIRECTIONS).round().tolist(),
        "cases": [
            polar_case(12, 0.8, 0.8, 0, PLAIN, 1),
            polar_case(-25, 0.9, 0.5, 30, PLAIN, 2),
            polar_case(8, 0.7, 0.6, -50, SWAPPED, 3),
            polar_case(3, 0.6, 0.4, 80, INVERTED, 4),
        ],
    },
)

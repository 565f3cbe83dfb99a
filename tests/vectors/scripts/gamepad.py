"""Writes gamepad_normalize and sampling."""
import math
import statistics

from common import uniforms, write


def normalise(raw, least, most):
    return 2 * (raw - least) / (most - least) - 1


RANGES = [
    (0, 255, [0, 1, 64, 127, 128, 191, 254, 255]),
    (0, 1023, [0, 511, 512, 1023]),
    (0, 65535, [0, 16384, 32767, 32768, 49151, 65535]),
    (-127, 127, [-127, -64, 0, 1, 127]),
    (-32768, 32767, [-32768, -16384, 0, 16384, 32767]),
    (0, 7, [0, 1, 2, 3, 4, 5, 6, 7, 8, 15]),
]
write(
    "gamepad_normalize",
    "Arithmetic of W3C Gamepad, 'map and normalize axes'. Raw 8 and 15 on 0..7 are the null "
    "state of a hat switch: outside -1..1.",
    [],
    {
        "formula": "2*(raw-min)/(max-min)-1",
        "cases": [
            {"min": least, "max": most, "raw": raw, "axis": normalise(raw, least, most)}
            for least, most, raws in RANGES
            for raw in raws
        ],
        "lsb": {f"{bits}bit": 2 / (2**bits - 1) for bits in (8, 10, 12, 16)},
        "quantisation_sd": {
            f"{bits}bit": 2 / (2**bits - 1) / math.sqrt(12) for bits in (8, 10, 12, 16)
        },
    },
)

stamps = [1000.0]
for share in uniforms(60, 77).tolist():
    stamps.append(stamps[-1] + (16.7 if share > 0.1 else 33.4))
between = [after - before for before, after in zip(stamps, stamps[1:])]
median = statistics.median(between)
write(
    "sampling",
    "Invented stamps of 60 pictures a second with some doubled intervals.",
    [],
    {
        "timestamps_ms": stamps,
        "median_dt": median,
        "rate_hz_median": 1000 / median,
        "mean_rate_hz": 1000 * (len(stamps) - 1) / (stamps[-1] - stamps[0]),
        "dropped_ratio_gt_1.5_median": sum(b > 1.5 * median for b in between) / len(between),
        "p95_dt": statistics.quantiles(between, n=20, method="inclusive")[-1],
    },
)

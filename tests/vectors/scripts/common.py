"""What every script here needs: how a vector is written, and random numbers that any language
can repeat."""
import json
import sys
from importlib.metadata import version
from pathlib import Path

import numpy as np

FOLDER = Path(__file__).resolve().parent.parent


def write(name, note, packages, content):
    """Writes one vector beside the folder of the scripts, with what computed it."""
    versions = {"python": ".".join(map(str, sys.version_info[:3]))}
    versions |= {package: version(package) for package in packages}
    head = {"_note": note, "_versions": versions}
    with open(FOLDER / f"{name}.json", "w", encoding="utf-8") as file:
        json.dump({**head, **content}, file, indent=1)
        file.write("\n")


def uniforms(count, seed):
    """Even numbers inside 0..1: s = (1664525 s + 1013904223) mod 2^32, u = (s + 0.5) / 2^32."""
    state, out = seed, []
    for _ in range(count):
        state = (1664525 * state + 1013904223) % 2**32
        out.append((state + 0.5) / 2**32)
    return np.array(out)


def normals(count, seed):
    """Normal numbers of Box and Muller, the cosine of each pair of even ones."""
    even = uniforms(2 * count, seed)
    return np.sqrt(-2 * np.log(even[0::2])) * np.cos(2 * np.pi * even[1::2])


def plain(value):
    """Numbers and lists of numbers as JSON knows them."""
    return np.asarray(value, dtype=float).tolist()

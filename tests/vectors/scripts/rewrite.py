"""Writes every vector anew."""
import importlib

for name in ("gamepad", "distributions", "noise", "settings", "signals", "hid_descriptors"):
    importlib.import_module(name)

"""Writes every vector anew."""
import importlib

for name in ("gamepad", "distributions", "noise", "settings", "signals", "hid_descriptors", "qr"):
    importlib.import_module(name)

"""Writes every vector anew."""
import importlib

for name in ("gamepad", "distributions", "noise", "settings", "signals"):
    importlib.import_module(name)

"""Reads whatever a command may need; imported by the process that `split` splits, by no other."""

from __future__ import annotations

import gc
from importlib import import_module
from pkgutil import iter_modules

for package in ("store.actions", "store.views", "store.file.learned", "tui.cli"):
    for module in iter_modules(import_module(package).__path__, f"{package}."):
        import_module(module.name)
gc.freeze()  # what was read is nobody's rubbish, and stays shared

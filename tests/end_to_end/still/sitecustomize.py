"""Lets time stand still in a program under test and in whatever it begins.

Python imports a module of this name by itself at the start (docs.python.org, `site`). With this
folder first on the path, `tui.now` has the instant of the environment instead of the machine's.
"""

from __future__ import annotations

import os
from datetime import datetime

from tui import now

VARIABLE = "HOISTBOOK_TEST_NOW"

if VARIABLE in os.environ:
    _at = datetime.fromisoformat(os.environ[VARIABLE])
    now.machine_now = lambda: _at

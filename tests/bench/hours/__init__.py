"""Simulated shops whose true distribution of hours is known, and methods judged beside it."""

import os

# before numpy is first imported: its threads cost small matrices more than they gain
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

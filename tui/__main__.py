"""`hoistbook` and `python -m tui`."""

from __future__ import annotations

import os
import sys


def main() -> int:
    """Run the command line of this process; return its exit status."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # more would spin on a busy machine
    from tui.cli.run import main as run

    return run()


if __name__ == "__main__":
    sys.exit(main())

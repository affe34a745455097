"""The program in a process of its own, without the wait for its modules: split off a ready one.

One process of each worker has read whatever a command may need and nothing else; it is split for
every command line (`multiprocessing`, start method "forkserver"). What a start from nothing must
show (what is imported, streams that are closed, an encoding) a `Shell` with `fresh` shows.
"""

from __future__ import annotations

import multiprocessing
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

READ_BEFORE = ("tests.end_to_end.read_before", __name__)
STREAMS = ("in", "out", "err")
PATIENCE_S = 120.0


def run(
    argv: Sequence[str | bytes], environ: Mapping[str, str], stdin: str
) -> subprocess.CompletedProcess[str]:
    """Run a command line; return what a process started anew would have come to."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([*READ_BEFORE])
    words = [os.fsdecode(one) for one in argv]
    with TemporaryDirectory() as folder:
        streams = [Path(folder) / name for name in STREAMS]
        streams[0].write_text(stdin, "utf-8")
        child = context.Process(target=_program, args=(words, dict(environ), streams))
        child.start()
        child.join(PATIENCE_S)
        status = child.exitcode
        if status is None:
            child.kill()
            raise subprocess.TimeoutExpired(words, PATIENCE_S)
        _, out, err = (one.read_text("utf-8") for one in streams)
    return subprocess.CompletedProcess(words, status, out, err)


def _program(words: list[str], environ: dict[str, str], streams: list[Path]) -> None:
    """What happens in the process that was split off."""
    os.environ.clear()
    os.environ.update(environ)
    os.chdir("/")
    for number, path in enumerate(streams):
        opened = os.open(path, os.O_RDONLY if number == 0 else os.O_WRONLY | os.O_CREAT)
        os.dup2(opened, number)
        os.close(opened)
    sys.stdin, sys.stdout, sys.stderr = (
        open(number, mode, encoding="utf-8", closefd=False)  # noqa: SIM115
        for number, mode in enumerate("rww")
    )
    sys.argv = ["hoistbook", *words]
    from tui.__main__ import main

    sys.exit(main())

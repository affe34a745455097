"""Sessions of a technician, one right after the other, each dropped at a random moment."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from store.file.shop import Shop
from store.file.verify import verify
from store.views.bay import bay
from store.views.ledger import ledger
from store.views.values import Bay
from tests.faults.row import Outcome, Tries
from tests.faults.ssh_acts import Act, Hands, acknowledged, clocked, press
from tests.faults.ssh_host import BADGE, Host
from tests.faults.ssh_left import PATIENCE_S, Process, end, read, still_there, until
from tests.faults.ssh_line import Line, calling
from tests.faults.ssh_session import Session
from tui.now import machine_now

MOST_ACTS = 4
MOST_LOST, MOST_BESIDE = 5, 20
"""After so many there is no sense in going on."""
AT_ONCE = 12
"""One in so many drops falls while the client is still calling: nothing is at stake then."""
CALL_S, ACT_S = 0.8, 0.2
"""Within which a drop falls after the call, and after the keys of an act."""
BARE_PATIENCE_S = 3.0
"""How long a process that nothing ends is waited for where it is to be seen to stay."""


class Drops:
    """Drops one line after another, and looks what was lost.

    Args:
        cut: drops a line in one way; says whether its own witness saw it happen.
        at_once: the next sign-in comes while sshd still holds the fallen line.
    """

    def __init__(
        self, host: Host, tries: Tries, shop: Shop, cut: Callable[[Line], bool], *, at_once: bool
    ) -> None:
        self.host, self.tries, self.shop, self.cut = host, tries, shop, cut
        self.at_once = at_once
        self.hands = Hands(tries.dice)
        self.tried = self.beside = self.lost = self.recovered = 0
        self.notes: list[str] = []
        self._lines: list[tuple[list[Process], str]] = []

    def run(self) -> Outcome:
        """Drop lines until enough of them fell while something was at stake."""
        dropped = False
        while self.tried < self.tries.times and not self._seen_enough:
            dropped = self._one(dropped)
        if not self._seen_enough:
            self._last(dropped)
        self._wait(lambda: not any(still_there(*one) for one in self._lines), PATIENCE_S)
        found = verify(self.shop.path)
        if not found.ok:
            self._lose(f"verify: {found.says}")
        return Outcome(self.tried, self.beside, self.lost, self.recovered, tuple(self.notes[:5]))

    @property
    def _seen_enough(self) -> bool:
        """Without its protection one loss is enough, and a line may never come up again."""
        most = MOST_LOST if self.tries.protected else 1
        return self.lost >= most or self.beside > MOST_BESIDE + self.tries.times

    def _lose(self, why: str) -> None:
        self.lost += 1
        self.notes.append(why)

    def _bay(self) -> Bay:
        return bay(self.shop, BADGE, machine_now(), None)

    # -- one session

    def _one(self, dropped: bool) -> bool:
        """A session and its drop; whether the next sign-in has one to recover from."""
        with calling(self.host) as line:
            session = Session(self._newest())
            early = self.tries.protected and not self.tries.dice.randrange(AT_ONCE)
            if early:
                line.at.idle(self.tries.dice.uniform(0, CALL_S))
            else:
                self._signs_in(line, dropped)
                self._works(line, session)
            counts = self.cut(line) and session.at_stake
            if session.begun is not None and acknowledged(line.at, session.begun):
                session.took(session.begun)  # it was on its way to the glass
            if self.at_once and self.tries.protected:
                with calling(self.host) as after:
                    self._signs_in(after, counts)
            self._all_gone(line)
            self._judge(session)
        self.tried += counts
        self.beside += not counts
        return dropped if early else counts and not self.at_once

    def _signs_in(self, line: Line, dropped: bool) -> None:
        """The next sign-in shows the clock running as it was left."""
        try:
            line.at.until(lambda: all(one in line.at.flat for one in clocked(self._bay())), "it")
        except AssertionError:
            self._lose(f"the next sign-in showed: {line.at.flat[:200]}")
            return
        self.recovered += dropped

    def _works(self, line: Line, session: Session) -> None:
        """Some acts, the last of which is cut short at a random moment, or is not.

        Without its protection the line falls at the worst moment: right after the glass said so.
        """
        dice = self.tries.dice
        for _ in range(dice.randrange(MOST_ACTS) if self.tries.protected else 1):
            self._acts(line, session)
        if self.tries.protected:
            session.begun = self._next(session)
            press(line.at, session.begun)
            line.at.idle(dice.uniform(0, ACT_S))
            if acknowledged(line.at, session.begun):
                session.took(session.begun)

    def _acts(self, line: Line, session: Session) -> None:
        act = session.begun = self._next(session)
        press(line.at, act)
        line.at.until(lambda: acknowledged(line.at, act), f"{act.says!r} on the glass")
        session.took(act)
        if act.back and self.tries.protected:
            line.at.keys(act.back)
            line.at.wait(*clocked(self._bay()))

    def _next(self, session: Session) -> Act:
        return self.hands.next(self._bay(), session.done[-1][0] if session.done else None)

    def _last(self, dropped: bool) -> None:
        """After the last drop: the clock runs on, and Esc twice leaves cleanly."""
        with calling(self.host) as line:
            self._signs_in(line, dropped)
            line.at.keys("Esc")
            line.at.wait("Enter signs in")
            line.at.keys("Esc")
            status = line.at.ended()
            if status != 0:
                self._lose(f"left with {status}")

    # -- what was lost

    def _newest(self) -> int:
        with self.shop.reading() as db:
            return int(db.execute("select max(seq) from ledger").fetchone()[0])

    def _judge(self, session: Session) -> None:
        says = session.differs(list(ledger(self.shop, since_seq=session.since + 1)))
        if says:
            self._lose(says)

    def _all_gone(self, line: Line) -> None:
        """Nobody of the line is left: no child of sshd, no screens, nothing that they began.

        The learner lives on by design, until it has learned; `run` waits for it at the end.
        """
        patience_s = PATIENCE_S if self.tries.protected else BARE_PATIENCE_S
        self._lines.append((line.before, line.wire.connection))

        def gone() -> bool:
            return all(_learns(one) for one in still_there(line.before, line.wire.connection))

        self._wait(gone, patience_s)

    def _wait(self, gone: Callable[[], bool], patience_s: float) -> None:
        with suppress(AssertionError):
            until(gone, "the end of all processes", patience_s)
            return
        left = [one for line in self._lines for one in still_there(*line)]
        self._lose(f"{len(set(left))} processes stayed behind")
        end(left)


def _learns(one: Process) -> bool:
    return b"tui.learner" in read(one.pid, "cmdline")

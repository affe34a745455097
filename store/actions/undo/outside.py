"""What was told of customers and other firms, taken back."""

from __future__ import annotations

from store.actions.acting import Acting
from store.edges.events.desk import DeskTakenBack
from store.edges.events.end import AdviceAnswered
from store.edges.events.parts import OutworkBack, OutworkChased, OutworkSent
from store.file.ledger import COLUMNS, Row
from store.trouble import Refused


def sent_gone(doing: Acting, row: Row, event: OutworkSent) -> None:
    """Take back that something was sent away.

    Raises:
        Refused: the firm was asked since, or it is back.
    """
    since = doing.db.execute(
        "select said, back_at from outwork where seq = ?", [row.seq]
    ).fetchone()
    if since is None or since["back_at"] is not None:
        raise Refused("It has come back since: that it was away stays.")
    if since["said"] is not None:
        raise Refused("The firm was asked since: that it was sent stays.")
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))


def asked_gone(doing: Acting, row: Row, event: OutworkChased) -> None:
    """Let hold what the firm had said before.

    Raises:
        Refused: it is back.
    """
    away = doing.db.execute(
        "select max(seq), back_at from outwork where job = ? and phase = ?",
        [event.job, event.phase],
    ).fetchone()
    if away["back_at"] is not None:
        raise Refused("It has come back since: what the firm said stays.")
    before = _before(doing, row, ("outwork-sent", "outwork-chased"), "phase", event.phase)
    said = before.event() if before is not None else None
    if isinstance(said, OutworkChased):
        doing.record(said)
    elif isinstance(said, OutworkSent):
        doing.record(
            OutworkChased(
                job=event.job, phase=event.phase, promised=said.promised, chase=said.chase
            )
        )


def back_gone(doing: Acting, row: Row, event: OutworkBack) -> None:
    """Let it be away again."""
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))


def advice_gone(doing: Acting, row: Row, event: AdviceAnswered) -> None:
    """Let hold what the customer had said before of it, or nothing."""
    before = _before(doing, row, ("advice-answered",), "finding", event.finding)
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))
    if before is not None:
        doing.record(before.event())


def _before(
    doing: Acting, row: Row, kinds: tuple[str, ...], field: str, value: object
) -> Row | None:
    """The newest entry of these kinds about the same thing before this one, not taken back."""
    marks = ", ".join("?" * len(kinds))
    columns = ", ".join(f"ledger.{one.strip()}" for one in COLUMNS.split(","))
    job = row.event().model_dump()["job"]
    found = doing.db.execute(
        f"select {columns} from entry cross join ledger "
        "on ledger.seq between entry.seq and entry.last "
        f"where entry.job = ? and not undone and kind in ({marks}) and ledger.seq < ? "
        f"and payload ->> '$.{field}' = ? order by ledger.seq desc limit 1",
        [job, *kinds, row.seq, value],
    ).fetchone()
    return None if found is None else Row(*found)

"""From the lines of `ledger --json` to what `month_again` keeps: a function for each kind."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from tests.store.views.month_again import Again, Row, second


def read(lines: Path) -> Again:
    """Read a ledger written with `ledger --json`."""
    past = Again()
    for line in lines.read_text("utf-8").splitlines():
        row = json.loads(line)
        at = second(row["happened_at"])
        past.now = max(past.now, second(row["recorded_at"]))
        if "job" in row["payload"]:
            past.acts[row["payload"]["job"], at].add(row["kind"])
        told = READ.get(row["kind"])
        if told is not None:
            told(past, row["payload"], at, row)
    return past


def _founded(past: Again, said: Row, at: float, row: Row) -> None:
    past.zone = ZoneInfo(said["zone"])


def _clock(past: Again, said: Row, at: float, row: Row) -> None:
    begun = second(said["since"]) if "since" in said else at
    until = said.get("until")
    past.clocks[row["seq"]] = {
        "person": said["person"], "job": said.get("job"), "phase": said.get("phase"),
        "reason": said.get("reason"), "part": said.get("part", "lead"), "since": begun,
        "until": second(until) if until else None, "through": said.get("breaks_worked", False),
    }  # fmt: skip


def _another_day(past: Again, clock: Row, row: Row) -> None:
    said = datetime.fromtimestamp(second(row["recorded_at"]), past.zone).date()
    begun = datetime.fromtimestamp(clock["since"], past.zone).date()
    past.put_right_later += clock["until"] is None and said > begun


def _right(past: Again, said: Row, at: float, row: Row) -> None:
    _another_day(past, past.clocks[said["clock"]], row)
    _clock(past, said, at, {"seq": said["clock"]})


def _stop(past: Again, said: Row, at: float, row: Row) -> None:
    _another_day(past, past.clocks[said["clock"]], row)
    past.clocks[said["clock"]]["until"] = at


def _opened(past: Again, said: Row, at: float, row: Row) -> None:
    past.jobs[said["job"]] = {"opened": at, "closed": None, "gone": None, "small": said["small"],
                              "basis": None, "ceiling": None, "pays": None}  # fmt: skip


def _state(past: Again, said: Row, at: float, row: Row) -> None:
    gone = said["state"] in ("declined", "turned-away")
    past.jobs[said["job"]]["gone"] = at if gone else None


def _agreed(past: Again, said: Row, at: float, row: Row) -> None:
    past.agreed[said["job"]].append({**said, "at": at, "seq": row["seq"]})
    if not said.get("check"):
        past.jobs[said["job"]].update(basis=said["basis"], ceiling=said.get("ceiling"))


def _ceiling(past: Again, said: Row, at: float, row: Row) -> None:
    past.jobs[said["job"]]["ceiling"] = said["ceiling"]


def _closed(past: Again, said: Row, at: float, row: Row) -> None:
    past.jobs[said["job"]]["closed"] = at
    for stay in past.stays:
        if stay["job"] == said["job"] and stay["until"] is None:
            stay["until"] = at


def _route(past: Again, said: Row, at: float, row: Row) -> None:
    job = said["job"]
    for one in said.get("added", ()):
        past.phases[job, one["phase"]] = {
            "kind": one["phase_kind"], "estimate": one["estimate"]["middle"], "finished": None,
            "skipped": False, "begun": None, "kits": one.get("kits", []), "code": one["code"],
            "version": said.get("version"),
        }  # fmt: skip
    for one in said.get("dropped", ()):
        past.phases[job, one["phase"]]["skipped"] = True
    for one in said.get("restored", ()):
        past.phases[job, one]["skipped"] = False
    for one in said.get("rated", ()):
        past.phases[job, one["phase"]]["estimate"] = one["estimate"]["middle"]
        past.phases[job, one["phase"]]["kits"] = one.get("kits", [])
    for one in said.get("removed", ()):
        del past.phases[job, one]


def _finished(past: Again, said: Row, at: float, row: Row) -> None:
    past.phases[said["job"], said["phase"]]["finished"] = at


def _unfinished(past: Again, said: Row, at: float, row: Row) -> None:
    for one in (said["phase"], *said.get("reopens", ())):
        past.phases[said["job"], one]["finished"] = None


def _skipped(past: Again, said: Row, at: float, row: Row) -> None:
    past.phases[said["job"], said["phase"]]["skipped"] = True


def _held(past: Again, said: Row, at: float, row: Row) -> None:
    past.holds[row["seq"]] = {**said, "since": at, "until": None}


def _placed(past: Again, said: Row, at: float, row: Row) -> None:
    own = [one for one in past.stays if (one["job"], one["part"]) == (said["job"], said["part"])]
    if said.get("takes_back") is not None:
        past.stays = [one for one in past.stays if one["seq"] != said["takes_back"]]
        before = [one for one in own if one["seq"] != said["takes_back"]]
        before[-1]["until"] = None
        return
    for one in own:
        if one["until"] is None:
            one["until"] = at
    if said["place"] is not None:
        past.stays.append({**said, "seq": row["seq"], "since": at, "until": None})


def _found(past: Again, said: Row, at: float, row: Row) -> None:
    if said["finding"] == "surprise":
        past.surprises[row["seq"]] = {**said, "agreed": False}
    asked = said.get("asked")
    if asked:
        past.extras[said["job"], asked["line"]] = {
            **asked, "asked_at": at, "answered_at": None, "state": "asked", "found": row["seq"],
        }  # fmt: skip


def _answered(past: Again, said: Row, at: float, row: Row) -> None:
    for line in said["lines"]:
        past.extras[said["job"], line].update(state=said["answer"], answered_at=at)
    for one in said.get("raises", ()):
        past.phases[said["job"], one["phase"]]["estimate"] = one["estimate"]["middle"]


def _place(past: Again, said: Row, at: float, row: Row) -> None:
    if said["place_kind"] == "lift":
        past.lifts[said["place"]] = {**said, "since": at, "out": []}


def _hire(past: Again, said: Row, at: float, row: Row) -> None:
    one = past.hires.setdefault(said["hire"], {})
    if row["kind"] != "deposit-returned":
        one.update({name: value for name, value in said.items() if value is not None})
    one[row["kind"]] = at
    past.hire_seqs.add(row["seq"])


def _given(past: Again, said: Row, at: float, row: Row) -> None:
    past.hires[said["hire"]]["job"] = said.get("to")


def _calendar(past: Again, said: Row, at: float, row: Row) -> None:
    past.plans.append(said)


def _holiday(past: Again, said: Row, at: float, row: Row) -> None:
    if row["kind"] == "holiday-set":
        past.closed_days.add(said["day"])
    else:
        past.closed_days.discard(said["day"])


def _rate(past: Again, said: Row, at: float, row: Row) -> None:
    past.rates.append((said["from_day"], said["per_hour"]))


def _person(past: Again, said: Row, at: float, row: Row) -> None:
    past.people[said["person"]] = said
    past.roles[said["person"]].append(
        (str(said.get("since") or said["from_day"]), str(said["role"]))
    )


def _absent(past: Again, said: Row, at: float, row: Row) -> None:
    past.away.append(said)


def _attended(past: Again, said: Row, at: float, row: Row) -> None:
    past.hours_right[said["person"], said["day"]] = said["hours"]


def _unclocked(past: Again, said: Row, at: float, row: Row) -> None:
    del past.clocks[said["clock"]]


def _estimate(past: Again, said: Row, at: float, row: Row) -> None:
    past.changed[said["job"]].append({**said, "at": at, "seq": row["seq"]})


def _comeback(past: Again, said: Row, at: float, row: Row) -> None:
    past.jobs[said["job"]].update(pays=said["pays"], fault=said["fault"])


def _released(past: Again, said: Row, at: float, row: Row) -> None:
    past.holds[said["hold"]]["until"] = at


def _unheld(past: Again, said: Row, at: float, row: Row) -> None:
    del past.holds[said["hold"]]


def _lift_out(past: Again, said: Row, at: float, row: Row) -> None:
    out = past.lifts[said["place"]]["out"]
    if row["kind"] == "lift-withdrawn":
        out.append([at, None])
    else:
        out[-1][1] = at


def _unfound(past: Again, said: Row, at: float, row: Row) -> None:
    past.surprises.pop(said["finding"], None)


def _quoted(past: Again, said: Row, at: float, row: Row) -> None:
    past.quotes.append({**said, "at": at, "seq": row["seq"], "answer": None})


def _quote_answered(past: Again, said: Row, at: float, row: Row) -> None:
    for one in past.quotes:
        if (one["job"], one["quote"]) == (said["job"], said["quote"]):
            one["answer"] = said["answer"]


def _sent(past: Again, said: Row, at: float, row: Row) -> None:
    past.outwork.append({**said, "back": None, "charged": None})


def _back(past: Again, said: Row, at: float, row: Row) -> None:
    where = (said["job"], said["phase"])
    own = [one for one in past.outwork if (one["job"], one["phase"]) == where]
    own[-1].update(back=at, charged=said.get("price"))


def _signed(past: Again, said: Row, at: float, row: Row) -> None:
    if said.get("answer"):
        past.answers[said["job"], said["phase"], said["step"]] = said["answer"]


def _silent(past: Again, said: Row, at: float, row: Row) -> None:
    if said.get("phase") is None:
        past.silent.add(said["job"])


def _moved(past: Again, said: Row, at: float, row: Row) -> None:
    for line in said.get("lines", ()):
        past.parts.append((at, said["job"], line, said))
    for one in said.get("back", ()):
        past.parts.append((at, said["job"], one["line"], one))


def _book(past: Again, said: Row, at: float, row: Row) -> None:
    for phase in json.loads(said["content"])["phases"]:
        for kit in phase.get("kits", ()):
            if kit.get("captive_to"):
                past.captive[said["version"], phase["code"], kit["kit"]] = kit["captive_to"]


READ: dict[str, Callable[[Again, Row, float, Row], None]] = {
    "shop-founded": _founded, "calendar-set": _calendar, "holiday-set": _holiday,
    "holiday-cleared": _holiday, "rate-set": _rate, "person-added": _person,
    "person-changed": _person, "absence-set": _absent, "attendance-corrected": _attended,
    "clocked-on": _clock, "clocked-indirect": _clock, "clock-entered": _clock,
    "clock-corrected": _right, "clocked-off": _stop, "clock-removed": _unclocked,
    "job-opened": _opened, "state-changed": _state, "job-closed": _closed,
    "estimate-agreed": _agreed, "ceiling-set": _ceiling, "estimate-changed": _estimate,
    "comeback-linked": _comeback, "route-changed": _route, "phase-finished": _finished,
    "phase-reopened": _unfinished, "phase-taken-back": _unfinished, "phase-skipped": _skipped,
    "held": _held, "released": _released, "hold-taken-back": _unheld, "placed": _placed,
    "place-added": _place, "lift-withdrawn": _lift_out, "lift-returned": _lift_out,
    "found": _found, "finding-taken-back": _unfound, "supplement-answered": _answered,
    "quote-given": _quoted, "quote-answered": _quote_answered, "outwork-sent": _sent,
    "outwork-back": _back, "book-loaded": _book, "hire-asked": _hire, "hire-received": _hire,
    "hire-extended": _hire, "hire-sent-back": _hire, "hire-invoiced": _hire,
    "deposit-returned": _hire, "hire-given": _given, "parts-moved": _moved, "step-signed": _signed,
    "not-teaching": _silent,
    "parts-taken-back": _moved,
}  # fmt: skip

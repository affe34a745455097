"""Acts about customers and other firms that can be taken back, each on a job made for it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from store.actions import advice, calls, ceilings, holding, outwork
from tests.store.actions.made import World
from tests.store.made_calls import load_away, take_away, to_firm

Made = Callable[[World], str]
Act = Callable[[World, str], object]


def within(w: World) -> str:
    """An estimate with a ceiling; extra work and advice wait for a word."""
    load_away(w)
    job = take_away(w, basis="ceiling", ceiling=900)
    holding.find(
        w.shop, w.by("T2"), job=job, phase="1", kind="surprise", text="stud", hours=1, money=100
    )
    holding.find(w.shop, w.by("T2"), job=job, phase="1", kind="advice", text="hoses", hours=0.5)
    return job


def _at_firm(w: World) -> str:
    job = within(w)
    holding.answer_supplement(w.shop, w.by("FOR"), job=job, approve=False)
    to_firm(w, job)
    return job


def away(w: World) -> str:
    """Its head is at a firm."""
    job = _at_firm(w)
    send(w, job)
    return job


def _asked_after(w: World) -> str:
    job = away(w)
    _chase(w, job, "wednesday")
    return job


def send(w: World, job: str) -> object:
    """Send the head away."""
    return outwork.send(
        w.shop, w.by("T2"), job=job, phase="3", what="head", firm="Facing Works",
        promised=w.at(16, 0, 2), chase=date(2026, 10, 13), price=210,
    )  # fmt: skip


def _chase(w: World, job: str, said: str) -> object:
    return outwork.chase(
        w.shop, w.by("T2"), job=job, phase="3", said=said, promised=w.at(9, 0, 3),
        chase=date(2026, 10, 14),
    )  # fmt: skip


def _answer(w: World, job: str, answer: advice.Answer) -> object:
    finding = w.one("select seq from finding where job = ? and kind = 'advice'", job)
    assert isinstance(finding, int)
    return advice.answer_advice(
        w.shop, w.by("FOR"), job=job, finding=finding, answer=answer, risk_told=True,
        told_by="a neighbour", means="telephone",
    )  # fmt: skip


def _declined(w: World) -> str:
    job = within(w)
    _answer(w, job, "declined")
    return job


OUTSIDE: dict[str, tuple[Made, str, Act]] = {
    "call-tried": (
        within, "FOR",
        lambda w, j: calls.note_call(
            w.shop, w.by("FOR"), job=j, means="telephone", reached=False, again=w.at(14)
        ),
    ),
    "ceiling-set": (
        within, "FOR",
        lambda w, j: ceilings.set_ceiling(
            w.shop, w.by("FOR"), job=j, ceiling=1000, told_by="customer", means="telephone"
        ),
    ),
    "supplement-answered, with a ceiling": (
        within, "FOR",
        lambda w, j: holding.answer_supplement(
            w.shop, w.by("FOR"), job=j, approve=True, ceiling=1000, told_by="her brother",
            means="telephone",
        ),
    ),
    "outwork-sent": (_at_firm, "T2", send),
    "outwork-chased": (away, "T2", lambda w, j: _chase(w, j, "thursday")),
    "outwork-chased, again": (_asked_after, "T2", lambda w, j: _chase(w, j, "friday")),
    "outwork-back": (
        away, "T2",
        lambda w, j: outwork.receive(
            w.shop, w.by("T2"), job=j, phase="3", readings={"left": 121, "right": 121},
            answers={"": "cracked"}, price=240, report="cracked between the seats",
        ),
    ),
    "advice-answered": (within, "FOR", lambda w, j: _answer(w, j, "declined")),
    "advice-answered, agreed": (within, "FOR", lambda w, j: _answer(w, j, "agreed")),
    "advice-answered, anew": (_declined, "FOR", lambda w, j: _answer(w, j, "later")),
}  # fmt: skip

"""Shops in which acts are open to somebody, a promise here and there, and acts really done."""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from random import Random

from store.actions import clock, holding, jobs, outwork, parts, places
from store.actions.desk import acts as desk
from store.actions.hires import asked as hires
from store.file.learned.due import LIVE
from store.file.learned.forecaster import ShopForecaster
from store.file.learned.kept import parts as learned_parts
from store.file.learned.learner import Outlook
from store.file.learned.moment import moment
from store.file.learned.own import VERSIONS, ShopLearner
from store.file.learned.turns import Turns
from store.file.open_acts.acts import open_acts
from store.file.shop import Shop
from store.rules.acts import Act
from tests.store.actions.made import PIN, World, make
from tests.store.made_calls import load_away, take_away, to_firm
from tests.store.made_desk import arrived, check, passed, with_checks
from tests.store.made_jobs import plain_shop
from tui.cli.call import Call, Terminal
from tui.cli.parse import parse

FILLS = {
    "-REASON": "seen, harmless", "-TEXT": "soon", "-RESULT": "pass", "-N": "12", "-NAME": "Vos",
    "-WHO": "T1", "-INSTANT": "2026-10-14T09:00", "-sound/worn": "sound",
    "-BASIS": "fixed price",
}  # fmt: skip
"""What a person would fill in."""
BADGES = ("OWN", "FOR", "T1", "T2")
DAYS = {"--date": "2026-10-10", "--due": "2026-10-19"}


class Still:
    """A clock that stands."""

    sleeps = False

    def __init__(self, now: datetime) -> None:
        """Stand there."""
        self._now = now

    def look(self) -> datetime:
        """The instant."""
        return self._now

    use = look


def stuck_shop(folder: Path) -> World:
    """Three jobs on three lifts, none of which goes on: a reading, a name, the customer's word.

    Two more wait: one is held for a part.
    """
    world = make(folder)
    world.to(8, 0)
    reading, name = world.take("TC", "1"), world.take("TC", "2")
    word = world.take("WP", "3")
    ready, part = world.take("WP", None), world.take("WP", None)
    for job in (reading, name):
        world.do("T1", job, "1")
        world.on("T1", job, "2")
        world.sign("T1", job, "HL", readings={"value": 1980.5})
        world.sign("T1", job, "GB-off:1")
        out = 0.5 if job == reading else 0.15
        world.now = world.now.replace(minute=50)
        world.sign("T1", job, "LK", readings={"a": 0.1, "b": out})
        if job == name:
            clock.clock_off(world.shop, world.by("T1"))
    world.do("T2", word, "1")
    world.on("T2", word, "2")
    holding.find(
        world.shop, world.by("T2"), job=word, phase="2", kind="surprise", text="stud breaks",
        hours=1.5,
    )  # fmt: skip
    holding.hold(
        world.shop, world.by("T2"), job=part, phase=None, reason="parts", text="hose",
        until=world.at(15), next_move="supplier",
    )  # fmt: skip
    for job, hour, day in ((reading, 15, 2), (name, 16, 1), (word, 16, 0), (ready, 14, 1),
                           (part, 12, 2)):  # fmt: skip
        jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(hour, day=day))
    world.to(11, 0)
    return world


def idle_shop(folder: Path) -> World:
    """A job that nobody is on, a held one that rolls, a free weak lift; two wait, one is heavy."""
    world = make(folder)
    world.to(8, 0)
    idle, held = world.take("TC", "1"), world.take("WP", "2")
    heavy, light = world.take("WP", None, mass=3500), world.take("WP", None, mass=1500)
    world.do("T1", idle, "1")
    world.on("T1", idle, "2")
    world.sign("T1", idle, "HL", readings={"value": 1980.5})
    clock.clock_off(world.shop, world.by("T1", minutes=40))
    world.do("T2", held, "1")
    holding.hold(
        world.shop, world.by("T2"), job=held, phase=None, reason="parts", text="pump",
        next_move="supplier",
    )  # fmt: skip
    for job, hour, day in ((idle, 10, 2), (held, 16, 0), (heavy, 12, 1), (light, 14, 0)):
        jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(hour, day=day))
    world.to(11, 0)
    return world


def line_shop(folder: Path) -> World:
    """All lifts taken, nobody on them; two wait: the one behind has a promise, the other none."""
    world = make(folder)
    world.to(8, 0)
    for lift in ("1", "2", "3"):
        world.take("TC", lift)
    world.take("WP", None)
    late = world.take("WP", None)
    jobs.promise(world.shop, world.by("FOR"), job=late, at=world.at(12, day=4))
    world.to(9, 0)
    return world


def told_line_shop(folder: Path) -> World:
    """The same, and the learner has said what the other order is worth."""
    world = line_shop(folder)
    learner(world).keep_up()
    return world


def learner(world: World) -> Turns:
    """The shop's own learner at the world's clock."""
    return Turns(world.shop, ShopLearner(), lambda: world.now)


def acts(world: World) -> list[Act]:
    """What is open now."""
    with world.shop.reading() as db:
        return open_acts(db, world.now)


def outlook(world: World) -> Outlook:
    """Every job's finish now, by a learner that knows the file and nothing of any act."""
    with world.shop.reading() as db:
        known = ShopForecaster(learned_parts(db, VERSIONS, whole=True))
        live = [row[0] for row in db.execute(LIVE)]
        found = known.outlook(moment(db, live, world.now), live)
    assert found is not None
    return found


def scratch(world: World, folder: Path) -> World:
    """A copy of the shop, at the same instant."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "scratch.shop"
    world.shop.close()
    shutil.copy(world.shop.path, path)
    return World(Shop(path), world.now, world.acts)


def type_in(world: World, *words: str) -> str:
    """Type a command at the world's clock, placeholders filled in; return what it says."""
    return typed_in(world.shop.path, world.now, words, dict.fromkeys(BADGES, PIN), FILLS)


def typed_in(
    path: Path, now: datetime, words: Sequence[str], pins: dict[str, str], fills: Mapping[str, str]
) -> str:
    """Type a command at any shop, everybody's PIN known; return what it says."""
    filled = [
        DAYS[last] if word == "-DATE" else fills.get(word) or word.replace("-VALUE", "1")
        for last, word in zip(("", *words), words, strict=False)
    ]
    terminal = Terminal(
        given=path, pins=pins, name="t1",
        _clock=Still(now),  # type: ignore[arg-type]  # pyright: ignore[reportArgumentType]
    )  # fmt: skip
    try:
        wanted = parse(filled)
        assert wanted.command is not None
        assert wanted.typed is not None
        answer = wanted.command.run(Call(terminal, wanted.typed))
        return "\n".join(answer.lines)
    finally:
        terminal.close()


def chance_shop(folder: Path, seed: int) -> World:
    """Four jobs of plain coolant work, each in a state that chance picks, all promised."""
    dice, world = Random(seed), make(folder)
    world.to(8, 0)
    for lift in ("1", "2", None, None):
        job = world.take("WP", lift, mass=dice.choice([1500, 3500]))
        jobs.promise(
            world.shop, world.by("FOR"), job=job,
            at=world.at(dice.randint(9, 16), day=dice.randint(0, 3)),
        )  # fmt: skip
        state = dice.choice(["parts", "word", "idle", "tool"]) if lift else "waiting"
        if lift and state != "tool":
            world.do("T1", job, "1")
        if state in ("parts", "tool"):
            holding.hold(
                world.shop, world.by("T2"), job=job, phase=dice.choice([None, "2"]),
                reason="parts" if state == "parts" else "tool",
                until=world.at(12, day=1) if dice.random() < 0.5 else None,
            )  # fmt: skip
        if state == "word":
            world.on("T1", job, "2")
            holding.find(
                world.shop, world.by("T1", minutes=30), job=job, phase="2", kind="surprise",
                text="stud breaks", hours=1.5,
            )  # fmt: skip
    world.to(11, 0)
    return world


def supply_shop(folder: Path) -> World:
    """What comes from outside: a part late, kits to come and to go, a firm, a check, quotes.

    And a clock left running, a lift that nobody looked over, an inspection that ran out.
    """
    world = make(folder)
    load_away(world)
    world.to(8, 0)
    shop = world.shop
    away = take_away(world)
    to_firm(world, away)
    outwork.send(
        shop, world.by("T2"), job=away, phase="3", what="head", firm="Facing Works",
        promised=world.at(16, day=3), chase=date(2026, 10, 13),
    )  # fmt: skip
    plain = world.take("WP", "1")
    parts.list_parts(shop, world.by("T1"), job=plain, texts=["hose", "clip"])
    parts.move_parts(
        shop, world.by("T1"), job=plain, lines=[1], state="ordered", expected=world.at(15)
    )
    for kit, expected in (("link", world.at(14, day=1)), ("locks", None)):
        hires.ask(
            shop, world.by("FOR"), kit=kit, supplier="Loan", job=plain, expected=expected,
            due=world.at(15, day=4) if expected else world.at(16, day=1), why="to be at hand",
        )  # fmt: skip
    hires.receive(shop, world.by("T1"), kit="locks")
    places.inspect_lift(
        shop, world.by("FOR"), code="3", day=date(2026, 6, 2), months=4, source="made up",
        inspector="somebody",
    )  # fmt: skip
    world.on("T2", plain, "1")
    with_checks(world)
    done, judged, quoted = (arrived(world, vehicle=f"{one} van") for one in ("a", "b", "c"))
    check(world, done)
    for job in (judged, quoted):
        passed(world, job)
    desk.quote(shop, world.by("FOR"), job=quoted, basis="fixed price", means="telephone")
    world.to(9, 0, day=1)
    world.on("T1", plain, "1")
    return world


def asked_shop(folder: Path) -> World:
    """A decision that nobody is there to take, a job on nobody's list while all are busy."""
    world = plain_shop(folder)
    world.to(8, 0)
    asked, other, busy = (world.take("EZ", one) for one in ("1", "2", "3"))
    world.on("T1", asked, "1")
    clock.clock_off(world.shop, world.by("T1"))
    world.on("T1", other, "1")
    world.sign("T1", other, "LOOK", answer="sound")
    clock.clock_off(world.shop, world.by("T1"))
    world.on("T1", busy, "1")
    world.on("T2", busy, "1")
    world.to(9, 0)
    return world

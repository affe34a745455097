"""What can be hard about a shop's history, one difficulty at a time and all at once."""

from __future__ import annotations

from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class Flavour:
    """Which difficulties a simulated shop has.

    Attributes:
        faulty: clocks forgotten, mis-punched.
        drift: the whole shop and single phases change slowly, and in steps.
        sparse: many families with few jobs each.
        strong: big differences between technicians, apprentices, people who come and go, uneven
            shares of the work.
        rust: the vehicle's condition weighs unequally on strip, work and refit; grade known.
        lumped: two neighbouring phases clocked as one, their split wrong.
        told: the column `lumped_with` says so.
        rewritten: the book's hours are revised now and then.
    """

    faulty: bool = False
    drift: bool = False
    sparse: bool = False
    strong: bool = False
    rust: bool = False
    lumped: bool = False
    told: bool = False
    rewritten: bool = False


FLAVOURS: dict[str, Flavour] = {
    "clean": Flavour(),
    "faulty": Flavour(faulty=True),
    "drift": Flavour(drift=True),
    "sparse": Flavour(sparse=True),
    "strong": Flavour(strong=True),
    "rust": Flavour(rust=True),
    "lumped": Flavour(lumped=True),
    "told": Flavour(lumped=True, told=True),
    "rewritten": Flavour(rewritten=True),
    "all": Flavour(**{one.name: True for one in fields(Flavour)}),
}

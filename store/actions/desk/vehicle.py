"""Which vehicle a job is about: number plate, VIN, engine and gearbox code, mass."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import JobRow, live_job
from store.edges.events.desk import WorkChosen
from store.edges.events.jobs import VehicleKnown
from store.file.change import By
from store.file.shop import Shop
from store.rules.vin import judge
from store.trouble import Refused


@dataclass(frozen=True, slots=True)
class Identity:
    """What is known of a vehicle; None leaves what was known.

    Attributes:
        mass_kg: gross mass, kilograms: the lift's capacity is checked against it.
        label: how people call it.
    """

    vin: str | None = None
    plate: str | None = None
    engine: str | None = None
    gearbox: str | None = None
    mass_kg: float | None = None
    label: str | None = None


def identify(
    shop: Shop,
    by: By,
    *,
    job: str,
    vin: str | None = None,
    plate: str | None = None,
    engine: str | None = None,
    gearbox: str | None = None,
    mass_kg: float | None = None,
    label: str | None = None,
) -> Done:
    """Write down what is known of a job's vehicle; a known VIN or plate is that vehicle again.

    Raises:
        NoSuch: no such job.
        Refused: the VIN cannot be one, or belongs to another vehicle; or nothing is new.
    """
    said = Identity(vin, plate, engine, gearbox, mass_kg, label)
    with acting(shop, by, "receive vehicle") as doing:
        row = live_job(doing, job)
        told = record_identity(doing, row, said)
        if told is None:
            raise Refused(f"That is known of the vehicle of {job} already. Nothing was changed.")
        return doing.done(f"{job}: {told}", job=job)


def record_identity(doing: Acting, row: JobRow, said: Identity) -> str | None:
    """Write down what is new of a vehicle.

    Returns:
        What is known now, in words; None where nothing was new.

    Raises:
        Refused: the VIN cannot be one, or belongs to another vehicle.
    """
    vin = judge(said.vin) if said.vin and said.vin.strip() else None
    clean = Identity(
        vin.text if vin else None, _plate(said.plate), _text(said.engine), _text(said.gearbox),
        said.mass_kg, _text(said.label),
    )  # fmt: skip
    vehicle = _vehicle(doing, row, clean)
    now = _with(vehicle, clean)
    if now != _as_known(vehicle):
        doing.record(now)
    elif vehicle["vehicle"] == row.vehicle:
        return None
    if vehicle["vehicle"] != row.vehicle:
        _meant_another(doing, row, vehicle["vehicle"])
    says = f"{now.label}, {', '.join(_parts(now)) or 'nothing more known'}."
    return f"{says} {vin.hint}" if vin and vin.hint else says


def _plate(text: str | None) -> str | None:
    found = _text(text)
    return found.upper() if found else None


def _text(text: str | None) -> str | None:
    found = " ".join((text or "").split())
    return found or None


def _vehicle(doing: Acting, row: JobRow, said: Identity) -> sqlite3.Row:
    """The job's vehicle, or the known one that VIN or plate name."""
    own: sqlite3.Row = doing.db.execute(
        "select * from vehicle where vehicle = ?", [row.vehicle]
    ).fetchone()
    known: sqlite3.Row | None = doing.db.execute(
        "select * from vehicle where vehicle != ?1 and "
        "(lower(vin) = lower(?2) or (?2 is null and lower(plate) = lower(?3))) "
        "order by vehicle limit 1",
        [row.vehicle, said.vin, said.plate],
    ).fetchone()
    if known is None:
        return own
    if own["vin"] is not None and own["vin"] != known["vin"]:
        raise Refused(
            f"{said.vin or said.plate} is {known['label']}, and {row.job} is about "
            f"{own['label']} ({own['vin']}). Read it again, or choose the vehicle: hoistbook work."
        )
    return known


def _as_known(row: sqlite3.Row) -> VehicleKnown:
    return VehicleKnown(**dict(row))


def _with(row: sqlite3.Row, said: Identity) -> VehicleKnown:
    fields = ("vin", "plate", "engine", "gearbox", "mass_kg", "label")
    new = {name: value for name in fields if (value := getattr(said, name)) is not None}
    return VehicleKnown(**{**dict(row), **new})


def _meant_another(doing: Acting, row: JobRow, vehicle: str) -> None:
    """The job is about a vehicle that was here before."""
    job = doing.db.execute(
        "select work, operations, family, options, version, complaint from job where job = ?",
        [row.job],
    ).fetchone()
    doing.record(
        WorkChosen.model_validate(
            {**dict(job), "operations": json.loads(job["operations"]),
             "options": json.loads(job["options"]), "job": row.job, "vehicle": vehicle}
        )
    )  # fmt: skip


def _parts(now: VehicleKnown) -> list[str]:
    mass = f"{now.mass_kg:,.0f} kg" if now.mass_kg is not None else None
    engine = f"engine {now.engine}" if now.engine else None
    gearbox = f"gearbox {now.gearbox}" if now.gearbox else None
    return [one for one in (now.plate, now.vin, engine, gearbox, mass) if one]

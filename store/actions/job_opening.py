"""What every new job begins with: its number, and the vehicle that was meant."""

from __future__ import annotations

from store.actions.acting import Acting
from store.edges.events.jobs import VehicleKnown
from store.file.facts import setting
from store.trouble import Refused


def next_number(doing: Acting) -> str:
    """Return the next number that no job has, nor one of the imported history."""
    newest = doing.db.execute("select max(number) from job").fetchone()[0]
    number = newest + 1 if newest else setting(doing.db, "first job")
    while doing.db.execute("select 1 from past_phase where job = ?", [str(number)]).fetchone():
        number += 1
    return str(number)


def vehicle_meant(doing: Acting, text: str, family: str, mass_kg: float | None = None) -> str:
    """Return the vehicle that a number plate, VIN or name means; a new one where none does.

    Raises:
        Refused: nothing was said.
    """
    wanted = text.strip()
    if not wanted:
        raise Refused("Say which vehicle: a number plate, or how you call it.")
    row = doing.db.execute(
        "select vehicle, mass_kg, label, vin, plate, engine, gearbox, family from vehicle where "
        "lower(plate) = lower(?1) or lower(vin) = lower(?1) or "
        "(lower(label) = lower(?1) and family = ?2) order by vehicle limit 1",
        [wanted, family],
    ).fetchone()
    if row is not None and (mass_kg is None or mass_kg == row["mass_kg"]):
        return str(row["vehicle"])
    ident = str(row["vehicle"]) if row else doing.change.new_id("v")
    doing.record(
        VehicleKnown(
            vehicle=ident, label=row["label"] if row else wanted,
            family=row["family"] if row else family,
            vin=row["vin"] if row else None, plate=row["plate"] if row else None,
            engine=row["engine"] if row else None, gearbox=row["gearbox"] if row else None,
            mass_kg=mass_kg,
        )
    )  # fmt: skip
    return ident

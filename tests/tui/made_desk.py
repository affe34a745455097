"""An invented desk to paint: the same week as the floor of `made`, Wednesday at 10:40."""

from __future__ import annotations

from dataclasses import replace

from store.views.desk.values import CheckNow, Desk, DeskRow, DeskState, QuoteNow, WayNow
from tests.tui.made import CALENDAR, NOW, on
from tui.desk.rows import Beside, shown
from tui.desk.state import Shown

SHOP = "Marsh Lane Works"


def row(number: str, vehicle: str, state: DeskState, since: str, **more: object) -> DeskRow:
    """A job at the desk since `Tue 14:10`."""
    made = DeskRow(
        number, vehicle, None, None, "not chosen yet", None, (), "B4-M-F", (), 2, False, state,
        on(since), None, None, "", False, CheckNow(), None, None, None,
    )  # fmt: skip
    return replace(made, **more)  # type: ignore[arg-type]  # checked by the dataclass itself


def quote(number: int, at: str, **more: object) -> QuoteNow:
    """A quote of two ways."""
    ways = (
        WayNow("clutch and flywheel", ("CL",), (("flywheel", "one-piece"),), 10.7, 12.4, 963.0),
        WayNow("flywheel two-piece", ("CL",), (("flywheel", "two-piece"),), 11.3, 13.0, 1017.0),
    )
    made = QuoteNow(number, on(at), "Ruth", False, ways, "open", "fixed price", means="telephone")
    return replace(made, **more)  # type: ignore[arg-type]  # the same


DONE = CheckNow("finished", None, (), None, None, 1.1, 90.0)
DESK = Desk(
    NOW, CALENDAR, "EUR",
    (
        row("2438", "old saloon", "enquiry", "Tue 14:10", complaint="clutch judders when cold",
            next="tell a rough range, book a day", customer="A. Berg", telephone="0612 345 678"),
        row("2441", "van, white", "enquiry", "Wed 09:05", complaint="noise from the rear axle",
            next="choose the work and the family", family=""),
        row("2440", "camper", "booked", "Mon 11:00", work="rear main seal",
            arrives=on("Wed 08:00").date(), next="comes today", customer="J. Mulder"),
        row("2442", "estate, six-cyl.", "booked", "Tue 16:20", work="timing chain, flywheel end",
            arrives=on("Fri 08:00").date(), next="comes Fri 16 Oct"),
        row("2439", "small van", "arrived", "Wed 08:10", work="gearbox overhaul", check=DONE,
            plate="AB-12-C", next="say what the check came to", place="yard"),
        row("2437", "tipper", "arrived", "Wed 07:50", work="injectors seized in",
            check=CheckNow("under way", "2 qualifying check", ("Per",)), next="check"),
        row("2436", "hatchback", "quoted", "Mon 15:30", work="clutch and flywheel",
            check=replace(DONE, result="pass with conditions", text="seal weeps, watch it"),
            quote=quote(1, "Mon 15:30"), next="the customer's word", customer="the garden firm"),
        row("2433", "old saloon", "waiting", "Tue 10:00", work="clutch and flywheel"),
        row("2431", "tipper", "waiting", "Mon 09:00", work="timing chain, flywheel end"),
    ),
    (row("2428", "coupe", "declined", "Tue 12:00", work="rear main seal", why="the price"),),
)  # fmt: skip
BESIDE = Beside({"2433": (), "2431": ("parts 2 of 5, Thu", "kit: locking set", "a lift for 3.4 t")},
                {"2438": on("Wed 10:00")})  # fmt: skip


def desk() -> Shown:
    """A desk on a busy morning."""
    return shown(DESK, SHOP, BESIDE)


def other_desk(rows: tuple[DeskRow, ...], gone: tuple[DeskRow, ...] = ()) -> Shown:
    """The same desk with other lines, and nobody to ring again."""
    return shown(replace(DESK, rows=rows, gone=gone), SHOP, Beside(BESIDE.lacks, {}))


def calm_desk() -> Shown:
    """Nothing wants anybody."""
    return other_desk(tuple(one for one in DESK.rows if one.number in ("2442", "2437", "2433")))


def empty_desk() -> Shown:
    """Nothing is at the desk."""
    return other_desk(())

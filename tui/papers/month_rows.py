"""The rows that figures of a month are made of: jobs, phases, and each figure's way down to the
entries of the ledger. A page is sent to others: no vehicle's name is on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import tzinfo

from store.views.month.values import JobJudged, Month, PhaseJudged, Way
from store.views.month.way import Figure, Unit
from tui.papers.month_words import NOTHING, off, told
from tui.papers.paper import Block, Heading, Row, Table, Words
from tui.papers.said import at, on_day
from tui.words import local, tenth

YES_OR_NO = {None: NOTHING, True: "yes", False: "no"}
WAY_HEADS = ("What", "Job", "Phase", "Who", "When", "Comes to", "Entries")
ENTRIES = (
    "An entry's number leads to everything that was written down then: hoistbook ledger --from "
    "NUMBER."
)


class Rows:
    """Gathers what figures are made of, and says where each of them will stand.

    Attributes:
        tables: in the order in which they were asked for.
        taught: the jobs that taught each phase's hours.
    """

    def __init__(self, found: Month, zone: tzinfo) -> None:
        self.tables: list[Table] = []
        self.taught: list[Row] = []
        self._currency, self._zone = found.currency, zone
        self._jobs = {one.job for one in found.jobs}
        self._phases = {(one.job, one.phase) for one in phases_of(found)}

    def of(self, figure: Figure, name: str, caption: str) -> str:
        """Where a figure's rows will stand; "" where it has none."""
        return self.add(figure.ways, name, caption, figure.unit)

    def add(self, ways: Sequence[Way], name: str, caption: str, unit: Unit) -> str:
        """The same of lines that are no figure's. `name`: letters, digits and hyphens."""
        if not ways:
            return ""
        rows = tuple(row for one in ways for row in self._rows(one, 0, unit))
        here = f"rows-{name}"
        self.tables.append(Table(caption, WAY_HEADS, rows, figures=(5,), id=here, folded=True))
        return here

    def taught_by(self, name: str, phase: str, jobs: Sequence[str]) -> str:
        """Where the jobs stand that taught a phase's hours; "" where none did."""
        if not jobs:
            return ""
        here = f"rows-{name}"
        self.taught.append(Row((phase, ", ".join(jobs)), id=here))
        return here

    def there(self, name: str) -> str:
        """Where rows stand that were asked for already; "" where there are none."""
        here = f"rows-{name}"
        return here if any(one.id == here for one in self.tables) else ""

    def job(self, number: str | None) -> str:
        """Where a job's row stands."""
        return f"job-{number}" if number in self._jobs else ""

    def phase(self, job: str | None, phase: str | None) -> str:
        """Where a phase's row stands."""
        return f"phase-{job}-{phase}" if (job, phase) in self._phases else ""

    def _rows(self, way: Way, level: int, unit: Unit) -> Iterator[Row]:
        if way.value == 0 and not way.events and not way.ways:
            return
        cells = (
            "\N{MIDDLE DOT} " * level + way.says, way.job or "", way.phase or "", way.badge or "",
            "" if way.at is None else f"{local(way.at, self._zone):%Y-%m-%d %H:%M}",
            "" if way.value is None else told(way.value, unit, self._currency),
            ", ".join(map(str, way.events)),
        )  # fmt: skip
        links = ("", self.job(way.job), self.phase(way.job, way.phase), "", "", "", "")
        yield Row(cells, links=links)
        for one in way.ways:
            yield from self._rows(one, level + 1, unit)


def phases_of(found: Month) -> tuple[PhaseJudged, ...]:
    """Phases of the jobs that were closed, and all others that were finished in the month."""
    every = {(one.job, one.phase): one for job in found.jobs for one in job.phases}
    every |= {(one.job, one.phase): one for one in found.phases}
    return tuple(every.values())


def rows_blocks(found: Month, rows: Rows, zone: tzinfo) -> Iterator[Block]:
    """Everything that figures lead to, at the end."""
    phases = phases_of(found)
    if found.jobs:
        yield Heading("Jobs closed in the month", id="jobs")
        yield _jobs(found.jobs, zone)
    if phases:
        yield Heading("Their phases, and all that were finished in the month", id="phases")
        yield Words(ENTRIES, note=True)
        yield _phases(phases, rows, zone)
    if rows.tables or rows.taught:
        yield Heading("What each figure is made of", id="made-of")
        yield Words(f"Lines below a line, marked by a dot, add up to it. {ENTRIES}", note=True)
        yield from rows.tables
        if rows.taught:
            caption = "Jobs that taught what the book should say"
            yield Table(caption, ("Phase", "Jobs"), tuple(rows.taught), folded=True)


def _jobs(jobs: Sequence[JobJudged], zone: tzinfo) -> Table:
    heads = ("Job", "Work", "Family", "Closed", "Took", "Told", "Off", "Cautious held",
             "In the range", "In time")  # fmt: skip
    rows = tuple(_job(one, zone) for one in jobs)
    return Table("", heads, rows, figures=(4, 5), id="table-jobs", sorts=True)


def _job(one: JobJudged, zone: tzinfo) -> Row:
    ratio = one.ratio
    cells = (
        one.job, one.work, one.family, on_day(local(one.closed_at, zone).date()),
        f"{tenth(one.labour_h)} h", _hours(one.estimate_h),
        NOTHING if ratio is None else off(ratio - 1),
        YES_OR_NO[one.cautious_held], YES_OR_NO[one.inside], _in_time(one, zone),
    )  # fmt: skip
    keys = ("", "", "", one.closed_at.isoformat(), f"{one.labour_h:.4f}",
            f"{one.estimate_h or 0:.4f}", f"{ratio or 0:.4f}", "", "", "")  # fmt: skip
    clocked = next((phase for phase in one.phases if phase.clocks), None)
    to = f"phase-{one.job}-{clocked.phase}" if clocked else ""
    return Row(cells, id=f"job-{one.job}", links=(to, *[""] * 9), keys=keys)


def _hours(value: float | None) -> str:
    return NOTHING if value is None else f"{tenth(value)} h"


def _in_time(one: JobJudged, zone: tzinfo) -> str:
    if one.promised is None:
        return "no day promised"
    if one.ready_at is None:
        return NOTHING
    return "yes" if one.ready_at <= one.promised else f"no: told {at(one.promised, zone)}"


def _phases(phases: Sequence[PhaseJudged], rows: Rows, zone: tzinfo) -> Table:
    heads = ("Phase", "What", "Code", "Who", "Finished", "Took", "Told", "Off", "Its clocks")
    return Table(
        "Phases", heads, tuple(_phase(one, rows, zone) for one in phases), figures=(5, 6),
        id="table-phases", sorts=True, folded=True,
    )  # fmt: skip


def _phase(one: PhaseJudged, rows: Rows, zone: tzinfo) -> Row:
    ratio = one.labour_h / one.estimate_h if one.estimate_h > 0 and one.labour_h > 0 else None
    done = one.finished_at
    cells = (
        f"{one.job}.{one.phase}", one.name, one.code, one.badge or NOTHING,
        f"{local(done, zone):%Y-%m-%d %H:%M}" if done else one.state,
        f"{tenth(one.labour_h)} h", f"{tenth(one.estimate_h)} h",
        NOTHING if ratio is None else off(ratio - 1),
        ", ".join(str(clock.seq) for clock in one.clocks) or NOTHING,
    )  # fmt: skip
    keys = (f"{one.job}-{one.phase}", "", "", "", "", f"{one.labour_h:.4f}",
            f"{one.estimate_h:.4f}", f"{ratio or 0:.4f}", "")  # fmt: skip
    return Row(
        cells, id=f"phase-{one.job}-{one.phase}", links=(rows.job(one.job), *[""] * 8), keys=keys
    )

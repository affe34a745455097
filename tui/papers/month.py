"""The owner's month as a paper: what it says first, then the figures, then the rows they are of."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from store.views.month.said import named
from store.views.month.values import AccuracyLine, Month, Way
from tui.papers import month_pictures as pictures
from tui.papers.month_rows import Rows, rows_blocks
from tui.papers.month_spent import spent
from tui.papers.month_told import book, real, told_blocks
from tui.papers.month_words import NOTHING, of, off, percent, ranged
from tui.papers.paper import Block, Heading, Paper, Row, Table, Words
from tui.papers.said import at
from tui.words import counted, hours, plain, tenth, zone_of

LINE_HEADS = ("Took", "Told", "Off", "Typically off", "Within a quarter", "Cautious held",
              "Lost", "In words")  # fmt: skip
FIRST = {"kind": "Jobs", "operation": "Operation", "phase": "Phase", "family": "Family",
         "lead": "Who", "before": "Month"}  # fmt: skip
"""Head of what a line is of."""
HOW_TO_READ = (
    "Took: labour hours on the job. Told: its hours as agreed, extra work and changed routes "
    "included. Off: took against told, all jobs together. Typically off: half of the jobs were "
    "nearer; in brackets the range in which 19 of 20 such figures lie. Cautious held: the cautious "
    "figure was enough. The range: one job in ten was to be quicker, one in ten slower. Lost: took "
    "less told; below 0: to spare."
)


def month_paper(found: Month) -> Paper:
    """Return the report of a month, of what its reader may see."""
    zone = zone_of(found.zone)
    worked = found.accuracy.labour_h
    return Paper(
        title=named(found.span.month),
        about=f"{found.shop}: {counted(len(found.jobs), 'job')} closed, {hours(worked)} of labour",
        blocks=tuple(_blocks(found, zone)),
        foot=_foot(found, zone),
    )


def _foot(found: Month, zone: tzinfo) -> str:
    return (
        f"{found.shop}. Written on {at(found.at, zone)}, after entry {found.as_of_seq}; what is "
        "later is not on it. Months are of the shop's zone: a job counts when it was closed, a "
        "phase when it was finished, clocks and money on the day they fell."
    )


def _blocks(found: Month, zone: tzinfo) -> Iterator[Block]:
    rows = Rows(found, zone)
    jobs = "jobs" if found.jobs else ""
    for n, one in enumerate(found.said):
        yield Words(one, first=n == 0, link=jobs if n < 3 else "")
    if found.of is not None:
        yield Words(f"Only the jobs that {plain(found.of)} led are judged here.")
    strip = pictures.strip(found)
    if strip is not None:
        yield strip
    yield from book(found, rows)
    yield from spent(found, rows)
    yield from real(found, rows)
    yield from _accuracy(found, rows)
    yield from _promises(found, rows)
    yield from told_blocks(found, rows)
    yield from rows_blocks(found, rows, zone)


def _accuracy(found: Month, rows: Rows) -> Iterator[Block]:
    groups: tuple[tuple[str, str, tuple[AccuracyLine, ...]], ...] = (
        ("kind", "Deep jobs and small ones", found.kinds),
        ("operation", "By operation", found.operations),
        ("phase", "By phase, in all jobs", found.by_phase),
        ("family", "By family", found.families),
        ("lead", "By whoever led", found.leads),
        ("before", "The months before", found.before),
    )
    if not any(lines for _, _, lines in groups):
        return
    yield Heading("How near the estimates came", id="accuracy")
    yield Words(HOW_TO_READ, note=True)
    for key, caption, lines in groups:
        enough = tuple(one for one in lines if one.accuracy.enough)
        few = tuple(one for one in lines if not one.accuracy.enough)
        if enough:
            yield _lines(found, rows, key, caption, enough)
        if few:
            told = f"{caption}: too few to say more"
            yield _lines(found, rows, f"{key}-few", told, few, folded=True)


def _lines(
    found: Month, rows: Rows, name: str, caption: str, lines: tuple[AccuracyLine, ...], *,
    folded: bool = False,
) -> Table:  # fmt: skip
    key = name.partition("-")[0]
    return Table(
        caption, (FIRST[key], "Times" if key == "phase" else "Jobs", *LINE_HEADS),
        tuple(_line(found, rows, key, f"{name}-{n}", one) for n, one in enumerate(lines)),
        figures=(1, 2, 3, 8), id=f"table-{name}", sorts=True, folded=folded,
    )  # fmt: skip


def _line(found: Month, rows: Rows, key: str, here: str, one: AccuracyLine) -> Row:
    all_of = one.accuracy
    plain_name = key in ("kind", "lead", "before") or one.key == one.name
    name = one.name if plain_name else f"{one.key} {one.name}"
    cells = (
        name, str(all_of.jobs), f"{tenth(all_of.labour_h)} h",
        f"{tenth(all_of.estimate_h)} h", off(all_of.bias.value) if all_of.bias else NOTHING,
        ranged(all_of.miss),
        of(all_of.within), of(all_of.cautious), f"{tenth(all_of.lost_h)} h", one.says,
    )  # fmt: skip
    bias, miss = all_of.bias, all_of.miss
    keys = (
        "", "", f"{all_of.labour_h:.4f}", f"{all_of.estimate_h:.4f}",
        f"{bias.value if bias else 0:.4f}", f"{miss.value if miss else 0:.4f}",
        f"{all_of.within.share if all_of.within else 0:.4f}",
        f"{all_of.cautious.share if all_of.cautious else 0:.4f}", f"{all_of.lost_h:.4f}", "",
    )  # fmt: skip
    there = rows.add(_made_of(found, key, one), here, f"{FIRST[key]} {name}: what it took", "h")
    return Row(cells, links=("", there, *[""] * 8), keys=keys)


def _made_of(found: Month, key: str, one: AccuracyLine) -> tuple[Way, ...]:
    """The jobs of a line, or the phases of one code; months before have theirs elsewhere."""
    if key == "before":
        return ()
    if key == "phase":
        return tuple(
            Way(f"{each.name}, told {tenth(each.estimate_h)} h", each.labour_h, job=each.job,
                phase=each.phase, badge=each.badge, at=each.finished_at,
                events=tuple(clock.seq for clock in each.clocks))
            for each in found.phases if each.code == one.key and not each.small
        )  # fmt: skip
    return tuple(
        Way(f"{each.work}, told {'-' if each.estimate_h is None else tenth(each.estimate_h)} h",
            each.labour_h, job=each.job, badge=each.lead, at=each.closed_at)
        for each in found.jobs if each.job in one.jobs
    )  # fmt: skip


def _promises(found: Month, rows: Rows) -> Iterator[Block]:
    kept, changes = found.promises, found.changes
    yield Heading("Promises and what changed the estimates", id="promises")
    late = rows.add(kept.late, "late", "Promises that were not kept, hours late", "h")
    yield Words(kept.says, link=late)
    if kept.likely is not None and kept.due is not None:
        yield Words(
            f"Promises given at a chance: {of(kept.likely)} held; their chances said "
            f"{percent(kept.due)}.",
            note=True,
        )
    lines = (
        ("Extra work that was agreed", changes.extra_h, changes.extra, "extra"),
        ("Changed routes", changes.route_h, changes.route, "route"),
        ("Left out, or taken back", changes.other_h, changes.other, "other"),
    )
    if any(ways for _, _, ways, _ in lines):
        yield Table(
            "What changed the hours agreed after they were first agreed",
            ("Why", "Changes", "Hours"),
            tuple(
                Row((why, str(len(ways)) if ways else NOTHING, f"{hours_:+.1f} h"),
                    links=("", "", rows.add(ways, f"change-{key}", why, "h")))
                for why, hours_, ways, key in lines
            ),
            figures=(1, 2),
        )  # fmt: skip

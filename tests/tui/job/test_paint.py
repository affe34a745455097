from __future__ import annotations

from dataclasses import replace

import pytest
from rich.cells import cell_len

from store.views.values import JobCard, Worker
from tests.tui.made import on
from tests.tui.made_card import card, phase, step, van_card
from tests.tui.made_told import told_card
from tui.colours import Paint
from tui.job.paint import job_canvas, job_last_scroll, job_lines, job_page
from tui.job.state import JobState
from tui.signs import ASCII, UNICODE, Signs

SIZES = [(60, 20), (80, 24), (112, 30), (120, 40), (180, 40), (200, 50)]
LONG = "変速機 é́ 👩‍🔧 a name as long as nobody has one " * 6


def awkward() -> JobCard:
    made = told_card()
    return replace(
        made,
        job=replace(made.job, vehicle=LONG, work=LONG, family=LONG, number=LONG),
        phases=tuple(
            replace(
                each, name=LONG, people=("B-" + LONG,), note=LONG, labour_h=400.0,
                steps=tuple(
                    replace(
                        one, text=LONG, limits=(LONG,),
                        signed=tuple(
                            replace(name, name=LONG, readings=((LONG, 1e9),), void_why=LONG,
                                    as_is=LONG)
                            for name in one.signed
                        ),
                    )
                    for one in each.steps
                ),
            )
            for each in made.phases
        ),
        supplements=tuple(
            replace(each, text=LONG, asked_by=LONG, answered_by=LONG) for each in made.supplements
        ),
        open_conditions=(LONG, LONG),
        ledger=tuple(replace(line, who=LONG, says=LONG) for line in made.ledger),
        estimate_changes=tuple(replace(each, cause=LONG) for each in made.estimate_changes),
        options=((LONG, LONG),),
        findings=tuple(
            replace(each, text=LONG, who=LONG, became=LONG, line=None) for each in made.findings
        ),
        notes=tuple(replace(each, text=LONG, who=LONG) for each in made.notes),
        kits=tuple(replace(each, name=LONG, phases=(LONG,)) for each in made.kits),
        promises=tuple(replace(each, who=LONG) for each in made.promises),
        workers=(Worker("B-" + LONG, LONG, LONG),),
    )  # fmt: skip


def whole(of: JobCard, width: int = 120) -> str:
    return "\n".join(job_canvas(of, (width, 90), UNICODE, JobState()).text())


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", [(30, 10), *SIZES])
def test_a_card_has_exactly_its_size(size: tuple[int, int], signs: Signs) -> None:
    bare = replace(
        card(), phases=(), supplements=(), open_conditions=(), estimate_changes=(), ledger=(),
        job=replace(card().job, phase=None, promise=None, finish=None, hold=None, labels=(),
                    past=(), ahead=(), finish_quantiles=(), in_since=None, place=None),
    )  # fmt: skip
    for each in (card(), van_card(), told_card(), awkward(), bare):
        for scroll in (0, 7, 10_000):
            canvas = job_canvas(each, size, signs, JobState(scroll=scroll))
            assert [cell_len(line) for line in canvas.text()] == [size[0]] * size[1]


def test_the_ascii_card_is_ascii() -> None:
    assert "".join(job_canvas(card(), (120, 60), ASCII, JobState()).text()).isascii()


def test_scrolling_shows_every_line_once() -> None:
    size = (80, 24)
    last = job_last_scroll(card(), size, UNICODE)
    assert last > 0
    tops = [
        job_canvas(card(), size, UNICODE, JobState(scroll=n)).text()[3] for n in range(last + 1)
    ]
    end = job_canvas(card(), size, UNICODE, JobState(scroll=last)).text()[3:22]
    page = job_canvas(card(), (80, 90), UNICODE, JobState()).text()[3:]
    assert [*tops, *end[1:]] == page[: last + len(end)]
    assert f"{last} more lines below" in job_canvas(card(), size, UNICODE, JobState()).text()[22]
    assert job_last_scroll(card(), (80, 90), UNICODE) == 0


def test_what_is_owed_comes_first() -> None:
    rows = job_canvas(card(), (80, 24), UNICODE, JobState()).text()
    assert rows[0].startswith(" 2409 estate, six-cyl.  lift 2, in since Mon 10:00")
    assert "promised Thu 16:00 will break" in rows[1]
    assert rows[3].startswith("  ? ANSWER  broken stud: +3.5 h, 210")
    assert "asked Tue 14:10 by Ruth" in rows[4]
    assert "meanwhile: " in rows[5]
    assert "no oil in the engine" in rows[7]


def test_a_held_job_says_whose_move_it_is() -> None:
    held = replace(card(), supplements=())
    shown = whole(held)
    assert "◫ HELD    phase 3 since Tue 13:35: customer" in shown
    assert "expected Wed 16:00; next move: Ruth" in shown


def test_a_reading_outside_its_limits_and_half_a_signature_are_loud() -> None:
    steps = (
        step("3.1 end float", kind="hold point", state="out", signs=1, limits=("0.05 to 0.25 mm",)),
        step("3.2 seated", kind="hold point", state="half", signs=2),
    )
    shown = whole(replace(card(), phases=(phase("3 covers", "held", "1 1 1 1", steps=steps),)))
    assert "! READING  3.1 end float" in shown
    assert "◊ SIGN    3.2 seated" in shown


def test_bars_share_one_scale_of_hours() -> None:
    phases = (
        phase("1 short", "to come", "1 1.0 1.0 0"), phase("2 long", "to come", "4 4.0 4.0 0"),
        phase("3 over", "finished", "2 2.0 2.0 4.0"),
    )  # fmt: skip
    rows = whole(replace(card(), phases=phases)).splitlines()
    low = [
        next(row for row in rows if row[3:].startswith(name)).count("▂") for name in ("1 s", "2 l")
    ]
    assert low[1] == pytest.approx(4 * low[0], abs=2)
    over = next(row for row in rows if row[3:].startswith("3 over"))
    assert over.count("█") == pytest.approx(over.count("▒"), abs=1)
    assert over.count("┃") == 1


def test_the_sum_counts_labour_only() -> None:
    shown = whole(card())
    assert "all                       16.5 18.0 20.6 11.1 10.5   left 10.5 to 12.9" in shown
    assert "left 10.5 to 12.9; with the extra work 14.0" in shown


def test_the_estimate_is_a_staircase_with_causes() -> None:
    rows = whole(card()).splitlines()
    first = rows.index(next(row for row in rows if "how the estimate came to be" in row))
    assert rows[first + 1].split() == ["Fri", "09:12", "16.5", "book"]
    assert rows[first + 2].split()[:4] == ["Mon", "09:20", "18.0", "+1.5"]
    assert rows[first + 3].split()[:4] == ["Tue", "14:10", "21.5?", "+3.5"]


def test_proofs_say_who_signed_and_when() -> None:
    shown = whole(card())
    assert "▪ 2.4 engine locked  Per and Ines  Mon 15:20" in shown
    assert "▫ 4.6 timing read twice  within 1 degree" in shown


def test_a_signature_that_died_is_no_proof() -> None:
    made = card()
    old = made.phases[1].steps[0]
    dead = replace(old, state="open", signed=tuple(replace(s, void=True) for s in old.signed))
    phases = (made.phases[0], replace(made.phases[1], steps=(dead,)), *made.phases[2:])
    assert "Per and Ines" not in whole(replace(made, phases=phases))


def test_the_ledger_is_newest_first_and_beside_the_rest_on_wide_screens() -> None:
    rows = whole(card()).splitlines()
    first = next(n for n, row in enumerate(rows) if "ledger, newest first" in row)
    assert "asked the owner" in rows[first + 1]
    assert "signed 2.4 engine locked" in rows[first + 7]
    wide = job_canvas(card(), (200, 50), UNICODE, JobState()).text()
    assert "ledger, newest first" in wide[3]


def test_the_steps_of_the_phase_at_hand_are_listed() -> None:
    shown = whole(van_card())
    assert "steps of 4 gearbox in" in shown
    assert "▪ 4.1 Dowels checked" in shown
    assert "4.4 reading of the second stage  76 to 84 Nm" in shown


def test_a_finished_job_says_that_nothing_is_left() -> None:
    done = replace(card().job, remaining=replace(card().job.remaining, middle=0.0, cautious=0.0))
    assert "nothing left" in whole(replace(card(), job=done, supplements=()))


def test_the_promise_passed_is_still_on_the_lane() -> None:
    late = replace(card().job, promise=on("Tue 09:00"), promise_chance=0.0)
    assert "▴" in whole(replace(card(), job=late))


def test_without_colours_the_card_still_has_its_lines() -> None:
    lines = job_lines(card(), (80, 24), Paint(monochrome=True), UNICODE, JobState())
    assert len(lines) == 24
    assert "░" in "".join(segment.text for line in lines for segment in line)


def section(of: JobCard, name: str, width: int = 120) -> list[str]:
    """The rows of one section of a card, from its name to the next gap."""
    rows = whole(of, width).splitlines()
    first = next(n for n, row in enumerate(rows) if row.startswith(f" {name} "))
    end = next(n for n, row in enumerate(rows) if n > first and not row.strip())
    return [" ".join(row.split()) for row in rows[first:end]]


def test_what_is_left_of_a_phase_and_names_stand_where_there_is_room() -> None:
    narrow, roomy = whole(told_card(), 111).splitlines(), whole(told_card(), 112).splitlines()
    head = next(row.split() for row in roomy if row.startswith(" phase "))
    assert head[:6] == ["phase", "book", "est", "caut", "lab", "left"]
    assert "left" not in next(row for row in narrow if row.startswith(" phase "))
    refit = next(row.split() for row in roomy if " 6 refit " in row)
    assert refit[3:7] == ["4.0", "4.5", "5.5", "4.5"]
    assert " Per " in next(row for row in roomy if " 2 access " in row)
    assert "PE+IN+TO" in next(row for row in roomy if " 3 covers off " in row)
    assert "PE+2" in next(row for row in narrow if " 3 covers off " in row)


def test_findings_say_who_when_and_what_became_of_them() -> None:
    assert section(told_card(), "found") == [
        "found Mon 11:00 Ines advice on 2: hose is hard", "told as advice",
        "Tue 11:30 Per wrong assumption on 3: Which sprocket? separate", "in: 4b; out: 6",
        "Tue 12:10 Per surprise on 3: guide rail cracked, +0.8 h",
        "extra work 1: approved Tue 12:40",
        "Tue 13:30 Per surprise on 4: broken stud, +3.5 h", "extra work 3: waits for the word",
    ]  # fmt: skip


def test_extra_work_says_who_answered_when_by_what_means() -> None:
    rows = section(told_card(), "extra")
    assert rows[1] == "asked Tue 12:10 by Per; approved Tue 12:40 by the owner, telephone"
    assert rows[3] == "asked Tue 12:20 by Ruth; refused Tue 12:40 by the owner, telephone"
    assert rows[5] == "asked Tue 14:10 by Ruth; waits for the word"


def test_notes_of_the_job_and_of_phases_stand_together() -> None:
    assert section(told_card(), "notes") == [
        "notes Mon 08:10 Ruth wants the old parts back",
        "Mon 16:20 Per 2 took longer: rust on every bolt",
    ]


def test_every_reading_stands_with_its_positions_limits_and_fate() -> None:
    shown = "\n".join(section(told_card(), "signed"))
    assert "front 0.21, rear 0.12 limits crank end float 0.05 to 0.3 mm" in shown
    assert "Tue 09:40 Per front 0.42, rear 0.12 outside its limits" in shown
    assert "Tue 10:05 Per front 0.21, rear 0.12" in shown
    assert "front 0.2, rear 0.2 void Tue 08:02: 3 opened again: seal was not seated" in shown
    assert "2.3 outside its limits let stand: within the maker's used limit" in shown
    assert "3.3 which sprocket? Per Tue 11:30 separate" in shown


def test_limits_that_find_no_room_beside_a_reading_stand_under_it() -> None:
    rows = section(told_card(), "signed", 80)
    assert "limits crank end float 0.05 to 0.3 mm" in rows


def test_every_promise_stands_with_who_told_it() -> None:
    assert section(told_card(), "promised") == [
        "promised Fri 09:20 Ruth Wed 16:00, told as likely 8 in 10",
        "Mon 17:00 Ruth Thu 16:00",
    ]


def test_kits_say_whose_they_are_and_what_for() -> None:
    assert section(told_card(), "kits") == [
        "kits locking set for the engine code hired in use phases 2, 3 and 6",
        "straight edge and depth gauge owned to come phase 4",
        "sprocket puller hired not needed",
    ]


def test_sections_without_anything_are_not_there() -> None:
    made = told_card()
    bare = replace(made, findings=(), supplements=(), notes=(), promises=(), kits=())
    for name in ("found", "extra", "notes", "promised", "kits"):
        assert not any(row.startswith(f" {name} ") for row in whole(bare).splitlines())


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40), (200, 50)])
def test_every_section_is_reached_and_what_lies_below_is_named(size: tuple[int, int]) -> None:
    made = told_card()
    page = job_page(made, size[0], UNICODE, None)
    starts = page.starts(size[1])
    assert starts[0] == 0
    assert starts[-1] == page.last_scroll(size[1])
    named = {name for sheet in page.sheets for name, _ in sheet.marks}
    assert named >= {"phases", "estimate", "found", "extra", "notes", "signed", "promised",
                     "kits", "lane", "ledger"}  # fmt: skip
    for name, row in page.sheets[0].marks:
        shown = job_canvas(made, size, UNICODE, JobState(scroll=min(row, starts[-1]))).text()
        top = "\n".join(shown[3 : size[1] - 2])
        words = {"phases": "phase ", "estimate": "how the estimate", "lane": "along working time",
                 "steps": "steps of", "ledger": "ledger, newest"}  # fmt: skip
        assert words.get(name, f" {name} ") in top


def test_what_stops_one_phase_and_those_behind_it_is_said_once() -> None:
    phases = (
        phase("0 check", "held", "1 1 1 0", held_h=2.0, blocked_by="sign 1.2 first"),
        phase("1 covers", "under way", "1 1 1 0", blocked_by="sign 1.2 first"),
        phase("2 chain", "to come", "1 1 1 0", blocked_by="sign 1.2 first"),
        phase("3 refit", "to come", "1 1 1 0", blocked_by="sign 2.1 first"),
    )
    shown = whole(replace(card(), phases=phases))
    assert shown.count("sign 1.2 first") == 1
    assert shown.count("sign 2.1 first") == 1

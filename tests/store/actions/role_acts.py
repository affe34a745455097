"""Each act of the table of roles, done by its action."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from store.actions import (
    advice,
    books,
    calls,
    ceilings,
    clock,
    day_sheet,
    follow_ups,
    handing_over,
    history,
    holding,
    jobs,
    month_costs,
    notes,
    outwork,
    paper,
    parts,
    people,
    phases,
    places,
    settings,
    steps,
)
from store.actions.assigning import assign
from store.actions.desk import acts as desk
from store.actions.hires import asked as hires
from store.actions.hires import kit_dates, kit_let, suppliers
from store.actions.lining_up import put_in_line
from store.actions.undo import taking_back as undo
from store.edges.events.shop import WeekSpan
from store.file.change import By
from store.rules.follow_ups import ToDo
from store.rules.roles import Act
from tests.store.actions.made import BOOK, World
from tests.store.actions.role_shops import (
    advised,
    all_done,
    anothers_clock,
    asked,
    asked_kit,
    at_a_firm,
    came_back,
    decides,
    first_finished,
    half,
    held,
    here,
    known,
    newest,
    out_of_limits,
    out_of_service,
    own_clock,
    owns_link,
    raised,
    rang,
    small,
    to_phase_6,
    two_wait,
    word_wanted,
)
from tests.store.made_past import finished

Doing = Callable[[World, str, By], object]
EIGHT = [WeekSpan(days=[1, 2, 3, 4, 5], start="08:00", end="16:00")]

ACTS: dict[Act, tuple[Callable[[World, str, str], object], Doing]] = {}
"""For each act: what must be so before it (world, job, badge of whoever will act), and the act."""


Before = Callable[[World, str, str], object]


def act(name: Act, before: Before = lambda w, j, b: None) -> Callable[[Doing], Doing]:
    """Name the action that does an act of the table."""

    def keep(doing: Doing) -> Doing:
        ACTS[name] = (before, doing)
        return doing

    return keep


act("clock")(lambda w, j, by: clock.clock_on(w.shop, by, job=j, phase="1"))
act("enter clock")(
    lambda w, j, by: day_sheet.enter_clock(
        w.shop, by, where=day_sheet.Where(j, "1"), since=w.at(7), until=w.at(7, 20)
    )
)
act("put right own", own_clock)(
    lambda w, j, by: day_sheet.correct_clock(
        w.shop, by, clock=newest(w, by.badge), breaks_worked=True
    )
)
act("put right others", anothers_clock)(
    lambda w, j, by: day_sheet.correct_clock(w.shop, by, clock=newest(w, "T2"), breaks_worked=True)
)
act("confirm own day", own_clock)(
    lambda w, j, by: day_sheet.confirm_day(w.shop, by, day=date(2026, 10, 12))
)
act("confirm another's day", anothers_clock)(
    lambda w, j, by: day_sheet.confirm_day(w.shop, by, day=date(2026, 10, 12), badge="T2")
)
act("undo", own_clock)(lambda w, j, by: undo.undo(w.shop, by))
act("sign step")(lambda w, j, by: steps.sign(w.shop, by, job=j, phase="1", step="1"))
act("sign hold point", raised)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="2", step="1", readings={"gross": 2000})
)
act("sign second", half)(lambda w, j, by: steps.sign(w.shop, by, job=j, phase="2", step="3"))
act("sign as foreman", to_phase_6)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="6", step="1")
)
act("answer decision", decides)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="3", step="2", answer="A")
)
act("type limits")(
    lambda w, j, by: steps.type_limits(
        w.shop, by, job=j, phase="8", step="1", reading="nm", low=1, high=2, source="data"
    )
)
act("let reading stand", out_of_limits)(
    lambda w, j, by: steps.sign(w.shop, by, job=j, phase="2", step="3", as_is="worn, but safe")
)
act("finish phase", lambda w, j, b: w.on("T2", j, "1"))(
    lambda w, j, by: phases.finish(w.shop, by, job=j, phase="1")
)
act("hold")(lambda w, j, by: holding.hold(w.shop, by, job=j, phase="1", reason="parts"))
act("release", held)(lambda w, j, by: holding.release(w.shop, by, job=j, phase="1"))
act("release customer's word", asked)(
    lambda w, j, by: holding.release(w.shop, by, job=j, phase="1")
)
act("report finding")(
    lambda w, j, by: holding.find(w.shop, by, job=j, phase="1", kind="advice", text="worn")
)
act("answer supplement", asked)(
    lambda w, j, by: holding.answer_supplement(w.shop, by, job=j, approve=True)
)
act("skip phase")(lambda w, j, by: phases.skip(w.shop, by, job=j, phase="1", reason="done"))
act("reopen phase", first_finished)(lambda w, j, by: phases.reopen(w.shop, by, job=j, phase="1"))
act("take job")(
    lambda w, j, by: jobs.take(w.shop, by, operations=["TC"], family="B4-M-F", vehicle="x")
)
act("take small job")(lambda w, j, by: jobs.take_small(w.shop, by, text="lamp", vehicle="x"))
act("promise")(lambda w, j, by: jobs.promise(w.shop, by, job=j, at=w.at(12, 0, 5)))
act("move job")(lambda w, j, by: places.move(w.shop, by, job=j, place="Y", lift=False))
act("close job", all_done)(lambda w, j, by: jobs.close(w.shop, by, job=str(int(j) + 1)))
act("close small job", small)(lambda w, j, by: jobs.close(w.shop, by, job=str(int(j) + 1)))
act("hand over", all_done)(lambda w, j, by: handing_over.hand_over(w.shop, by, job=str(int(j) + 1)))
act("follow up")(
    lambda w, j, by: follow_ups.set_follow_ups(
        w.shop, by, job=j, lines=[ToDo("ring", "foreman", date(2026, 11, 1))]
    )
)
act("note call")(lambda w, j, by: calls.note_call(w.shop, by, job=j, means="letter", reached=True))
act("set ceiling", word_wanted)(
    lambda w, j, by: ceilings.set_ceiling(
        w.shop, by, job=str(int(j) + 1), ceiling=999, told_by="customer", means="letter"
    )
)
act("answer advice", word_wanted)(
    lambda w, j, by: advice.answer_advice(
        w.shop, by, job=str(int(j) + 1), finding=advised(w), answer="later"
    )
)
act("send outwork", at_a_firm)(
    lambda w, j, by: outwork.chase(w.shop, by, job=str(int(j) + 1), phase="3", said="soon")
)
act("receive outwork", at_a_firm)(
    lambda w, j, by: outwork.receive(w.shop, by, job=str(int(j) + 1), phase="3")
)
act("take enquiry")(lambda w, j, by: desk.enquire(w.shop, by, vehicle="x"))
act("book arrival", rang)(
    lambda w, j, by: desk.book(w.shop, by, job=str(int(j) + 1), day=date(2026, 10, 14))
)
act("receive vehicle", rang)(lambda w, j, by: desk.arrive(w.shop, by, job=str(int(j) + 1)))
act("judge check", here)(
    lambda w, j, by: desk.judge_check(
        w.shop, by, job=str(int(j) + 1), result="fail", text="cracked"
    )
)
act("give quote", here)(lambda w, j, by: desk.quote(w.shop, by, job=str(int(j) + 1)))
act("turn job down", here)(
    lambda w, j, by: desk.turn_away(w.shop, by, job=str(int(j) + 1), why="no time")
)
act("know customer", rang)(
    lambda w, j, by: desk.know_customer(w.shop, by, job=str(int(j) + 1), name="Kim Invented")
)
act("link comeback", came_back)(
    lambda w, j, by: desk.come_back(
        w.shop, by, job=str(int(j) + 2), of=str(int(j) + 1), cause="bulb again"
    )
)
act("note job")(lambda w, j, by: notes.note(w.shop, by, job=j, text="old parts back"))
act("mark as not teaching")(
    lambda w, j, by: jobs.mark_not_teaching(w.shop, by, job=j, phase=None, why="odd")
)
act("look lift over")(lambda w, j, by: places.look_over(w.shop, by, code="1"))
act("withdraw lift")(lambda w, j, by: places.withdraw_lift(w.shop, by, code="3", reason="lock"))
act("return lift", out_of_service)(lambda w, j, by: places.return_lift(w.shop, by, code="3"))
act("record inspection")(
    lambda w, j, by: places.inspect_lift(
        w.shop, by, code="1", day=date(2026, 10, 1), months=12, source="rule", inspector="Ann"
    )
)
act("add place")(lambda w, j, by: places.add_place(w.shop, by, code="Y2", kind="yard"))
act("add person")(
    lambda w, j, by: people.add_person(w.shop, by, badge="NEW", name="New", role="technician")
)
act("change person")(lambda w, j, by: people.change_person(w.shop, by, badge="T2", name="Tom"))
act("set another's pin")(lambda w, j, by: people.set_pin(w.shop, by, badge="T2", pin="9999"))
act("set absence")(
    lambda w, j, by: people.set_absence(
        w.shop, by, badge="T2", since=w.at(8, 0, 1), until=w.at(16, 0, 1), why="school"
    )
)
act("set attendance")(
    lambda w, j, by: people.set_attendance(w.shop, by, badge="T2", day=date(2026, 10, 12), hours=4)
)
act("set calendar")(lambda w, j, by: settings.set_calendar(w.shop, by, shifts=EIGHT, breaks=[]))
act("set rate")(lambda w, j, by: settings.set_rate(w.shop, by, per_hour=100))
act("change setting")(
    lambda w, j, by: settings.change_setting(w.shop, by, name="cautious", value=0.9)
)
act("load work book")(
    lambda w, j, by: books.load_workbook(
        w.shop, by, source=BOOK.replace("Small shop", "Small shop, again")
    )
)
act("set costs")(
    lambda w, j, by: month_costs.set_costs(w.shop, by, month="2026-10", wages=9000, overheads=4000)
)
act("import history")(
    lambda w, j, by: history.import_history(w.shop, by, records=[finished()], source="old.csv")
)
act("erase customer", known)(
    lambda w, j, by: settings.erase_customer(w.shop, by, customer="c-00000001")
)
act("allow signing alone")(
    lambda w, j, by: people.allow_alone(w.shop, by, codes=["LK"], reason="shop of one")
)


act("enter day from paper")(
    lambda w, j, by: paper.enter_day(
        w.shop, by, badge="T2", day=date(2026, 10, 12),
        rows=[paper.PaperRow(day_sheet.Where(j, "1"), w.at(7), w.at(7, 20))],
    )
)  # fmt: skip
act("assign")(lambda w, j, by: assign(w.shop, by, job=j, phase="1", badge="T2"))
act("take work on")(lambda w, j, by: assign(w.shop, by, job=j, phase="1", badge=by.badge))


act("order line", two_wait)(
    lambda w, j, by: put_in_line(w.shop, by, job=str(int(j) + 2), before=str(int(j) + 1))
)


act("list parts")(lambda w, j, by: parts.list_parts(w.shop, by, job=j, texts=["seal"]))
act("bring in unready", lambda w, j, b: w.take(lift=None))(
    lambda w, j, by: places.move(w.shop, by, job=str(int(j) + 1), place="2", lift=True)
)
act("hire kit")(lambda w, j, by: hires.ask(w.shop, by, kit="link", supplier="Loan", job=j))
act("know supplier")(lambda w, j, by: suppliers.know(w.shop, by, name="Loan", late=2))
act("date kit", owns_link)(
    lambda w, j, by: kit_dates.know_date(
        w.shop, by, kit="link", until=date(2027, 3, 1), source="its label"
    )
)
act("let begin without kit", asked_kit)(
    lambda w, j, by: kit_let.let(w.shop, by, job=j, phase="4", why="by hand")
)
act("receive kit", asked_kit)(
    lambda w, j, by: hires.receive(w.shop, by, kit="link", due=w.at(12, 0, 3))
)

"""Each writing command beside the acts of the table of roles that it does, and a shop for it.

A line holds `{j}` for a job on lift 1, `{k}` and `{m}` for the two after it, `{b}` for whoever
acts, `{c}` for their newest clock, `{o}` for T2's, `{f}` for a folder with files.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from store.actions import clock, follow_ups, parts, settings, supplements
from store.actions.desk import acts as desk
from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from store.rules.follow_ups import ToDo
from store.rules.roles import Act
from tests.store.actions import role_shops as so
from tests.store.actions.made import World
from tests.store.actions.role_acts import ACTS, Before
from tests.store.actions.undone_outside import within
from tests.store.made_calls import to_firm
from tests.store.made_desk import arrived, with_checks


@dataclass(frozen=True, slots=True)
class Row:
    """One act by one command.

    Attributes:
        act: of the table of roles.
        line: the command with its values.
        before: what must be so; else what the action's own test needs.
        each: it must be so for each person who tries.
        pin: the command takes the PIN though the act does not.
        waits: the first job stands on no lift.
        more: lines of standard input after the PIN.
        who: what is said of who may, where it is said otherwise.
    """

    act: Act
    line: str
    before: Before | None = None
    each: bool = False
    pin: bool = False
    waits: bool = False
    more: str = ""
    who: str = ""

    def prepare(self, world: World, job: str, badge: str) -> None:
        """Make so what must be so."""
        before = self.before or ACTS[self.act][0]
        before(world, job, badge)


Make = Callable[[World, str], object]


def made(make: Make) -> Before:
    """What must be so, whoever acts."""
    return lambda w, j, b: make(w, j)


def _runs(w: World, _job: str, badge: str) -> None:
    clock.clock_indirect(w.shop, w.by(badge), reason="tidying")


def _away(w: World, job: str, badge: str) -> None:
    _runs(w, job, badge)
    clock.clock_away(w.shop, w.by(badge))


def _listed(w: World, job: str) -> None:
    parts.list_parts(w.shop, w.by("T2"), job=job, texts=["seal"])


def _asked_part(w: World, job: str) -> None:
    parts.move_parts(w.shop, w.by("T2"), job=job, lines=[1], state="ordered")


def _part_here(w: World, job: str) -> None:
    parts.move_parts(w.shop, w.by("T2"), job=job, lines=[1], state="here")


def _answered(w: World, job: str) -> None:
    so.asked(w, job, "")
    supplements.answer_supplement(w.shop, w.by("FOR"), job=job, approve=True)


def _follows(w: World, job: str) -> None:
    line = ToDo("ring", "foreman", w.at(8, 0, 30).date())
    follow_ups.set_follow_ups(w.shop, w.by("T2"), job=job, lines=[line])


def _quoted(w: World, _job: str) -> None:
    with_checks(w)
    number = arrived(w, "LA")
    desk.quote(w.shop, w.by("FOR"), job=number)


def _loan(w: World, _job: str) -> None:
    suppliers.know(w.shop, w.by("FOR"), name="Loan")


def _holiday(w: World, _job: str) -> None:
    settings.set_holiday(w.shop, w.by("OWN"), day=w.at(8, 0, 60).date(), name="Fair")


def _here_kit(w: World, job: str) -> None:
    so.asked_kit(w, job, "")
    hires.receive(w.shop, w.by("T2"), kit="link", due=w.at(12, 0, 3))


def _lacks(w: World, job: str) -> None:
    so.asked_kit(w, job, "")
    hires.receive(w.shop, w.by("T2"), kit="link", missing=["pin"], due=w.at(12, 0, 3))


def _sent(w: World, job: str) -> None:
    suppliers.know(w.shop, w.by("FOR"), name="Loan")
    suppliers.offer(w.shop, w.by("FOR"), kit="link", supplier="Loan", day=20, deposit=200)
    _here_kit(w, job)
    hires.send_back(w.shop, w.by("T2"), kit="link")


def _firm_begun(w: World, _job: str) -> None:
    number = within(w)
    supplements.answer_supplement(w.shop, w.by("FOR"), job=number, approve=False)
    to_firm(w, number)


def _nothing(_w: World, _job: str) -> None: ...


ROWS: tuple[Row, ...] = (
    Row("clock", "clock on {j}.1"),
    Row("clock", "clock over {j}.1", _runs, each=True),
    Row("clock", "clock off", _runs, each=True),
    Row("clock", "clock away", _runs, each=True),
    Row("clock", "clock back", _away, each=True),
    Row("clock", "clock indirect tidying"),
    Row("put right others", "clock over {j}.1 --of T2", lambda w, j, b: _runs(w, j, "T2")),
    Row("enter clock", "clock enter tidying --from 2026-10-12T07:00 --until 2026-10-12T07:20"),
    Row("put right others",
        "clock enter tidying --of T2 --from 2026-10-12T07:00 --until 2026-10-12T07:20"),
    Row("put right own", "correct {c} --breaks-worked", each=True),
    Row("put right others", "correct {o} --breaks-worked"),
    Row("confirm own day", "day {b} --date 2026-10-12 --confirm", each=True),
    Row("confirm another's day", "day T2 --date 2026-10-12 --confirm"),
    Row("put right own", "day {b} --date 2026-10-12 --attended 4", made(_nothing)),
    Row("set attendance", "day T2 --date 2026-10-12 --attended 4"),
    Row("enter clock", 'paper {b} "tidying 07:00-07:20" --date 2026-10-12'),
    Row("enter day from paper", 'paper T2 "tidying 07:00-07:20" --date 2026-10-12'),
    Row("undo", "undo", each=True),
    Row("sign step", "sign {j}.1.1"),
    Row("sign hold point", "sign {j}.2.1 --reading gross=2000"),
    Row("sign second", "sign {j}.2.3"),
    Row("sign as foreman", "sign {j}.6.1"),
    Row("answer decision", "sign {j}.3.2 --answer A"),
    Row("let reading stand", 'sign {j}.2.3 --as-is "worn, but safe"'),
    Row("type limits", "limits {j}.8.1 nm --low 1 --high 2 --source data"),
    Row("finish phase", "finish {j}.1"),
    Row("hold", "hold {j}.1 --reason parts"),
    Row("release", "release {j}.1"),
    Row("release customer's word", "release {j}.1"),
    Row("report finding", "finding {j}.1 --kind advice --text worn"),
    Row("answer supplement", "supplement approve {j}"),
    Row("answer supplement", "supplement refuse {j}"),
    Row("answer supplement", "supplement note {j} --by customer --means letter", made(_answered)),
    Row("skip phase", "skip {j}.1 --reason done"),
    Row("reopen phase", "reopen {j}.1"),
    Row("take job", "take --operation TC --family B4-M-F --vehicle x"),
    Row("take small job", "small --text lamp --vehicle x"),
    Row("promise", "promise {j} 2026-10-17T12:00"),
    Row("move job", "move {j} --place Y", waits=True),
    Row("move job", "clear 1 --place Y", so.held),
    Row("bring in unready", "move {k} --lift 2", who="ask a foreman or the owner to do it"),
    Row("close job", "close {k}"),
    Row("close small job", "close {k}"),
    Row("hand over", "handover {k}"),
    Row("note job", 'note {j} "old parts back"'),
    Row("mark as not teaching", "mark {j} --why odd"),
    Row("look lift over", "lift look 1"),
    Row("withdraw lift", "lift withdraw 3 --reason lock"),
    Row("return lift", "lift return 3"),
    Row("record inspection",
        "lift inspect 1 --date 2026-10-01 --months 12 --source rule --by Ann"),
    Row("add place", "lift add 9 --kind two-post --kg 3000"),
    Row("add place", "place add Y2 --kind yard"),
    Row("add person", "people add NEW --name New --role technician"),
    Row("change person", "people change T2 --name Tom"),
    Row("change person", "people qualify T2 --for welding --until 2027-01-01"),
    Row("set own pin", "people pin {b}", made(_nothing), pin=True, more="1357\n"),
    Row("set another's pin", "people pin T2", more="1357\n"),
    Row("set absence", "people absence T2 --date 2026-10-14 --why school"),
    Row("allow signing alone", "people alone --hold-point LK --reason alone"),
    Row("set calendar", 'calendar set --shift "mon-fri 08:00-16:00"'),
    Row("set calendar", "holiday set 2026-12-25 --name Winter"),
    Row("set calendar", "holiday clear 2026-12-11", made(_holiday)),
    Row("set rate", "rate set 100"),
    Row("change setting", "setting set cautious 0.9"),
    Row("set costs", "costs 2026-10 --wages 9000 --overheads 4000"),
    Row("load work book", "workbook load {f}/again.toml"),
    Row("load work book", "workbook set W2 --hours 0.2,0.4,0.6"),
    Row("load work book", "workbook copy WP WPV --name vans"),
    Row("load work book", 'workbook new BR brakes --phases "strip 1, renew 1.5"'),
    Row("load work book", 'workbook rename WP "pump, all vans"'),
    Row("load work book", "workbook drop WP"),
    Row("load work book", "workbook part WP gasket --phase W2"),
    Row("import history", "history import {f}/past.csv"),
    Row("erase customer", "erase c-00000001"),
    Row("take enquiry", "enquiry --vehicle x"),
    Row("take enquiry", "work {k} --operation WP --family B4-M-F", so.rang),
    Row("know customer", 'customer {k} --name "Kim Invented"'),
    Row("book arrival", "book {k} 2026-10-14"),
    Row("receive vehicle", "arrive {k}"),
    Row("receive vehicle", 'vehicle {k} --plate "AB 12"', so.rang),
    Row("judge check", "qualify {k} --result fail --text cracked"),
    Row("give quote", "quote {k}"),
    Row("take job", "agree {k} --basis time --means telephone --by customer", made(_quoted)),
    Row("turn job down", "turn-away {k} --why late"),
    Row("turn job down", "decline {k} --why dear", made(_quoted)),
    Row("link comeback", 'comeback {m} --of {k} --cause "bulb again"'),
    Row("note call", "call {j} --means letter --reached"),
    Row("set ceiling", "ceiling {k} 999 --by customer --means letter"),
    Row("answer advice", "advice {k} 1 --answer later"),
    Row("send outwork",
        'outwork send {k}.3 --what head --firm "Facing Works" --promised 2026-10-14',
        made(_firm_begun)),
    Row("send outwork", "outwork chase {k}.3 --said soon"),
    Row("receive outwork", "outwork back {k}.3"),
    Row("follow up", "followups set {j} --what ring --day 2026-11-01"),
    Row("follow up", "followups move {j} --line 1 --day 2026-11-20", made(_follows)),
    Row("follow up", "followups done {j} --line 1 --outcome well", made(_follows)),
    Row("follow up", "followups drop {j} --line 1 --why sold", made(_follows)),
    Row("list parts", "parts add {j} seal"),
    Row("list parts", "parts ordered {j} 1", made(_listed)),
    Row("list parts", "parts here {j} 1", made(_asked_part)),
    Row("list parts", "parts wrong {j} 1", made(_part_here)),
    Row("list parts", "parts returned {j} 1", made(_part_here)),
    Row("list parts", "parts fitted {j} 1", made(_part_here)),
    Row("list parts", "parts drop {j} 1", made(_listed)),
    Row("hire kit", "hire ask link --supplier Loan --job {j}"),
    Row("hire kit", "hire extend link --due 2026-10-19", made(_here_kit)),
    Row("hire kit", "hire give link --to any", made(_here_kit)),
    Row("hire kit", "hire cancel link", so.asked_kit),
    Row("hire kit", "hire deposit link --amount 150", made(_sent)),
    Row("hire kit", "hire invoice link --amount 150", made(_sent)),
    Row("receive kit", "hire receive link --due 2026-10-15"),
    Row("receive kit", "hire mend link --note found", made(_lacks)),
    Row("receive kit", "hire return link", made(_here_kit)),
    Row("receive kit", "hire arrived link", made(_sent)),
    Row("know supplier", "supplier Loan --late 2"),
    Row("know supplier", "hire terms link --supplier Loan --day 20", made(_loan)),
    Row("know supplier", "kit price link --buy 640"),
    Row("date kit", 'kit date link --until 2027-03-01 --source "its label"'),
    Row("let begin without kit", "hire let {j}.4 --why hands"),
    Row("assign", "assign {j}.1 T2"),
    Row("take work on", "assign {j}.1 {b}"),
    Row("order line", "line {m} --before {k}"),
)  # fmt: skip
"""In the order of the table of roles, nearly."""

ELSEWHERE: Mapping[str, str] = {
    "init": "founds a shop in which nobody is yet",
    "batch": "runs the others",
    "workbook adopt": "needs what was learned: its own test tries who may",
}
"""Commands that take a PIN and stand in no row, and why."""

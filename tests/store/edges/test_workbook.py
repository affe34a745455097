"""Every kind of fault of a work book is found, with its line, all in one run."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.edges.workbook.model import BadWorkBook, check, load
from store.rules.book import Hours, Phase, Use

GOOD = """\
name = "Test book"

[families.axles]
F = "front driven"
R = "rear driven"

[[condition]]
code = "no-oil"
text = "no oil"
forbids = "first-start"

[[kit]]
code = "locks"
name = "locking set"
owned = false

[[shared_step]]
code = "HF"
kind = "hold point"
text = "Fluids in"
blocks = "first-start"
closes = "no-oil"

[[access]]
code = "GB"
name = "gearbox"
[access.off]
hours = [1.7, 2.4, 4.0]
after = "fixed"
[access.on]
hours = [2.0, 2.8, 4.3]

[[phase]]
code = "G0"
hours = 0.5
place = "road"

[[phase]]
code = "W"
hours = [1, 2, 3]
kit = ["locks"]

[[phase.step]]
text = "Oil out"
opens = "no-oil"

[[phase.step]]
code = "float"
kind = "hold point"
text = "End float"
signs = 2
blocks = ["GB-on"]
[[phase.step.reading]]
code = "float"
text = "end float"
unit = "mm"
positions = ["front", "rear"]
low = 0.05
high = 0.25

[[phase.step]]
code = "build"
kind = "decision"
text = "Which build?"
[[phase.step.answer]]
code = "A"
text = "as planned"
odds = "17 in 20"
sets = { build = "A" }
[[phase.step.answer]]
code = "B"
text = "less"
odds = "3 in 20"
sets = { build = "B" }

[[phase]]
code = "X"
hours = 1.0

[[phase]]
code = "END"
hours = 0.8
[[phase.step]]
use = "HF"

[[operation]]
code = "OP"
name = "the operation"
route = [
    "G0",
    "GB-off",
    "W",
    { phase = "X", when = { option = { build = "A" } } },
    "GB-on",
    "END",
]
[[operation.option]]
code = "build"
text = "which build"
values = ["A", "B"]
assume = "A"
[[operation.surprise]]
code = "stud"
phase = "W"
text = "stud breaks"
odds = "1 in 8"
hours = 0.9
[[operation.neighbour]]
code = "seal"
phase = "W"
text = "seal"
odds = "1 in 4"
hours = 0.5
[[operation.part]]
text = "seal"
phase = "W"

[[operation.follow_up]]
what = "oil changed early"
days = 28
distance = 1500
when = { grade = 3 }

[[reduction]]
beside = "X"
phases = ["W"]
factor = 0.75
"""

SECOND = """
[[access]]
code = "PS"
name = "shaft"
[access.off]
hours = 1
[access.on]
hours = 1
[[operation]]
code = "ONE"
name = "one"
route = ["PS-off", "GB-off", "GB-on", "PS-on"]
[[operation]]
code = "TWO" #!
name = "two"
route = ["GB-off", "PS-off", "PS-on", "GB-on"]
"""


def marked(text: str) -> int:
    """Line of the marker."""
    return next(i for i, line in enumerate(text.splitlines(), 1) if "#!" in line)


def changed(old: str, new: str) -> str:
    assert GOOD.count(old) == 1, f"{old!r} is there {GOOD.count(old)} times"
    return GOOD.replace(old, new)


def test_the_good_book_has_no_fault() -> None:
    assert check(GOOD) == ()
    book = load(GOOD)
    assert list(book.phases) == ["GB-off", "GB-on", "G0", "W", "X", "END"]
    assert book.phases["G0"].hours == Hours(0.385, 0.5, 0.7)


def test_three_phases_and_nothing_else_are_a_book() -> None:
    phases = "".join(f'[[phase]]\ncode = "{code}"\nhours = 1\n' for code in "ABC")
    text = f'name = "B"\n{phases}[[operation]]\ncode = "O"\nname = "o"\nroute = ["A", "B", "C"]\n'
    book = load(text)
    assert book.operations["O"].route == (Use("A"), Use("B"), Use("C"))
    assert book.phases["B"] == Phase("B", "B", Hours(0.77, 1.0, 1.4))


FAULTS = [
    # what is changed, to what (the marker stands on the line that must be named), words
    ("syntax", 'kit = ["locks"]', 'kit = ["locks"\nhours = 2 #!', "brackets"),
    ("unknown key", 'after = "fixed"', 'aftr = "fixed" #!', "did you mean 'after'"),
    ("unknown table", "[[kit]]", "[[kitt]] #!", "did you mean 'kit'"),
    ("wrong type", "owned = false", 'owned = "no" #!', "must be true or false"),
    ("wrong word", 'after = "fixed"', 'after = "hangs" #!', "must be 'drives'"),
    ("wrong hours", "hours = [1.7, 2.4, 4.0]", "hours = [1.7, 2.4] #!", "[low, book, high]"),
    ("text as hours", "hours = 0.8", 'hours = "0.8" #!', "must be a number or"),
    ("missing", '[[kit]]\ncode = "locks"\n', "[[kit]] #!\n", "`code` is missing"),
    ("condition twice", "[[kit]]", '[[condition]]\ncode = "no-oil" #!\ntext = "x"\n'
     'forbids = "move"\n[[kit]]', "condition 'no-oil' is there twice"),
    ("kit twice", "[[shared_step]]", '[[kit]]\ncode = "locks" #!\nname = "x"\nowned = true\n'
     "[[shared_step]]", "kit 'locks' is there twice"),
    ("phase twice", 'code = "X"', 'code = "GB-on" #!', "phase 'GB-on' is there twice"),
    ("operation twice", "[[reduction]]", '[[operation]]\ncode = "OP" #!\nname = "x"\n'
     'route = ["G0"]\n[[reduction]]', "operation 'OP' is there twice"),
    ("step twice", 'code = "build"\nkind', 'code = "float" #!\nkind', "step 'W.float'"),
    ("answer twice", 'kind = "decision"\ntext = "Which build?"\n[[phase.step.answer]]\ncode = "A"',
     'kind = "decision"\ntext = "Which build?"\n[[phase.step.answer]]\ncode = "B"', "answer 'B'"),
    ("option twice", "[[operation.surprise]]", '[[operation.option]]\ncode = "build" #!\n'
     'text = "x"\nvalues = ["A"]\nassume = "A"\n[[operation.surprise]]', "option 'build'"),
    ("value twice", 'values = ["A", "B"]', 'values = ["A", "B", "A"] #!', "value 'A' is there"),
    ("surprise twice", "[[operation.neighbour]]", '[[operation.surprise]]\ncode = "stud" #!\n'
     'phase = "W"\ntext = "x"\nodds = 0.1\nhours = 1\n[[operation.neighbour]]', "surprise 'stud'"),
    ("code with a blank", 'code = "X"', 'code = "X 1" #!', "cannot be typed"),
    ("phase in a route", '    "GB-off",', '    "GB-of", #!', "did you mean 'GB-off'"),
    ("phase of a part", 'text = "seal"\nphase = "W"\n\n', 'text = "seal"\nphase = "V" #!\n\n',
     "no phase 'V'"),
    ("phase of a surprise", 'code = "stud"\nphase = "W"', 'code = "stud"\nphase = "Y" #!',
     "no phase 'Y'"),
    ("follow-up at no time", 'days = 28\ndistance = 1500\n', "", "needs `days`, `distance`"),
    ("follow-up at once", "days = 28", "days = 0 #!", "`days` must be 1 to"),
    ("follow-up too far", "distance = 1500", "distance = 1e9 #!", "at most 500,000 km"),
    ("follow-up of no grade", "when = { grade = 3 }", "when = { grade = 7 } #!", "write 1 to 4"),
    ("kit of a phase", 'kit = ["locks"]', 'kit = ["lock"] #!', "did you mean 'locks'"),
    ("captive to", 'kit = ["locks"]', 'kit = [{ kit = "locks", captive_to = "V" }] #!',
     "no phase 'V'"),
    ("condition of a step", 'opens = "no-oil"', 'opens = "oil" #!', "no condition 'oil'"),
    ("shared step", 'use = "HF"', 'use = "HG" #!', "no shared step 'HG'"),
    ("idle shared step", "[[shared_step]]", '[[shared_step]] #!\ncode = "Z"\ntext = "z"\n'
     "[[shared_step]]", "used nowhere"),
    ("after an unknown step", "[[operation.part]]", '[[operation.extra]]\nphase = "W"\n'
     'code = "E"\ntext = "more"\nafter = "floot" #!\n[[operation.part]]', "did you mean 'float'"),
    ("below zero", "hours = [1, 2, 3]", "hours = [-1, 2, 3] #!", "below 0"),
    ("not rising", "hours = [1, 2, 3]", "hours = [2, 1, 3] #!", "must rise"),
    ("not finite", "hours = [1, 2, 3]", "hours = [1, 2, inf] #!", "not finite"),
    ("hours for no family", "hours = [1, 2, 3]",
     'hours = [1, 2, 3]\nhours_for = [{ family = "S6", hours = 1 }] #!', "is no family"),
    ("a star in a part", "hours = [1, 2, 3]",
     'hours = [1, 2, 3]\nhours_for = [{ family = "S*6-M-R", hours = 1 }] #!', "a star ends a part"),
    ("learned from nothing", "hours = [1, 2, 3]", "hours = [1, 2, 3]\nlearned = 0.0 #!",
     "leave it out"),
    ("two as specific", "hours = [1, 2, 3]",
     'hours = [1, 2, 3]\nhours_for = [\n{ family = "S6-*-R", hours = 1 },\n'
     '{ family = "*-M-R", hours = 2 }] #!', "say equally much of S6-M-R"),
    ("hours for a family fall", "hours = [1, 2, 3]",
     'hours = [1, 2, 3]\nhours_for = [{ family = "S6-M-R", hours = [3, 2, 1] }] #!', "must rise"),
    ("no hours", 'code = "X"\nhours = 1.0', 'code = "X"', "either `hours` or"),
    ("days for labour", "hours = 1.0", 'kind = "labour"\ndays = 1 #!', "write `hours`"),
    ("surprise below zero", "hours = 0.9", "hours = -0.9 #!", "0 or more"),
    ("odds above one", 'odds = "1 in 8"', 'odds = "9 in 8" #!', "from 0 to 1"),
    ("odds in prose", 'odds = "1 in 8"', 'odds = "often" #!', '"1 in 12"'),
    ("answers add up", 'odds = "3 in 20"', 'odds = "4 in 20"', "add to 1.05"),
    ("blocks nothing", 'blocks = ["GB-on"]\n', "", "blocks nothing"),
    ("blocks an unknown phase", 'blocks = ["GB-on"]', 'blocks = ["GB-no"] #!', "phase or deed"),
    ("blocks what came before", 'blocks = ["GB-on"]', 'blocks = ["G0"] #!', "never comes after"),
    ("signs", "signs = 2", "signs = 3 #!", "write 1 or 2"),
    ("limits the wrong way", "low = 0.05", "low = 0.5 #!", "swap them"),
    ("positions alike", 'positions = ["front", "rear"]', 'positions = ["a", "a"] #!',
     "'a' is there"),
    ("no limit", "low = 0.05\nhigh = 0.25\n", "", "has no limit"),
    ("spread of one", 'positions = ["front", "rear"]\nlow', "spread = 0.1 #!\nlow", "two or more"),
    ("unknown option", 'sets = { build = "B" }', 'sets = { bild = "B" } #!', "'build'"),
    ("unknown value", 'sets = { build = "B" }', 'sets = { build = "C" } #!', "no value of"),
    ("no effect", '{ phase = "X", when = { option = { build = "A" } } }', '"X"', "changes nothing"),
    ("assumed value", 'assume = "A"', 'assume = "C" #!', "no value 'C'"),
    ("option in a condition", 'option = { build = "A" } } },', 'option = { bild = "A" } } }, #!',
     "'build'"),
    ("grade", 'option = { build = "A" } } },', "grade = 5 } }, #!", "write 1 to 4"),
    ("on without off", "[access.off]\nhours = [1.7, 2.4, 4.0]\nafter = \"fixed\"\n", "",
     "`on` without `off`"),
    ("on before off", '    "GB-off",\n', "", "without GB-off before it"),
    ("off and never on", '    "GB-on",\n', "", "GB-on never comes"),
    ("phase twice in a route", '    "END",', '    "END",\n    "W", #!', "there twice"),
    ("never closed", 'closes = "no-oil"\n', "", "never closed by OP"),
    ("never opened", 'text = "Oil out"\nopens = "no-oil"', 'text = "Oil out"', "opened nowhere"),
    ("contains unknown", 'code = "X"', 'code = "X"\ncontains = ["V"] #!', "no phase 'V'"),
    ("contains itself", 'code = "X"', 'code = "X"\ncontains = ["X"] #!', "contains itself"),
    ("reduces unknown", 'phases = ["W"]', 'phases = ["V"] #!', "no phase 'V'"),
    ("beside unknown", 'beside = "X"', 'beside = "V" #!', "no phase 'V'"),
    ("nothing left", "factor = 0.75", "minus = 2", "nothing would be left"),
    ("factor", "factor = 0.75", "factor = 1.5", "a factor above 0"),
    ("answers without decision", 'kind = "decision"', 'kind = "step"', "only a decision"),
    ("blocks without hold point", 'code = "float"\nkind = "hold point"', 'code = "float"',
     "only a hold point"),
    ("family part", 'F = "front driven"', '"F-1" = "front driven" #!', "family key"),
    ("two sides and hours", 'name = "gearbox"', 'name = "gearbox"\nhours = 2 #!', "two sides"),
    ("inserted from a phase", 'text = "Oil out"', 'text = "Oil out"\ninsert = "first phase" #!',
     "only a [[shared_step]]"),
]  # fmt: skip


@pytest.mark.parametrize("old, new, words", [pytest.param(*f[1:], id=f[0]) for f in FAULTS])
def test_a_fault_is_named_with_its_line(old: str, new: str, words: str) -> None:
    text = changed(old, new)
    found = [fault for fault in check(text) if words in fault]
    assert found, check(text)
    if "#!" in text:
        assert any(fault.startswith(f"line {marked(text)}: ") for fault in found), found
    with pytest.raises(BadWorkBook) as caught:
        load(text)
    assert caught.value.faults == check(text)
    assert "\n" not in str(caught.value)


def test_orders_that_contradict_each_other_are_found_in_pairs() -> None:
    text = GOOD + SECOND
    faults = check(text)
    assert len(faults) == 1
    assert faults[0].startswith(f"line {marked(text) + 2}: 'ONE' and 'TWO' cannot be merged")


def test_accesses_that_do_not_nest_are_found() -> None:
    text = GOOD + SECOND.split("[[operation]]", maxsplit=1)[0]
    text += '[[operation]]\ncode = "N"\nname = "n"\nroute = ["PS-off", "GB-off", "PS-on", "GB-on"]'
    assert any("do not nest" in fault and "PS-off" in fault for fault in check(text))


def test_all_faults_come_at_once_from_the_top_down() -> None:
    text = GOOD
    for old, new in [
        ('code = "no-oil"\ntext', 'code = "no-oil"\ntxt'),
        ("owned = false", "owned = 3"),
        ("hours = [1.7, 2.4, 4.0]", "hours = [4.0, 2.4, 1.7]"),
        ('kit = ["locks"]', "kit = [7]"),
        ("signs = 2", "signs = 9"),
        ('odds = "3 in 20"', 'odds = "2 in 20"'),
        ('    "GB-on",', '    "GB-onn",'),
        ('phases = ["W"]', 'phases = ["WW"]'),
    ]:
        assert text.count(old) == 1
        text = text.replace(old, new)
    faults = check(text)
    words = ("txt", "`text` is missing", "true or false", "must rise", "kit", "9 signatures",
             "add to 0.95", "'GB-onn'", "GB-on never comes", "'WW'")  # fmt: skip
    assert [word for word in words if not any(word in fault for fault in faults)] == []
    lines = [int(fault.removeprefix("line ").split(":")[0]) for fault in faults]
    assert lines == sorted(lines)
    assert max(lines) > 100


def test_one_wrong_list_element_does_not_move_the_lines_of_the_others() -> None:
    text = changed('    "G0",\n', "    5,\n").replace('    "END",', '    "ENDE", #!')
    faults = check(text)
    assert any(f.startswith(f"line {marked(text)}: ") and "'ENDE'" in f for f in faults), faults


def test_what_an_operation_never_comes_to_is_found() -> None:
    text = changed('code = "stud"\nphase = "W"', 'code = "stud"\nphase = "SPARE" #!')
    text = text.replace("[[reduction]]", '[[phase]]\ncode = "SPARE"\nhours = 1\n[[reduction]]')
    assert check(text) == (
        f"line {marked(text)}: phase 'SPARE' is not in the route of 'OP': name one that is, or add "
        "it to the route.",
    )


def test_a_phase_that_only_other_vehicles_need_cannot_be_blocked() -> None:
    text = changed('    "G0",\n', '    { phase = "G0", when = { axles = "F" } },\n')
    text = text.replace('option = { build = "A" }', 'axles = "R", option = { build = "A" }')
    point = '[[phase.step]]\ncode = "Z"\nkind = "hold point"\ntext = "z"\nblocks = "X" #!\n'
    text = text.replace('place = "road"\n', f'place = "road"\n{point}')
    assert check(text) == (
        f"line {marked(text)}: hold point 'Z' blocks 'X', which never comes after 'G0' in a route: "
        "name a later phase.",
    )


def test_a_closing_that_falls_away_beside_another_operation_is_found() -> None:
    text = changed('code = "X"\nhours = 1.0', 'code = "X"\nhours = 1.0\ncontains = ["LAST"]')
    text += """
[[condition]]
code = "wet"
text = "wet"
forbids = "move"
[[phase]]
code = "RAIN"
hours = 1
opens = "wet" #!
[[phase]]
code = "LAST"
hours = 1
closes = "wet"
[[operation]]
code = "OP2"
name = "x"
route = ["G0", "RAIN", "LAST"]
"""
    faults = check(text)
    assert len(faults) == 1
    assert faults[0].startswith(f"line {marked(text)}: 'wet' is opened in RAIN and never closed")
    assert "OP with OP2" in faults[0]


def test_a_condition_closed_for_one_vehicle_only_is_named_with_the_vehicle() -> None:
    text = changed('use = "HF"', 'use = "HF"\nwhen = { axles = "F" }')
    assert any("never closed" in fault and "-R" in fault for fault in check(text))


def test_a_book_without_operation_says_so() -> None:
    assert check('name = "x"') == ("line 1: `operation` is missing here: add it.",
                                   "line 1: the book has no operation: write one with "
                                   "[[operation]].")  # fmt: skip


@given(st.lists(st.sampled_from(GOOD.splitlines()), max_size=60))
def test_any_jumble_of_lines_is_answered_in_sentences(lines: list[str]) -> None:
    faults = check("\n".join(lines))
    assert faults
    assert all(re.match(r"line \d+: \S", fault) for fault in faults)


@given(st.integers(0, len(GOOD) - 1), st.integers(1, 12))
def test_a_book_with_a_hole_is_loaded_or_answered_in_sentences(at: int, length: int) -> None:
    faults = check(GOOD[:at] + GOOD[at + length :])
    assert all(re.match(r"line \d+: \S", fault) for fault in faults)

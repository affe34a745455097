"""Lines of keys in a TOML text."""

from __future__ import annotations

import tomllib
from typing import cast

from store.edges.toml_lines import line_of, lines_of

TEXT = '''# comment with [[brackets]] and = signs
top = "a # b ] = "
"quoted key" = 1

[plain.table]
list = [ # here
    "one", # comment ]
    { key = "two", more = [1,
       2] },
]
long = """
[[not.a.table]]
key = "no"
"""
dotted.key = 3

[[phase]]
code = 'A'
[phase.side]
hours = [1, 2]
[[phase.step]]
text = "1"
[[phase.step]]
text = "2"

[[phase]]
code = "B"
[[phase.step]]
text = "3"
'''


def test_every_key_stands_where_it_is_written() -> None:
    lines = lines_of(TEXT)
    expected: dict[tuple[str | int, ...], int] = {
        ("top",): 2,
        ("quoted key",): 3,
        ("plain", "table"): 5,
        ("plain", "table", "list"): 6,
        ("plain", "table", "list", 0): 7,
        ("plain", "table", "list", 1): 8,
        ("plain", "table", "list", 1, "more", 1): 9,
        ("plain", "table", "long"): 11,
        ("plain", "table", "dotted", "key"): 15,
        ("phase", 0): 17,
        ("phase", 0, "code"): 18,
        ("phase", 0, "side", "hours"): 20,
        ("phase", 0, "step", 1, "text"): 24,
        ("phase", 1): 26,
        ("phase", 1, "step", 0): 28,
    }
    assert {path: lines.get(path) for path in expected} == expected
    assert ("not", "a", "table", 0) not in lines


def test_every_path_of_the_standard_reader_is_known() -> None:
    lines = lines_of(TEXT)

    def walk(value: object, path: tuple[str | int, ...]) -> None:
        if path:
            assert path in lines
        if isinstance(value, dict):
            for key, inner in cast("dict[str, object]", value).items():
                walk(inner, (*path, key))
        if isinstance(value, list):
            for number, inner in enumerate(cast("list[object]", value)):
                walk(inner, (*path, number))

    walk({k: v for k, v in tomllib.loads(TEXT).items() if k != "plain"}, ())


def test_what_is_not_written_is_looked_for_around_it() -> None:
    lines = lines_of(TEXT)
    assert line_of(lines, ("phase", 1, "name")) == 26
    assert line_of(lines, ("nothing", 3)) == 1


def test_line_ends_of_other_systems_count_the_same() -> None:
    assert lines_of(TEXT.replace("\n", "\r\n")) == lines_of(TEXT)

"""Contrast by relative luminance, W3C Web Content Accessibility Guidelines 2.2, section
"relative luminance" and "contrast ratio", written down here from its formula."""

from __future__ import annotations

from typing import get_args

import pytest
from rich.color import Color

from tui.colours import (
    ANSI,
    DARK,
    HIGH,
    LIGHT,
    LOOKS,
    MARK_ROLES,
    TEXT_ROLES,
    Ground,
    Ink,
    Look,
    Paint,
    Role,
    choose_look,
    textual_theme,
)

XTERM = [
    "#000000",
    "#cd0000",
    "#00cd00",
    "#cdcd00",
    "#0000ee",
    "#cd00cd",
    "#00cdcd",
    "#e5e5e5",
    "#7f7f7f",
    "#ff0000",
    "#00ff00",
    "#ffff00",
    "#5c5cff",
    "#ff00ff",
    "#00ffff",
    "#ffffff",
]
VGA = [
    "#000000",
    "#aa0000",
    "#00aa00",
    "#aa5500",
    "#0000aa",
    "#aa00aa",
    "#00aaaa",
    "#aaaaaa",
    "#555555",
    "#ff5555",
    "#55ff55",
    "#ffff55",
    "#5555ff",
    "#ff55ff",
    "#55ffff",
    "#ffffff",
]
"""The 16 colours as xterm and as a VGA text screen show them by default; from memory."""
PALETTES = [(look, XTERM) for look in (DARK, LIGHT, HIGH)] + [(ANSI, XTERM), (ANSI, VGA)]


def luminance(value: str) -> float:
    def linear(part: str) -> float:
        share = int(part, 16) / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(value[n : n + 2]) for n in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def shown(look: Look, role: Role, palette: list[str]) -> str:
    value = look.values[role]
    number = Color.parse(value).number
    return value if value.startswith("#") or number is None else palette[number]


def test_contrast_agrees_with_the_ends_of_the_scale() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # known pair, memory


@pytest.mark.parametrize("look, palette", PALETTES)
@pytest.mark.parametrize("role", TEXT_ROLES)
def test_text_can_be_read_on_every_ground(look: Look, palette: list[str], role: Role) -> None:
    least = 7.0 if look is HIGH else 4.5
    grounds: tuple[Role, ...] = ("ground", "panel", "pick")
    for ground in grounds:
        assert contrast(shown(look, role, palette), shown(look, ground, palette)) >= least


@pytest.mark.parametrize("look, palette", PALETTES)
def test_marks_can_be_seen_and_the_field_can_be_read(look: Look, palette: list[str]) -> None:
    ground = shown(look, "ground", palette)
    assert all(contrast(shown(look, role, palette), ground) >= 3 for role in MARK_ROLES)
    field = shown(look, "field", palette)
    assert contrast(shown(look, "field-text", palette), field) >= 7


@pytest.mark.parametrize("look", LOOKS.values())
def test_every_look_has_every_role(look: Look) -> None:
    assert set(look.values) == set(get_args(Role))


@pytest.mark.parametrize("look", LOOKS.values())
def test_themes_name_the_roles(look: Look) -> None:
    theme = textual_theme(look)
    assert theme.variables["role-blocked"].endswith(look.values["blocked"])
    assert {f"role-{role}" for role in look.values} <= set(theme.variables)
    theme.to_color_system().generate()


def test_the_sixteen_colours_avoid_those_that_cannot_be_read() -> None:
    shaky = {"bright_black", "red"}
    assert not shaky & set(ANSI.values.values())
    assert [role for role, value in ANSI.values.items() if value == "blue"] == ["field"]


def inks() -> list[Ink]:
    grounds: tuple[Ground, ...] = get_args(Ground)
    return [
        Ink(role, bold, loud, ground)
        for role in TEXT_ROLES for bold in (True, False) for loud in (True, False)
        for ground in grounds
    ]  # fmt: skip


def test_without_colours_no_style_names_one() -> None:
    paint = Paint(DARK, monochrome=True)
    assert all(paint.style(ink).color is paint.style(ink).bgcolor is None for ink in inks())


def test_without_colours_loud_is_reversed_and_bold_and_the_field_reversed() -> None:
    paint = Paint(DARK, monochrome=True)
    loud = paint.style(Ink("blocked", loud=True))
    assert loud.reverse
    assert loud.bold
    assert paint.style(Ink("field-text", ground="field")).reverse
    assert not paint.style(Ink("dim")).reverse


def test_a_loud_word_is_written_in_the_ground_on_its_role() -> None:
    style = Paint(LIGHT).style(Ink("due", loud=True))
    assert style.color is not None
    assert style.bgcolor is not None
    assert style.color.name == LIGHT.values["ground"]
    assert style.bgcolor.name == LIGHT.values["due"]


def test_in_sixteen_colours_the_chosen_line_is_bold() -> None:
    assert Paint(ANSI).style(Ink("dim", ground="pick")).bold
    assert not Paint(DARK).style(Ink("dim", ground="pick")).bold


@pytest.mark.parametrize(
    "environ, wanted, expected",
    [
        ({"TERM": "xterm"}, None, ANSI),
        ({"TERM": "linux"}, None, ANSI),
        ({"TERM": "xterm-256color"}, None, DARK),
        ({"TERM": "xterm", "COLORTERM": "truecolor"}, None, DARK),
        ({"TERM": "xterm"}, "hoistbook-light", LIGHT),
        ({"TERM": "xterm-256color"}, "no such look", DARK),
    ],
)
def test_the_look_follows_the_terminal(
    environ: dict[str, str], wanted: str | None, expected: Look
) -> None:
    assert choose_look(environ, wanted) is expected

"""Contrast by relative luminance as the W3C defines it: Web Content Accessibility Guidelines 2.2,
"relative luminance" and "contrast ratio"; its limits are 4.5:1 for text (success criterion 1.4.3,
AA), 7:1 (1.4.6, AAA) and 3:1 for marks (1.4.11)."""

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
    return shown_value(look.values[role], palette)


def shown_value(value: str, palette: list[str]) -> str:
    """The colour that a terminal of this palette shows for a value."""
    number = Color.parse(value).number
    return value if value.startswith("#") or number is None else palette[number]


@pytest.mark.parametrize(
    "one, other, expected, within",
    [
        # the two ends, from the definition of "contrast ratio"
        ("#000000", "#ffffff", 21.0, 1e-9),
        ("#ffffff", "#ffffff", 1.0, 1e-9),
        # 4.48, which the W3C's working group decided not to round up to 4.5 (27 October 2016);
        # the lightest greys that meet 4.5 and 7 on white are published as 4.54 and 7.0
        ("#777777", "#ffffff", 4.48, 0.005),
        ("#767676", "#ffffff", 4.54, 0.005),
        ("#595959", "#ffffff", 7.0, 0.01),
        # the primaries' luminances are the formula's own weights
        ("#ff0000", "#000000", (0.2126 + 0.05) / 0.05, 1e-9),
        ("#00ff00", "#000000", (0.7152 + 0.05) / 0.05, 1e-9),
        ("#0000ff", "#000000", (0.0722 + 0.05) / 0.05, 1e-9),
    ],
)
def test_contrast_agrees_with_published_pairs(
    one: str, other: str, expected: float, within: float
) -> None:
    assert contrast(one, other) == pytest.approx(expected, abs=within)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize("look, palette", PALETTES)
@pytest.mark.parametrize("role", TEXT_ROLES)
def test_a_loud_word_can_be_read_as_well_as_the_role_itself(
    look: Look, palette: list[str], role: Role
) -> None:
    for ground in ("ground", "panel"):
        style = Paint(look).style(Ink(role, loud=True, ground=ground))
        assert style.color is not None
        assert style.bgcolor is not None
        letters, filled = (shown_value(one.name, palette) for one in (style.color, style.bgcolor))
        assert contrast(letters, filled) >= (7.0 if look is HIGH else 4.5)


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
        ({"TERM": "xterm"}, "high-contrast", HIGH),
        ({"TERM": "xterm-256color"}, "no such look", DARK),
    ],
)
def test_the_look_follows_the_terminal(
    environ: dict[str, str], wanted: str | None, expected: Look
) -> None:
    assert choose_look(environ, wanted) is expected

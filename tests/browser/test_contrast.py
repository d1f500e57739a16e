"""The inks, measured by day and by night: text 4.5 to 1, edges 3 to 1 (WCAG 2.2, 1.4.3, 1.4.11)."""

import re

import pytest

from tests.browser.gallery import ROOT

TOKENS = (ROOT / "static" / "css" / "tokens.css").read_text(encoding="utf-8")
DAY, NIGHT_OF_THE_DEVICE, NIGHT_OF_THE_VIEWER = (
    dict(re.findall(r"--([a-z0-9-]+): (#[0-9a-f]{6});", block))
    for block in re.findall(r"\{([^{}]*--paper[^{}]*)\}", TOKENS)
)
TEXT = ("ink", "ink-2", "ink-3", "worry")


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", [DAY, NIGHT_OF_THE_DEVICE], ids=["day", "night"])
@pytest.mark.parametrize("paper", ["paper", "lift"])
@pytest.mark.parametrize("ink", TEXT)
def test_words_can_be_read(theme: dict[str, str], paper: str, ink: str) -> None:
    assert contrast(theme[ink], theme[paper]) >= 4.5


@pytest.mark.parametrize("theme", [DAY, NIGHT_OF_THE_DEVICE], ids=["day", "night"])
def test_edges_of_fields_and_blanks_can_be_seen(theme: dict[str, str]) -> None:
    assert contrast(theme["rule"], theme["paper"]) >= 3
    assert contrast(theme["rule"], theme["lift"]) >= 3


@pytest.mark.parametrize("theme", [DAY, NIGHT_OF_THE_DEVICE], ids=["day", "night"])
def test_the_main_button_can_be_read(theme: dict[str, str]) -> None:
    assert contrast(theme["go"], theme["go-ink"]) >= 4.5


def test_both_nights_are_the_same_night() -> None:
    assert NIGHT_OF_THE_DEVICE == NIGHT_OF_THE_VIEWER


def test_night_has_no_bright_area_and_day_no_pure_white() -> None:
    assert luminance(NIGHT_OF_THE_DEVICE["lift"]) < 0.02
    assert luminance(DAY["paper"]) < 0.95

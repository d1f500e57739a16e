"""Every act of a form that may wait for an answer has words: nobody reads a key."""

import re

import pytest

from app.charting.airways import AIRWAY_ACTS
from app.charting.episodes import EPISODE_ACTS
from app.charting.events import EVENT_KINDS
from app.pages import liberation, place, quiet, treatments
from app.pages.act_words import ACT_WORDS, TABLES, event_choice_words
from app.pages.event_page import ENDS
from tests.house.imports import ROOT

CODES = [
    *EPISODE_ACTS,
    *AIRWAY_ACTS,
    *liberation.LABELS,
    *place.PLACE_ACTS,
    place.BACK_IN.code,
    place.TAKEN_BACK.code,
    quiet.BEGIN,
    quiet.END,
    *treatments.CODES,
]
TOLD = {"liberation", "airway", "place", "episodes", "quiet", "treatments"}
"""The pages whose forms send an act."""


@pytest.mark.parametrize("code", CODES)
def test_an_act_has_words_of_its_own(code: str):
    assert ACT_WORDS[code] != code
    assert " " in ACT_WORDS[code] or ACT_WORDS[code].istitle()


def test_no_code_means_two_things():
    every = [code for table in TABLES for code in table]
    assert len(every) == len(set(every))


def test_no_other_page_sends_an_act_that_nobody_has_words_for():
    sends = re.compile(r'\(\("act", ')
    pages = (ROOT / "app" / "pages").glob("*.py")
    assert {path.stem for path in pages if sends.search(path.read_text())} == TOLD


@pytest.mark.parametrize("kind", EVENT_KINDS.values(), ids=lambda kind: kind.code)
def test_what_is_picked_of_the_events_is_told_by_its_label(kind):
    assert event_choice_words(kind.code) == kind.label
    if kind.lasts:
        assert event_choice_words(f"{ENDS}{kind.code}") == kind.ends

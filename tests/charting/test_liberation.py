"""What a removal refuses and says in one line, and the time between one tube and the next."""

from datetime import timedelta

import pytest
from msgspec.structs import replace

from app.charting.after_tube import AFTER_TUBE
from app.charting.airways import REMOVED
from app.charting.liberation import (
    DECANNULATION,
    EXTUBATION,
    Reintubation,
    details_refused,
    interval_words,
    reintubations,
    removal_refused,
    told_in_short,
)
from app.charting.mode_families import MODE_FAMILIES
from tests.charting.rows import AT, airway, later

READY = {"breathes_now": "high_flow", "cuff_leak_ml": "180"}
OUT = replace(airway("none", AT), act=REMOVED, words="planned")


@pytest.mark.parametrize(
    ("act", "before", "words"),
    [
        (EXTUBATION, airway(), ""),
        (EXTUBATION, airway("trach"), "record a decannulation"),
        (EXTUBATION, OUT, "A patient is extubated once"),
        (EXTUBATION, None, "No tube is in place"),
        (EXTUBATION, airway("nasal_cannula"), "No tube is in place"),
        (DECANNULATION, airway("trach"), ""),
        (DECANNULATION, airway(), "No tracheostomy tube is in place"),
        (DECANNULATION, replace(OUT, category="stoma"), "No tracheostomy tube is in place"),
        (DECANNULATION, None, "No tracheostomy tube is in place"),
    ],
)
def test_only_the_tube_that_is_in_place_comes_out(act, before, words) -> None:
    found = list(removal_refused(act, before))
    assert bool(found) is bool(words)
    assert words in " ".join(found)


@pytest.mark.parametrize(
    ("act", "changed", "words"),
    [
        (EXTUBATION, {}, ""),
        (EXTUBATION, {"breathes_now": ""}, "what the patient breathes now"),
        (EXTUBATION, {"breathes_now": "wine"}, "what the patient breathes now"),
        (EXTUBATION, {"cuff_leak_ml": ""}, "why it was not tested"),
        (EXTUBATION, {"cuff_leak_ml": "", "cuff_leak_percent": "20"}, ""),
        (EXTUBATION, {"cuff_leak_ml": "", "cuff_leak_not_done": "low risk"}, ""),
        (EXTUBATION, {"cuff_leak_not_done": "low risk"}, "so it was tested"),
        (DECANNULATION, {"cuff_leak_ml": ""}, ""),
    ],
)
def test_what_a_removal_lacks_is_said(act, changed, words) -> None:
    found = list(details_refused(act, {**READY, **changed}))
    assert bool(found) is bool(words)
    assert words in " ".join(found)


def test_the_line_says_what_is_breathed_the_leak_and_what_the_checklist_lacks() -> None:
    asked = {"ready_trial": "yes", "ready_awake": "no", "stridor": "yes"}
    assert told_in_short(EXTUBATION, {**READY, **asked}) == (
        "now high flow, nasal cannula; cuff leak 180 mL; stridor; checklist: 2 of 6 answered; "
        "checklist: 1 answered no"
    )
    untested = {"breathes_now": "room_air", "cuff_leak_not_done": "low risk"}
    assert told_in_short(EXTUBATION, untested).startswith(
        "now room air; cuff leak not tested: low risk"
    )


def test_every_way_to_breathe_without_a_tube_is_a_mode_without_one() -> None:
    assert not [each for each in AFTER_TUBE.values() if MODE_FAMILIES[each.family].invasive]


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"),
        (59, "59 min"),
        (60, "1 h"),
        (61, "1 h 01 min"),
        (14 * 60, "14 h"),
        (72 * 60 - 1, "71 h 59 min"),
        (72 * 60, "3 days"),
    ],
)
def test_the_time_between_is_said_as_short_as_it_can_be(minutes: int, words: str) -> None:
    assert interval_words(timedelta(minutes=minutes)) == words


def test_a_tube_after_a_removal_is_a_reintubation_and_a_cannula_is_none() -> None:
    again = airway(at=later(hours=14))
    assert reintubations((airway(), OUT, airway("nasal_cannula", later(hours=1)))) == ()
    assert reintubations((airway(), OUT, again)) == (
        Reintubation(AT, again.observed_at, unplanned=False),
    )
    assert reintubations((airway(), again)) == ()

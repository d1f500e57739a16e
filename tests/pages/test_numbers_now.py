"""The numbers of a bed as they stand now: which are judged, and what a reader is told of the rest.

Holds under effort: PMC7385937. Only an arterial sample says how well the lung takes up oxygen.
"""

import pytest

from app.charting.facts import Assessment, Kind
from app.pages.bed import now_groups
from app.pages.corrections import was_with_the_old_height
from app.pages.grid import grid_groups
from app.pages.known import Known, known
from app.pages.series import points_of
from app.pages.shown import Beyond, Shown
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies
from tests.charting.rows import course, gas, later, row
from tests.rules.watch.scenes import POLICY, check

LARCH = UnitClock("America/New_York")


def seen(*rows: Assessment) -> Known:
    return known(course(*rows), POLICY, LARCH, later(hours=2))


def number(key: str, course_known: Known) -> Shown:
    """The newest value of a key under support, lungs or gas."""
    every = (each for group in now_groups(course_known) for each in group.numbers)
    return next(each for each in every if each.key == key)


def in_the_grid(key: str, course_known: Known) -> Shown:
    was = was_with_the_old_height(course_known.facts, Policies(POLICY).site)
    groups = grid_groups(course_known.every_row, course_known.limit_at, was=was)
    row = next(row for group in groups for row in group.rows if row.key == key)
    return row.cells[-1]


@pytest.mark.parametrize("where", [number, in_the_grid])
@pytest.mark.parametrize(
    ("more", "word", "beyond"),
    [
        ({"hold_passive": "yes"}, "over 30", Beyond.OVER),
        ({"hold_passive": "no"}, "not valid: effort", Beyond.NO),
        ({"hold_passive": None}, "passive not answered", Beyond.NO),
        ({"mode_family": "csv_ps"}, "no valid hold in this mode", Beyond.NO),
    ],
)
def test_a_plateau_is_held_to_its_limit_only_where_the_hold_was_passive(
    where, more, word, beyond
) -> None:
    held = {"plateau_pressure_obs": "33", "peak_inspiratory_pressure_obs": "40", **more}
    told = where("plateau_pressure_obs", seen(check(0, **held)))
    assert (told.text, told.word, told.beyond) == ("33", word, beyond)


def test_effort_is_said_in_the_place_of_the_driving_pressure() -> None:
    told = number("driving_pressure", seen(check(0, hold_passive="no")))
    assert (told.text, told.word) == ("", "not valid: effort")


BLOOD = {"ph": "7.15", "paco2": "60", "pao2": "42"}


@pytest.mark.parametrize(
    ("specimen", "word"),
    [
        ("venous", "venous sample"),
        ("capillary", "capillary sample"),
        ("unknown", "specimen not stated"),
        (None, "specimen not stated"),
    ],
)
@pytest.mark.parametrize("key", ["pao2", "paco2"])
def test_a_gas_that_is_not_arterial_says_so_at_each_of_its_numbers(key, specimen, word) -> None:
    named = {"gas_specimen": specimen} if specimen else {}
    drawn = row("", Kind.GAS, later(minutes=20), **named, **BLOOD)
    told = number(key, seen(check(0), drawn))
    assert (told.text, told.word.split(" · ")[0]) == (BLOOD[key], word)


@pytest.mark.parametrize(
    ("specimen", "word", "beyond"),
    [
        ("arterial", "under 7.20", Beyond.UNDER),
        ("capillary", "capillary sample, under 7.20", Beyond.UNDER),
        ("venous", "venous sample", Beyond.NO),
    ],
)
def test_a_ph_is_held_to_its_limit_unless_it_is_from_a_vein(specimen, word, beyond) -> None:
    told = number("ph", seen(check(0), gas(later(minutes=20), gas_specimen=specimen, **BLOOD)))
    assert (told.word.split(" · ")[0], told.beyond) == (word, beyond)


def gas_note(*rows: Assessment) -> str:
    return next(group.note for group in now_groups(seen(*rows)) if group.heading == "Gas")


def test_a_gas_is_told_with_its_sample_its_oxygen_and_its_support() -> None:
    drawn = gas(later(minutes=20), ph="7.40", paco2="40", pao2="80")
    told = gas_note(check(0, fio2_set="50"), drawn, check(1, fio2_set="35", mode_family="ac_pc"))
    assert told.endswith("arterial on 50 %, Volume control, assist/control")


def test_a_gas_whose_oxygen_and_support_nobody_charted_says_so() -> None:
    drawn = gas(later(minutes=20), ph="7.40", paco2="40", pao2="80")
    assert gas_note(drawn).endswith("arterial, FiO2 not known, mode not known")


def test_a_sample_of_another_time_than_most_numbers_says_its_own() -> None:
    alone = gas(later(minutes=20), gas_specimen="venous", paco2="50")
    assert ", sample of 07:50 venous on 40 %" in gas_note(check(0), alone, check(1))


def test_without_a_gas_nothing_is_said_of_a_sample() -> None:
    assert "arterial" not in gas_note(check(0))


@pytest.mark.parametrize(
    ("passive", "word", "beyond"),
    [("yes", "over 30", Beyond.OVER), ("no", "not valid: effort", Beyond.NO)],
)
def test_a_number_over_time_is_judged_as_it_is_on_the_bed(passive, word, beyond) -> None:
    held = {"plateau_pressure_obs": "33", "peak_inspiratory_pressure_obs": "40"}
    (point,) = points_of("plateau_pressure_obs", seen(check(0, hold_passive=passive, **held)))
    assert (point.shown.word, point.shown.beyond) == (word, beyond)


def test_a_gas_over_time_says_which_of_its_numbers_are_not_arterial() -> None:
    venous = gas(later(minutes=10), gas_specimen="venous", **BLOOD)
    arterial = gas(later(minutes=50), ph="7.35", paco2="45", pao2="80")
    told = [point.shown.word for point in points_of("paco2", seen(check(0), venous, arterial))]
    assert told == ["venous sample", ""]

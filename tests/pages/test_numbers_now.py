"""The numbers of a bed as they stand now: which are judged, and what a reader is told of the rest.

Holds under effort: PMC7385937. Only an arterial sample says how well the lung takes up oxygen.
"""

import pytest

from app.charting.facts import Assessment
from app.pages.bed import Known, known, now_groups
from app.pages.corrections import was_with_the_old_height
from app.pages.grid import grid_groups
from app.pages.shown import Beyond, Shown
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies
from tests.charting.rows import course, later
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

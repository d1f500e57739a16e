"""What another tube ends, and what the same tube, moved or secured anew, does not."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.airways import EXCHANGED, REPOSITIONED, RESECURED, tube_since
from app.rules.watch import watch
from tests.charting.rows import airway, course, later
from tests.rules.watch.scenes import POLICY, run, with_band

CHANGED_AT = later(hours=22)
"""Between the sixth check and the seventh."""


def after(act: str, **changes: object):
    """The tube of the course, and what an act made of it."""
    return (airway(), replace(airway(at=CHANGED_AT), act=act, **changes))


def open_rules(rows, airways) -> set[str]:
    facts = replace(with_band(course(*rows)), airways=airways)
    seen = watch(facts, POLICY, max(r.observed_at for r in rows))
    return {flag.rule for flag in seen.flags if flag.open}


@pytest.mark.parametrize(
    ("act", "size", "raised"),
    [
        (EXCHANGED, "8.0", False),
        (RESECURED, "7.5", True),
        (REPOSITIONED, "7.5", True),
        ("placed", "7.5", False),
    ],
)
def test_resistance_of_another_tube_is_not_held_against_that_of_the_last(act, size, raised):
    peaks = ("32",) * 6 + ("40", "40")
    rows = run("peak_inspiratory_pressure_obs", *peaks)
    found = open_rules(rows, after(act, size_mm=Decimal(size)))
    assert ("resistance_rise" in found) is raised


@pytest.mark.parametrize(
    ("act", "depth", "moved"),
    [(EXCHANGED, "24", False), (REPOSITIONED, "24", False), (RESECURED, "22", True)],
)
def test_a_depth_is_held_against_where_the_tube_was_put_last(act, depth, moved):
    """Every check before reads 22 cm, the one after 24 cm."""
    rows = run("airway_depth_cm", *("22",) * 6, "24")
    found = open_rules(rows, after(act, depth_cm=Decimal(depth)))
    assert ("depth_moved" in found) is moved


def test_a_tube_is_as_old_as_its_placing_and_not_as_its_last_tape():
    airways = after(RESECURED)
    assert tube_since(airways, later(hours=30)) == airways[0].observed_at
    assert tube_since(after(EXCHANGED), later(hours=30)) == CHANGED_AT
    assert tube_since((), later(hours=30)) is None

"""A course walked on from where it was says what one walked from its beginning says."""

from datetime import timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.charting.course import moments
from app.charting.event_facts import Event
from app.charting.facts import CourseFacts
from app.charting.site_figures import ANYWHERE, SiteFigures, SiteInTime
from tests.charting.rows import START, body, course, gas, later, row

KEPT = "a course that is kept"


def walked(facts: CourseFacts, course_id: str, site: SiteInTime = ANYWHERE):
    same = replace(facts, course_id=course_id)
    return moments(same, site)


def one(kind: str, hour: int):
    if kind == "gas":
        return gas(later(hours=hour), pao2="80", paco2="40", ph="7.40")
    family = {"volume": "ac_vc", "support": "psv", "none": ""}[kind]
    return row(at=later(hours=hour), family=family, fio2_set=str(40 + hour), peep_set="8")


KINDS = st.sampled_from(["volume", "support", "gas", "none"])
STEPS = st.tuples(KINDS, st.integers(0, 30), st.sampled_from(["", "height", "standby", "strike"]))


@settings(max_examples=80, deadline=None)
@given(st.lists(STEPS, min_size=1, max_size=10))
def test_whatever_is_written_a_kept_walk_is_the_walk_of_the_whole(steps):
    facts = course()
    for number, (kind, hour, beside) in enumerate(steps):
        rows = sorted(
            (*facts.assessments, one(kind, hour)), key=lambda each: (each.observed_at, each.id)
        )
        facts = replace(facts, assessments=tuple(rows))
        if beside == "height":
            facts = replace(facts, body_sizes=(body(str(160 + number)),))
        elif beside == "standby":
            at = START + timedelta(hours=hour)
            facts = replace(facts, events=(Event("e", "standby", at, None, "", "ash"),))
        elif beside == "strike":
            struck = replace(facts.assessments[0], struck="wrong bed")
            facts = replace(facts, assessments=(struck, *facts.assessments[1:]))
        assert walked(facts, KEPT) == walked(facts, f"anew {number} {steps}")


def test_a_row_that_nobody_has_saved_is_walked_beside_what_is_kept():
    stands = course(one("volume", 1), one("gas", 2))
    typed = replace(stands, assessments=(*stands.assessments, replace(one("support", 3), id="")))
    first = walked(stands, "typed beside")
    assert len(walked(typed, "typed beside")) == 3
    assert all(a is b for a, b in zip(first, walked(stands, "typed beside"), strict=True))


def test_a_walk_goes_on_across_a_change_of_the_sites_figures():
    site = SiteInTime(later=((later(hours=2), SiteFigures(barometric_mmhg=Decimal(630))),))
    facts = course(one("volume", 1))
    longer = replace(facts, assessments=(*facts.assessments, one("volume", 3)))
    first = walked(facts, "site changes", site)
    both = walked(longer, "site changes", site)
    assert both[0] is first[0]
    assert [moment.barometric_mmhg for moment in both] == [760, 630]

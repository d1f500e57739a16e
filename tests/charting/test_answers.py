"""Answers are worked out when asked for, once, and never for another moment than theirs."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.charting import derive
from app.charting.course import moments
from app.charting.derive import CHARTED, Answers, work_out, work_out_course
from app.charting.facts import CourseFacts
from app.charting.site_figures import ANYWHERE, SiteFigures, SiteInTime
from tests.charting.rows import body, course, gas, later, row

HOLD = {
    "fio2_set": "45",
    "peep_set": "8",
    "resp_rate_set": "18",
    "tidal_volume_obs": "400",
    "plateau_pressure_obs": "24",
    "hold_passive": "yes",
    "spo2": "94",
}


def night() -> CourseFacts:
    sample = gas(later(hours=1), pao2="80", paco2="40", ph="7.40", fio2_at_sample="50")
    return course(row(**HOLD), sample, row(at=later(hours=4), **HOLD))


def around(facts: CourseFacts):
    return list(moments(facts, ANYWHERE))


@given(st.permutations(CHARTED), st.integers(0, 2))
def test_the_order_in_which_answers_are_asked_for_makes_no_difference(keys, place) -> None:
    moment = around(night())[place]
    asked = Answers(moment)
    assert {key: asked[key] for key in keys} == work_out(moment)


def test_every_charted_index_is_among_the_answers_and_nothing_else() -> None:
    asked = Answers(around(night())[0])
    assert (tuple(asked), len(asked)) == (CHARTED, len(CHARTED))
    with pytest.raises(KeyError):
        asked["weight"]


def test_an_answer_is_worked_out_once() -> None:
    asked = Answers(around(night())[0])
    assert asked["driving_pressure"] is asked["driving_pressure"]


def test_a_course_read_again_keeps_its_answers() -> None:
    first, again = work_out_course(night()), work_out_course(night())
    assert all(one[1] is other[1] for one, other in zip(first, again, strict=True))


def test_a_corrected_height_gives_other_answers_for_the_same_rows() -> None:
    shorter = course(row(**HOLD), size=body("160"))
    taller = course(row(**HOLD), size=body("180"))
    told = [work_out_course(facts)[0][1]["vt_per_pbw"].answer for facts in (shorter, taller)]
    assert told[0] != told[1]


def test_another_barometric_pressure_gives_other_answers_for_the_same_rows() -> None:
    site = SiteInTime(SiteFigures(barometric_mmhg=Decimal(620)))
    high = work_out_course(night(), site)[1][1]["aa_gradient"]
    assert high != work_out_course(night())[1][1]["aa_gradient"]


def test_the_answers_that_are_kept_have_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(derive, "MOST_KEPT", 2)
    monkeypatch.setattr(derive, "_kept", {})
    work_out_course(night())
    assert len(derive._kept) == 1

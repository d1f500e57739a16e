"""Each bed shows what its story tells, in the numbers that the program works out."""

from datetime import timedelta
from statistics import median

import pytest

from app.charting.facts import Kind, Mark, State
from app.record.beds import occupants
from app.rules.bed_summary import BedSummary
from app.rules.standing import Verdict
from seed_demo.stories import STORIES

pytestmark = pytest.mark.xdist_group("larch")

OUTSIDE = (Verdict.OUTSIDE, Verdict.OUTSIDE_ONCE)


def outside(larch, bed: str) -> set[str]:
    statements = (one.as_of(larch.now) for one in larch.summaries[bed].statements)
    return {one.key for one in statements if one.verdict in OUTSIDE}


def flagged(larch, bed: str) -> set[str]:
    groups = larch.summaries[bed].flags_at(larch.now)
    return {told.flag.rule for group in groups for told in group.flags}


def test_the_stiff_lung_is_flagged_by_limit_and_the_falling_one_by_drift_alone(larch):
    assert {"driving_pressure_over", "fio2_over"} <= flagged(larch, "L2")
    assert {rule for rule in flagged(larch, "L4") if rule.startswith("compliance")}
    assert "driving_pressure_over" not in flagged(larch, "L4")


def test_a_missing_spare_and_a_plateau_never_done_are_told_as_safety(larch):
    assert "fresh_tracheostomy_spare" in flagged(larch, "L8")
    assert "plateau_overdue" in flagged(larch, "L5")
    assert flagged(larch, "L1") == flagged(larch, "L11") == set()


def test_there_are_twelve_beds_in_order_each_with_a_story():
    assert [story.bed for story in STORIES] == [f"L{place}" for place in range(1, 13)]
    assert all(story.headline and story.told.endswith(".") for story in STORIES)


def test_the_quiet_bed_raises_nothing(larch):
    assert outside(larch, "L1") == set()
    assert max(larch.values("L1", "driving_pressure")) < 12


def test_one_heart_rate_of_the_quiet_bed_was_asked_about_and_let_stand(larch):
    asked = [one for one in larch.readings("L1", "heart_rate") if Mark.ASKED in one.marks]
    assert [(one.raw, one.question) for one in asked] == [
        ("28", "HR 28 /min: unusual, is it right?")
    ]


def test_the_stiff_lung_ends_over_the_limits(larch):
    assert all(value > 15 for value in larch.values("L2", "driving_pressure")[-3:])
    assert larch.statement("L2", "driving_pressure").verdict is Verdict.OUTSIDE
    assert "plateau_pressure_obs" in outside(larch, "L2")


def test_the_stiff_lungs_volume_came_down_and_its_oxygen_went_up(larch):
    volumes = [one.number for one in larch.readings("L2", "tidal_volume_set")]
    oxygen = [one.number for one in larch.readings("L2", "fio2_set")]
    assert volumes[-1] < volumes[0]
    assert oxygen[-1] > oxygen[0]


def test_the_stiff_lung_was_away_for_an_hour(larch):
    away = next(one for one in larch.facts["L2"].events if one.kind == "away")
    assert (away.ended_at - away.observed_at).total_seconds() == 55 * 60


def test_auto_peep_rose_with_the_rate(larch):
    values = larch.values("L3", "auto_peep")
    assert median(values[:5]) <= 2
    assert median(values[-3:]) >= 5
    assert larch.statement("L3", "auto_peep").verdict is Verdict.OUTSIDE


def test_set_peep_alone_would_not_show_the_auto_peep(larch):
    assert {one.number for one in larch.readings("L3", "peep_set")} == {5}
    assert "driving_pressure" not in outside(larch, "L3")


def test_compliance_falls_by_a_third_with_no_value_over_a_limit(larch):
    values = larch.values("L4", "compliance_static")
    assert median(values[-4:]) < 0.75 * median(values[:6])
    assert outside(larch, "L4") == set()
    assert max(larch.values("L4", "driving_pressure")) <= 15


def test_a_plateau_was_never_done_and_the_bed_cannot_be_judged(larch):
    plateaus = larch.readings("L5", "plateau_pressure_obs")
    assert {(one.state, one.reason) for one in plateaus} == {(State.NOT_MEASURED, "effort")}
    assert larch.statement("L5", "driving_pressure").verdict is Verdict.NOT_DONE
    assert larch.values("L5", "driving_pressure") == []


def test_large_breaths_on_support_are_information(larch):
    assert larch.summaries["L6"].family == "csv_ps"
    assert larch.statement("L6", "vt_per_pbw").verdict is Verdict.NOTED
    assert larch.statement("L6", "driving_pressure").verdict is Verdict.NOT_APPLICABLE


def test_nobody_held_a_breath_on_support(larch):
    rows = [row for row in larch.facts["L6"].assessments if row.mode_family == "csv_ps"]
    assert len(rows) > 4
    assert all("plateau_pressure_obs" not in row.readings for row in rows)


def test_prone_is_going_on_and_has_helped(larch):
    sessions = [one for one in larch.facts["L7"].events if one.kind == "prone"]
    assert [one.ended_at is None for one in sessions] == [False, True]
    assert larch.readings("L7", "position")[-1].word == "prone"
    ratios = larch.values("L7", "pf_ratio")
    assert ratios[-1] > 1.2 * ratios[0]


def test_no_sedation_score_is_read_under_the_relaxant(larch):
    assert larch.readings("L7", "rass") == []
    assert {one.word for one in larch.readings("L7", "nmb")} == {"yes"}


def test_the_tracheostomy_replaced_the_tube_and_its_spare_is_missing(larch):
    facts = larch.facts["L8"]
    assert [one.category for one in facts.airways] == ["ett_oral", "trach"]
    assert larch.readings("L8", "safe_spare_airway")[-1].word == "no"
    assert facts.assessments[-1].readings.get("airway_depth_cm") is None


def test_the_tracheostomys_check_is_overdue(larch):
    states = {bed: one.due.state(larch.now) for bed, one in larch.summaries.items()}
    assert [bed for bed, state in states.items() if state == "overdue"] == ["L8"]


def test_after_extubation_only_what_high_flow_has_is_judged(larch):
    summary: BedSummary = larch.summaries["L9"]
    assert summary.family == "hfnc"
    assert summary.airway.category == "nasal_cannula"
    assert larch.statement("L9", "driving_pressure").verdict is Verdict.NOT_APPLICABLE
    assert larch.values("L9", "rox")[-1] > 4.88


def test_a_trial_was_passed_before_the_extubation_and_its_checklist_stands(larch):
    events = {event.kind: event for event in larch.facts["L9"].events}
    screen, trial = events["trial_screen"], events["breathing_trial"]
    out = events["extubation"]
    assert screen.observed_at < trial.observed_at < trial.ended_at < out.observed_at
    assert out.observed_at - trial.ended_at <= timedelta(minutes=10)
    assert trial.detail("trial_outcome") == "passed"
    assert "now high flow, nasal cannula; cuff leak 220 mL" in out.words
    removed = larch.facts["L9"].airways[-1]
    assert (removed.act, removed.words, removed.observed_at) == (
        "removed",
        "planned",
        out.observed_at,
    )
    assert "tube_out" not in " ".join(task.rule for task in larch.facts["L9"].tasks)


def test_without_a_height_volume_per_kilogram_cannot_be_judged(larch):
    assert larch.facts["L10"].body_sizes[-1].height_cm is None
    assert larch.statement("L10", "vt_per_pbw").verdict is Verdict.NOT_DONE
    assert larch.facts["L10"].notes == ()


def test_the_child_is_under_the_adult_age_and_gets_no_adult_number(larch):
    assert larch.facts["L11"].age_y == 9
    assert not larch.summaries["L11"].adult
    assert larch.values("L11", "vt_per_pbw") == []


def test_the_empty_bed_is_empty(larch):
    with larch.database.reading() as session:
        taken = occupants(session, larch.seeded.unit_id).keys()
    empty = [story.bed for story in STORIES if story.bedside is None]
    assert empty == ["L12"]
    assert "L12" not in larch.seeded.courses
    assert len(taken) == 11


@pytest.mark.parametrize("bed", ["L1", "L2", "L3", "L4", "L5", "L6", "L7", "L8", "L9", "L11"])
def test_most_beds_carry_a_persons_words_with_what_if(larch, bed):
    headings = {note.heading for note in larch.facts[bed].notes if note.words}
    assert {"course", "concern", "todo"} <= headings


def test_nothing_but_the_told_slip_had_to_be_asked(larch):
    """A yes to a question is a story's own, not a simulator that writes nonsense."""
    asked = [one.field for one in larch.all_readings() if Mark.ASKED in one.marks]
    assert asked == ["heart_rate"]


def test_every_state_of_a_reading_occurs(larch):
    assert {one.state for one in larch.all_readings()} == set(State)


def test_every_kind_of_row_occurs(larch):
    kinds = {row.kind for facts in larch.facts.values() for row in facts.assessments}
    assert {Kind.FULL, Kind.BRIEF, Kind.GAS} <= kinds

"""Rules that compare with the patient's own level of the days before."""

import pytest

from app.rules.watch import Answered, watch
from tests.charting.rows import course, later
from tests.rules.watch.scenes import POLICY, check, flag, rules, run, watched


def holds(*plateaus: object, peak_above: int | None = 10, **more: object):
    """Checks 4 h apart; the peak stays so much over each plateau, or at 32."""
    rows = []
    for n, plateau in enumerate(plateaus):
        high = "32" if peak_above is None or plateau is None else str(int(plateau) + peak_above)
        values = {"plateau_pressure_obs": plateau, "peak_inspiratory_pressure_obs": high, **more}
        rows.append(check(4 * n, **values))
    return rows


LEVEL = ("22",) * 6
"""400 mL over 12 cmH2O: 33 mL/cmH2O."""


@pytest.mark.parametrize(("plateau", "raised"), [("24", False), ("25", False), ("26", True)])
def test_a_step_of_static_compliance_shows_twice(plateau, raised):
    """ln(12/15) is 0.22, ln(12/16) is 0.29."""
    seen = watched(*holds(*LEVEL, plateau, plateau))
    assert (flag("compliance_step", seen) is not None) is raised


def test_one_fall_is_no_step():
    assert flag("compliance_step", watched(*holds(*LEVEL, "26"))) is None


def test_a_fall_that_the_peaks_do_not_share_is_not_believed_at_two_values():
    """The plateau rose by 4 and the peak by nothing: rather a bad hold than a stiff lung."""
    assert not rules(watched(*holds(*LEVEL, "26", "26", peak_above=None))) & {
        "compliance_step",
        "compliance_fall",
        "compliance_slide",
    }


def test_without_peaks_the_plateaus_speak_alone():
    rows = [
        check(4 * n, plateau_pressure_obs=p, peak_inspiratory_pressure_obs=None)
        for n, p in enumerate((*LEVEL, "27", "27"))
    ]
    assert "compliance_step" in rules(watched(*rows))


def test_peaks_find_a_stiff_lung_when_no_plateau_was_charted():
    rows = [
        *holds(*LEVEL),
        *(
            check(24 + 4 * n, plateau_pressure_obs=None, peak_inspiratory_pressure_obs="42")
            for n in (0, 1)
        ),
    ]
    assert "compliance_dynamic_step" in rules(watched(*rows))


def test_age_never_clears_a_drift_and_a_day_later_it_is_a_new_level():
    seen = watched(*holds(*LEVEL, *(["28"] * 14)))
    found = flag("compliance_step", seen)
    assert found is not None
    assert found.open
    assert found.new_level_since(later(hours=76)) == later(hours=24)
    assert found.new_level_since(later(hours=40)) is None


def test_a_drift_clears_when_the_old_level_is_nearly_back_twice():
    back = watched(*holds(*LEVEL, "28", "28", "23", "23"))
    halfway = watched(*holds(*LEVEL, "28", "28", "24", "24"))
    assert "compliance_step" not in rules(back)
    assert "compliance_step" in rules(halfway)


def test_a_word_ends_a_drift_only_once_it_is_a_new_level():
    rows = holds(*LEVEL, *(["28"] * 10))
    now = rows[-1].observed_at
    early = watch(course(*rows), POLICY, now, [Answered("mechanics", later(hours=30))])
    late = watch(course(*rows), POLICY, now, [Answered("mechanics", now)])
    assert "compliance_step" in rules(early)
    assert "compliance_step" not in rules(late)


@pytest.mark.parametrize(("peep", "raised"), [("12", True), ("13", False)])
def test_peep_changed_by_three_restarts_the_baseline(peep, raised):
    higher = str(int(peep) + 18)
    rows = [
        *holds(*LEVEL),
        *(
            check(
                24 + 4 * n,
                peep_set=peep,
                plateau_pressure_obs=higher,
                peak_inspiratory_pressure_obs="42",
            )
            for n in (0, 1)
        ),
    ]
    assert (flag("compliance_step", watched(*rows)) is not None) is raised


def test_peep_changes_that_add_up_to_three_restart_the_baseline_too():
    rows = [
        *holds(*LEVEL),
        check(24, peep_set="11.5", plateau_pressure_obs="24"),
        *(
            check(
                28 + 4 * n,
                peep_set="13",
                plateau_pressure_obs="32",
                peak_inspiratory_pressure_obs="42",
            )
            for n in (0, 1)
        ),
    ]
    assert flag("compliance_step", watched(*rows)) is None


def test_another_mode_ends_a_comparison_and_says_so():
    rows = [
        *holds(*LEVEL, "28", "28"),
        check(32, mode_family="ac_pc", pressure_control_set="16", tidal_volume_obs="410"),
    ]
    found = flag("compliance_step", watched(*rows))
    assert found is not None
    assert found.ended_by == "what it was compared with no longer holds"


@pytest.mark.parametrize(("peak", "raised"), [("37", False), ("38", True)])
def test_resistance_rises_by_six_twice(peak, raised):
    rows = [
        *holds(*LEVEL),
        *(check(24 + 4 * n, peak_inspiratory_pressure_obs=peak) for n in (0, 1)),
    ]
    assert (flag("resistance_rise", watched(*rows)) is not None) is raised


@pytest.mark.parametrize(("rate", "raised"), [("25", False), ("26", True)])
def test_the_rate_rises_by_six_twice(rate, raised):
    seen = watched(*run("resp_rate_obs", *["20"] * 6, rate, rate))
    assert (flag("rate_rise", seen) is not None) is raised


def test_a_set_rate_that_was_raised_explains_a_total_rate():
    rows = [
        *run("resp_rate_obs", *["20"] * 6),
        *(check(24 + 4 * n, resp_rate_obs="27", resp_rate_set="26") for n in (0, 1)),
    ]
    assert flag("rate_rise", watched(*rows)) is None


@pytest.mark.parametrize(("rass", "raised"), [("1", True), ("2", False)])
def test_agitation_makes_the_rate_say_nothing(rass, raised):
    rows = [
        *run("resp_rate_obs", *["20"] * 6),
        *(check(24 + 4 * n, resp_rate_obs="27", rass=rass) for n in (0, 1)),
    ]
    assert (flag("rate_rise", watched(*rows)) is not None) is raised


@pytest.mark.parametrize(("oxygen", "raised"), [("54", False), ("55", True)])
def test_oxygen_slides_by_fifteen_points_over_the_best_day(oxygen, raised):
    rows = run("fio2_set", *["40"] * 6, "45", "45", "50", "50", oxygen, oxygen)
    assert (flag("fio2_slide", watched(*rows)) is not None) is raised


def test_a_slide_ends_at_a_persons_word():
    rows = run("fio2_set", *["40"] * 6, "45", "50", "55", "55")
    now = rows[-1].observed_at
    seen = watch(course(*rows), POLICY, now, [Answered("oxygenation", now)])
    assert "fio2_slide" not in rules(seen)


CALM = ("32", "32", "33", "32", "32", "33", "32")
WILD = ("32", "36", "31", "36", "31", "36", "32")


@pytest.mark.parametrize(("peaks", "raised"), [(CALM, True), (WILD, False)])
def test_where_a_patients_own_values_scatter_a_step_must_be_larger(peaks, raised):
    """From a peak of 32 to 40 over a PEEP of 10 the dynamic compliance falls by 27 %."""
    rows = [
        check(3 * n, plateau_pressure_obs=None, peak_inspiratory_pressure_obs=peak)
        for n, peak in enumerate((*peaks, "40", "40"))
    ]
    assert ("compliance_dynamic_step" in rules(watched(*rows))) is raised

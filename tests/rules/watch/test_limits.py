"""Rules that confirm a limit: under, at, over and missing, once, twice, and back inside."""

import pytest

from tests.charting.rows import gas, later
from tests.rules.watch.scenes import check, flag, rules, run, watched


@pytest.mark.parametrize(
    ("plateaus", "raised"),
    [
        (("24", "24"), False),
        (("25", "25"), False),
        (("26", "25"), False),
        (("26", "26"), True),
        (("26", "24", "26"), True),
        (("26", "24", "24", "26"), False),
        (("26", None), False),
        (("26", None, "26"), True),
        (("30",), False),
        (("31",), True),
        ((None, None, None), False),
    ],
)
def test_driving_pressure_raises_on_two_of_three_over_15_or_one_over_20(plateaus, raised):
    seen = watched(*run("plateau_pressure_obs", *plateaus))
    assert (flag("driving_pressure_over", seen) is not None) is raised


@pytest.mark.parametrize(
    ("plateau", "shown"), [("25.4", "15.4"), ("26", "16"), ("26.0", "16"), ("25.5", "15.5")]
)
def test_a_decimal_that_was_typed_is_not_rounded_onto_the_limit(plateau, shown):
    found = flag("driving_pressure_over", watched(*run("plateau_pressure_obs", plateau, plateau)))
    assert found is not None
    assert {value.shown for value in found.values} == {shown}


@pytest.mark.parametrize(
    ("after", "is_open"),
    [
        (("24",), True),
        (("24", "24"), False),
        (("24", "25"), True),
        (("24", None), True),
        (("24", None, "24"), False),
        (("25", "25", "25"), True),
    ],
)
def test_driving_pressure_clears_after_two_in_a_row_at_14(after, is_open):
    seen = watched(*run("plateau_pressure_obs", "26", "26", *after))
    assert ("driving_pressure_over" in rules(seen)) is is_open


def test_a_flag_that_returns_within_two_checks_is_the_same_flag():
    seen = watched(*run("plateau_pressure_obs", "26", "26", "24", "24", "26", "26"))
    found = flag("driving_pressure_over", seen)
    assert found is not None
    assert (found.open, found.raised_at, found.reopened_at) == (
        True,
        later(hours=4),
        (later(hours=20),),
    )


def test_a_flag_that_returns_after_a_day_is_a_new_one():
    back = ["24"] * 8
    seen = watched(*run("plateau_pressure_obs", "26", "26", *back, "26", "26"))
    assert [f.rule for f in seen.flags].count("driving_pressure_over") == 2


def test_values_more_than_twelve_hours_apart_do_not_confirm_each_other():
    near = watched(*run("plateau_pressure_obs", "26", "26", every_h=12))
    far = watched(*run("plateau_pressure_obs", "26", "26", every_h=12.1))
    assert flag("driving_pressure_over", near) is not None
    assert flag("driving_pressure_over", far) is None


@pytest.mark.parametrize(
    ("plateaus", "raised"),
    [(("30", "30"), False), (("31", "31"), True), (("35",), False), (("36",), True)],
)
def test_plateau_raises_over_30_twice_or_over_35_once(plateaus, raised):
    rows = run("plateau_pressure_obs", *plateaus)
    rows = (
        [
            check(4 * n, plateau_pressure_obs=p, peep_set="18", peak_inspiratory_pressure_obs="44")
            for n, p in enumerate(plateaus)
        ]
        if rows
        else []
    )
    assert (flag("plateau_over", watched(*rows)) is not None) is raised


@pytest.mark.parametrize(
    ("volume", "raised"), [("527", False), ("530", False), ("535", True), (None, False)]
)
def test_a_set_volume_over_the_limit_is_told_at_once(volume, raised):
    """66.0 kg: 530 mL show 8.0 and are not over it, 535 mL show 8.1 (decision 3)."""
    seen = watched(check(0, tidal_volume_set=volume, tidal_volume_obs="400"))
    assert (flag("vt_set_outside", seen) is not None) is raised


@pytest.mark.parametrize(("back", "is_open"), [("530", True), ("520", True), ("515", False)])
def test_a_set_volume_clears_two_tenths_inside(back, is_open):
    seen = watched(check(0, tidal_volume_set="540"), check(4, tidal_volume_set=back))
    assert ("vt_set_outside" in rules(seen)) is is_open


def test_a_leak_does_not_hide_a_set_volume():
    seen = watched(check(0, tidal_volume_set="560", tidal_volume_obs="400"))
    assert "vt_set_outside" in rules(seen)


@pytest.mark.parametrize(
    ("expired", "raised"), [("341", False), ("340", False), ("335", True), (None, False)]
)
def test_a_leak_is_more_than_15_percent_in_two_of_three(expired, raised):
    seen = watched(*run("tidal_volume_obs", expired, "400", expired))
    assert (flag("leak_over", seen) is not None) is raised


def test_a_leak_under_50_ml_is_no_leak():
    rows = [check(h, tidal_volume_set="240", tidal_volume_obs="191") for h in (0, 4)]
    assert flag("leak_over", watched(*rows)) is None


@pytest.mark.parametrize(
    ("spo2", "raised"),
    [
        (("89", "89"), False),
        (("88", "88"), False),
        (("87",), False),
        (("87", "87"), True),
        (("87", "90", "87"), False),
        (("84",), False),
        (("83",), True),
        ((None, None), False),
    ],
)
def test_spo2_is_held_against_the_patients_own_band(spo2, raised):
    assert (flag("spo2_under", watched(*run("spo2", *spo2))) is not None) is raised


def test_without_a_band_spo2_is_not_evaluable():
    seen = watched(*run("spo2", "80", "80"), band=None)
    assert flag("spo2_under", seen) is None
    assert ("spo2_under", "no band ordered for this patient") in [
        (told.rule, told.reason) for told in seen.not_evaluable
    ]


@pytest.mark.parametrize(
    ("oxygen", "raised"), [(("60", "60"), False), (("61",), False), (("61", "61"), True)]
)
def test_oxygen_over_60_twice(oxygen, raised):
    assert (flag("fio2_over", watched(*run("fio2_set", *oxygen))) is not None) is raised


@pytest.mark.parametrize(
    ("ph", "raised"),
    [("7.19", True), ("7.20", False), ("7.55", False), ("7.56", True), (None, False)],
)
def test_one_ph_outside_is_enough(ph, raised):
    values = {} if ph is None else {"ph": ph}
    seen = watched(check(0), gas(later(hours=1), pao2="80", **values))
    assert (flag("ph_outside", seen) is not None) is raised


@pytest.mark.parametrize(
    ("specimen", "raised"), [("arterial", True), ("venous", False), ("unknown", False)]
)
def test_a_low_pao2_needs_an_arterial_sample(specimen, raised):
    seen = watched(gas(later(hours=1), gas_specimen=specimen, pao2="54"))
    assert (flag("pao2_low", seen) is not None) is raised


@pytest.mark.parametrize(
    ("total", "raised"), [("14", False), ("15", True), ("14.9", False), (None, False)]
)
def test_auto_peep_of_5_once(total, raised):
    seen = watched(check(0, peep_total=total))
    assert (flag("auto_peep_high", seen) is not None) is raised


@pytest.mark.parametrize(
    ("cuff", "raised"), [("19", True), ("20", False), ("30", False), ("31", True), (None, False)]
)
def test_a_cuff_outside_is_told_at_once_and_ends_when_measured_inside(cuff, raised):
    rows = [check(0, cuff_pressure_cmh2o=cuff), check(4, cuff_pressure_cmh2o="25")]
    assert (flag("cuff_outside", watched(rows[0])) is not None) is raised
    assert "cuff_outside" not in rules(watched(*rows))


@pytest.mark.parametrize(
    ("depths", "moved", "unexplained"),
    [
        (("22.5",), False, False),
        (("23",), False, True),
        (("24",), True, True),
        ((None,), False, False),
    ],
)
def test_a_tube_that_moved(depths, moved, unexplained):
    """The tube was placed at 22 cm."""
    seen = watched(*run("airway_depth_cm", *depths))
    assert ("depth_moved" in rules(seen)) is moved
    assert ("depth_unexplained" in rules(seen)) is unexplained


@pytest.mark.parametrize(("word", "raised"), [("no", True), ("yes", False), (None, False)])
def test_rescue_gear_that_is_not_there(word, raised):
    seen = watched(check(0, safe_suction=word))
    assert ("safe_suction" in rules(seen)) is raised


def test_a_filter_with_thick_secretions_ends_when_they_are_thin():
    thick = check(0, humidifier="hme", secretions_consistency="thick")
    thin = check(4, secretions_consistency="thin")
    assert "filter_clogs" in rules(watched(thick))
    assert "filter_clogs" not in rules(watched(thick, thin))


@pytest.mark.parametrize(("hours", "raised"), [(7.9, False), (8, True)])
def test_a_plateau_is_overdue_by_time_alone(hours, raised):
    seen = watched(check(0), now=later(hours=hours))
    assert ("plateau_overdue" in rules(seen)) is raised


def test_no_plateau_is_owed_on_support():
    rows = check(0), check(4, mode_family="csv_ps", plateau_pressure_obs=None)
    assert "plateau_overdue" not in rules(watched(*rows, now=later(hours=30)))


def test_a_volume_over_the_limit_on_own_breaths_is_information():
    rows = run("tidal_volume_obs", "560", "570", every_h=4)
    own = [check(4 * n, mode_family="csv_ps", tidal_volume_obs="560") for n in range(len(rows))]
    seen = watched(*own)
    assert [f.rule for f in seen.information] == ["vt_own_over"]
    assert not {f.group for f in seen.flags} & {"volume"}


def test_one_value_outside_is_told_once_and_read_again_after_half_an_hour():
    seen = watched(*run("plateau_pressure_obs", "22", "26"))
    told = {once.rule: once for once in seen.once}
    assert told["driving_pressure_over"].value.shown == "16"
    assert told["driving_pressure_over"].read_again_at == later(hours=4.5)
    assert "driving_pressure_over" not in rules(seen)


def test_a_flag_explains_itself():
    found = flag("driving_pressure_over", watched(*run("plateau_pressure_obs", "26", "27")))
    assert found is not None
    assert [(v.at, v.shown) for v in found.values] == [(later(), "16"), (later(hours=4), "17")]
    assert (found.against, found.side, found.group) == ("15", "over", "mechanics")
    assert "Amato" in found.source
    assert found.would_clear == "2 values in a row at least 1 inside the limit"

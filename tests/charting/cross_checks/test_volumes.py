"""Volumes, rates and times against each other: under, at, over and missing."""

import pytest

from tests.charting.cross_checks.held import around, codes, in_force
from tests.charting.rows import row


def minute(family: str, value: str) -> set[str]:
    wanted = {"minute_volume_off", "minute_volume_factor"}
    return wanted & codes(
        row(family, tidal_volume_obs=400, resp_rate_obs=20, minute_vent_obs=value)
    )


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("8", set()),
        ("10", set()),
        ("10.1", {"minute_volume_off"}),
        ("15.9", {"minute_volume_off"}),
        ("16", {"minute_volume_factor"}),
        ("6", set()),
        ("5.9", {"minute_volume_off"}),
        ("4", {"minute_volume_factor"}),
    ],
)
def test_a_minute_volume_off_by_a_quarter_is_noted_and_by_a_factor_of_two_asked(
    value: str, said: set[str]
) -> None:
    assert minute("ac_vc", value) == said


@pytest.mark.parametrize("family", ["simv_vc", "aprv", "niv"])
def test_mixed_breaths_and_masks_have_a_wider_margin(family: str) -> None:
    assert minute(family, "11.2") == set()
    assert minute(family, "11.3") == {"minute_volume_off"}


def test_both_streams_are_counted_where_both_were_read() -> None:
    mixed = row(
        "simv_vc",
        tidal_volume_obs=450,
        resp_rate_obs=22,
        tidal_volume_spont_obs=100,
        resp_rate_spont_obs=12,
        minute_vent_obs="5.7",
    )
    assert "minute_volume_off" not in codes(mixed)
    assert "minute_volume_factor" not in codes(mixed)


def test_no_volume_beside_a_minute_volume_is_asked() -> None:
    assert "no_volume_beside_minute_volume" in codes(row(tidal_volume_obs=0, minute_vent_obs=7))
    assert codes(row(tidal_volume_obs=0, minute_vent_obs=0)) == set()


@pytest.mark.parametrize(
    ("measured", "said"),
    [
        ("480", set()),
        ("481", {"volume_off_set"}),
        ("800", {"volume_off_set"}),
        ("801", {"volume_factor"}),
        ("200", {"volume_off_set"}),
        ("199", {"volume_factor"}),
    ],
)
def test_a_volume_off_the_set_one_is_noted_and_outside_half_to_twice_asked(
    measured: str, said: set[str]
) -> None:
    settings = around(settings=in_force(tidal_volume_set=400))
    assert codes(row(tidal_volume_obs=measured), settings) == said
    assert codes(row(tidal_volume_obs=measured)) == set()


def test_where_a_volume_is_only_targeted_the_factor_alone_is_asked() -> None:
    settings = around(settings=in_force(tidal_volume_set=400))
    assert codes(row("ac_vtpc", tidal_volume_obs=500), settings) == set()
    assert codes(row("ac_vtpc", tidal_volume_obs=900), settings) == {"volume_factor"}


@pytest.mark.parametrize(("total", "said"), [(20, False), (19, False), (18, True)])
def test_a_total_rate_more_than_one_below_the_set_rate_is_asked(total: int, said: bool) -> None:
    settings = around(settings=in_force(resp_rate_set=20))
    assert ("rate_below_set" in codes(row(resp_rate_obs=total), settings)) is said
    assert "rate_below_set" not in codes(row("simv_vc", resp_rate_obs=total), settings)
    assert "rate_below_set" not in codes(row(resp_rate_obs=total))


def test_more_spontaneous_breaths_than_breaths_is_asked() -> None:
    code = "spontaneous_rate_above_total"
    assert code in codes(row("simv_vc", resp_rate_obs=20, resp_rate_spont_obs=21))
    assert code not in codes(row("simv_vc", resp_rate_obs=20, resp_rate_spont_obs=20))


@pytest.mark.parametrize(
    ("time", "code"),
    [
        ("1.5", None),
        ("1.51", "inverse_ratio"),
        ("2.99", "inverse_ratio"),
        ("3", "inspiration_fills_cycle"),
    ],
)
def test_an_inspiration_as_long_as_the_cycle_is_asked_and_an_inverse_ratio_announced(
    time: str, code: str | None
) -> None:
    breath = row("ac_pc", inspiratory_time_set=time, resp_rate_obs=20)
    assert codes(breath) == ({code} if code else set())


def test_an_inspiration_from_constant_flow_counts_its_pause() -> None:
    settings = in_force(
        tidal_volume_set=500, flow_rate_set=30, flow_pattern="constant", inspiratory_pause_set="0.6"
    )
    assert "inverse_ratio" in codes(row(resp_rate_obs=20), around(settings=settings))
    del settings["flow_pattern"]
    assert "inverse_ratio" not in codes(row(resp_rate_obs=20), around(settings=settings))


def test_times_are_not_judged_where_breaths_are_the_patients_own() -> None:
    assert codes(row("csv_ps", inspiratory_time_set=3, resp_rate_obs=20)) == set()

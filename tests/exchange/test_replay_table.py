"""Every kind of flag through `replay`: raised, cleared, and the same flag when it soon returns."""

import pytest
from msgspec import Struct, field

from tests.exchange.test_replay import line, replayed

Row = dict[str, str]


class Scene(Struct, frozen=True):
    """Rows four hours apart: a level before, what raises, and what clears."""

    rule: str
    group: str
    out: tuple[Row, ...]
    back: tuple[Row, ...]
    always: Row = field(default_factory=dict)
    every_h: float = 4

    def rows(self, *parts: tuple[Row, ...]) -> list[Row]:
        told = [each for part in (({},) * 6, *parts) for each in part]
        return [
            line(hours=self.every_h * n, **{**self.always, **each}) for n, each in enumerate(told)
        ]

    def flags(self, *parts: tuple[Row, ...]) -> list[Row]:
        return [row for row in replayed(*self.rows(*parts)) if row["rule"] == self.rule]


def of(rule: str, group: str, code: str, out: str, back: str, **always: str) -> Scene:
    values = [tuple({code: value} for value in text.split()) for text in (out, back)]
    return Scene(rule, group, *values, always)


FLOW = {"flow_rate_set": "60", "flow_pattern": "constant"}
NO_PEAK = {"peak_inspiratory_pressure_obs": ""}
MASK = {"mode_family": "hfnc", "plateau_pressure_obs": "", "airway_category": "nasal_cannula"}
FOUND = [
    of("driving_pressure_over", "mechanics", "plateau_pressure_obs", "26 26", "24 24"),
    of("driving_pressure_over", "mechanics", "plateau_pressure_obs", "31", "24 24"),
    of("plateau_over", "mechanics", "plateau_pressure_obs", "31 31", "28 28"),
    of("plateau_over", "mechanics", "plateau_pressure_obs", "36", "28 28", **NO_PEAK),
    of("compliance_step", "mechanics", "plateau_pressure_obs", "26 26", "22 22", **NO_PEAK),
    of("compliance_step", "mechanics", "plateau_pressure_obs", "30", "22 22", **NO_PEAK),
    of("compliance_fall", "mechanics", "plateau_pressure_obs", "25 25", "22 22", **NO_PEAK),
    of(
        "compliance_dynamic_step",
        "mechanics",
        "peak_inspiratory_pressure_obs",
        "39 39",
        "32 32",
        plateau_pressure_obs="",
    ),
    of(
        "compliance_dynamic_step",
        "mechanics",
        "peak_inspiratory_pressure_obs",
        "42",
        "32 32",
        plateau_pressure_obs="",
    ),
    of("peak_less_plateau_rise", "airway", "peak_inspiratory_pressure_obs", "37 37", "32 32"),
    of("peak_less_plateau_rise", "airway", "peak_inspiratory_pressure_obs", "40", "32 32"),
    of("resistance_rise", "airway", "peak_inspiratory_pressure_obs", "38 38", "32 32", **FLOW),
    of("vt_set_outside", "volume", "tidal_volume_set", "540", "510"),
    of("vt_over_order", "volume", "tidal_volume_set", "440", "400", tidal_volume_target_ml_kg="6"),
    of("vt_measured_outside", "volume", "tidal_volume_obs", "560 560", "395 395"),
    of("compliance_slide", "mechanics", "plateau_pressure_obs", "25 25", "22 22", **NO_PEAK),
    of("fio2_slide", "oxygenation", "fio2_set", "55 55", "45 45"),
    of("peep_slide", "oxygenation", "peep_set", "14 14", "10 10", plateau_pressure_obs=""),
    of("sf_slide", "oxygenation", "fio2_set", "54 54", "42 42"),
    of("leak_over", "leak", "tidal_volume_obs", "330 330", "360 360"),
    of("leak_heard", "leak", "leak_audible", "yes", "no"),
    of("spo2_under", "oxygenation", "spo2", "87 87", "90 90"),
    of("spo2_under", "oxygenation", "spo2", "83", "90 90"),
    of("fio2_over", "oxygenation", "fio2_set", "65 65", "55 55"),
    of("fio2_step", "oxygenation", "fio2_set", "60 60", "45 45"),
    of("rate_over", "drive", "resp_rate_obs", "36 36", "20 20"),
    of("rate_rise", "drive", "resp_rate_obs", "26 26", "21 21"),
    of("ph_outside", "acid-base", "ph", "7.19", "7.23", gas_specimen="arterial"),
    of("ph_outside", "acid-base", "ph", "7.56", "7.52", gas_specimen="arterial"),
    of("auto_peep_high", "safety", "peep_total", "15", "10"),
    of("auto_peep_again", "safety", "peep_total", "13 13", "10"),
    of("cuff_outside", "safety", "cuff_pressure_cmh2o", "19", "25"),
    of("cuff_outside", "safety", "cuff_pressure_cmh2o", "31", "25"),
    of("depth_moved", "safety", "airway_depth_cm", "24", "22", airway_depth_cm="22"),
    of("depth_unexplained", "safety", "airway_depth_cm", "23", "22", airway_depth_cm="22"),
    of("valve_on_cuff", "safety", "speaking_valve", "yes", "no", cuff_state="up"),
    of("safe_suction", "safety", "safe_suction", "no", "yes"),
    of(
        "fresh_tracheostomy_spare",
        "safety",
        "safe_spare_airway",
        "no",
        "yes",
        airway_category="trach",
    ),
    of("filter_clogs", "safety", "secretions_consistency", "thick", "thin", humidifier="hme"),
    of("filter_clogs", "safety", "secretions_colour", "bloody", "clear", humidifier="hme"),
    of("pao2_low", "safety", "pao2", "54", "60", gas_specimen="arterial"),
    of("rate_open_over", "safety", "resp_rate_obs", "31", "25", **MASK),
    of("rox_low", "safety", "fio2_set", "90 90", "40", **{**MASK, "resp_rate_obs": "30"}),
    of("rate_low", "safety", "resp_rate_obs", "7", "12"),
]


@pytest.mark.parametrize("scene", FOUND, ids=lambda s: f"{s.rule} {len(s.out)}")
def test_it_is_raised_cleared_and_the_same_flag_when_it_soon_returns(scene: Scene):
    assert not scene.flags()
    (standing,) = scene.flags(scene.out)
    assert (standing["group"], standing["cleared_at"]) == (scene.group, "")
    (over,) = scene.flags(scene.out, scene.back)
    assert over["raised_at"] == standing["raised_at"] < over["cleared_at"]
    (again,) = scene.flags(scene.out, scene.back, scene.out)
    assert (again["raised_at"], again["cleared_at"]) == (standing["raised_at"], "")


@pytest.mark.parametrize("scene", FOUND, ids=lambda s: f"{s.rule} {len(s.out)}")
def test_one_value_less_raises_nothing_and_half_a_return_clears_nothing(scene: Scene):
    if len(scene.out) > 1:
        assert not scene.flags(scene.out[:-1])
    (standing,) = scene.flags(scene.out, scene.back[:-1])
    assert standing["cleared_at"] == ""


def test_where_the_peaks_do_not_share_a_fall_one_value_more_must_show_it():
    scene = of("compliance_step", "mechanics", "plateau_pressure_obs", "26 26 26", "22 22")
    assert not scene.flags(scene.out[:2])
    assert len(scene.flags(scene.out)) == 1


def test_a_plateau_that_is_overdue_ends_with_the_next_one():
    rows = [line(hours=4 * n, plateau_pressure_obs="") for n in range(4)]
    (open_flag,) = [row for row in replayed(*rows) if row["rule"] == "plateau_overdue"]
    assert open_flag["cleared_at"] == ""
    (ended,) = [r for r in replayed(*rows, line(hours=16)) if r["rule"] == "plateau_overdue"]
    assert ended["cleared_at"] != ""


@pytest.mark.parametrize(
    "values",
    [
        {"fio2_set": "50", "spo2": "99", "spo2_target_high": "95"},
        {"mode_family": "csv_ps", "tidal_volume_obs": "700", "plateau_pressure_obs": ""},
    ],
)
def test_what_is_told_as_information_is_not_written(values: Row):
    assert replayed(*(line(hours=4 * n, **values) for n in range(4))) == []

"""What a blood gas row answers: which oxygen, which specimen, what is near in time."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.derive import work_out_course
from app.charting.event_facts import Event
from app.charting.facts import Assessment, Kind, Reading
from app.charting.site_figures import SiteFigures, SiteInTime
from app.charting.terms import WorkedOut
from app.physiology.answer import NotAvailable, Query, Value, Verdict
from tests.charting.rows import AT, course, later, row
from tests.charting.worked import HOLD, absent, answers, drawn, value


def pf(*rows: Assessment, **known: object) -> WorkedOut:
    return answers(course(*rows, **known))["pf_ratio"]  # type: ignore[arg-type]


def test_a_gas_binds_to_the_oxygen_in_force_at_its_own_time() -> None:
    worked = pf(row(fio2_set=50), drawn())
    assert value(worked).shown == "180"
    assert "in force at the sample" in value(worked).basis
    oxygen = worked.inputs["fio2"]
    assert isinstance(oxygen, Reading)
    assert oxygen.observed_at == AT


def test_the_slips_oxygen_beats_the_one_in_force() -> None:
    worked = pf(row(fio2_set=50), drawn(fio2_at_sample=60))
    assert value(worked).shown == "150"
    assert "as typed" in value(worked).basis


def test_oxygen_changed_shortly_before_the_sample_is_said() -> None:
    before = row(at=later(hours=-2), fio2_set=60)
    for minutes, said in ((29, True), (30, False), (31, False)):
        worked = pf(before, row(fio2_set=50), drawn(minutes))
        assert (f"changed {minutes} min" in value(worked).basis) is said


@pytest.mark.parametrize(("hours", "known"), [(7.9, True), (8, True), (8.1, False)])
def test_oxygen_over_eight_hours_old_is_not_guessed(hours: float, known: bool) -> None:
    worked = pf(row(fio2_set=50), drawn(hours * 60))
    assert isinstance(worked.answer, Value) is known
    if not known:
        assert absent(worked).missing == ("fio2",)


def test_only_an_arterial_specimen_gives_a_ratio() -> None:
    assert absent(pf(row(fio2_set=50), drawn(gas_specimen="unknown"))).applicable
    assert not absent(pf(row(fio2_set=50), drawn(gas_specimen="venous"))).applicable
    unsaid = row("", Kind.GAS, later(minutes=20), pao2=90)
    assert absent(pf(row(fio2_set=50), unsaid)).missing == ("sample",)


OF_BLOOD = [
    "pf_ratio",
    "berlin_class",
    "oxygenation_index",
    "ventilatory_ratio",
    "alveolar_po2",
    "aa_gradient",
]
CHECK = {
    "fio2_set": 50,
    "peep_set": 10,
    "minute_vent_obs": "8.4",
    "mean_airway_pressure_obs": 15,
    "hold_passive": "yes",
}


@pytest.mark.parametrize("key", OF_BLOOD)
def test_no_index_of_a_gas_takes_an_unnamed_specimen_for_an_arterial_one(key: str) -> None:
    gases = {
        "unsaid": row("", Kind.GAS, later(minutes=20), pao2=90, paco2=40),
        "unknown": drawn(gas_specimen="unknown"),
        "skipped": row(
            "", Kind.GAS, later(minutes=20), {"gas_specimen": "forgotten"}, pao2=90, paco2=40
        ),
    }
    told = {name: absent(answers(course(row(**CHECK), each))[key]) for name, each in gases.items()}
    assert {each.missing for each in told.values()} == {("sample",)}
    assert told["skipped"].reason == "specimen not done: forgotten"
    assert not absent(answers(course(row(**CHECK), drawn(gas_specimen="venous")))[key]).applicable
    assert not isinstance(answers(course(row(**CHECK), drawn()))[key].answer, NotAvailable)


@pytest.mark.parametrize(("pao2", "given"), [("256.9", True), ("257.0", False)])
def test_oxygen_above_the_alveolar_ceiling_is_refused_a_ratio(pao2: str, given: bool) -> None:
    worked = pf(row(fio2_set=40), drawn(pao2=pao2, paco2="42"))
    assert isinstance(worked.answer, Value) is given
    if not given:
        assert isinstance(worked.answer, Query)
        assert "the FiO2 was stale or wrong" in worked.answer.reason


def test_the_sites_barometric_pressure_moves_the_ceiling() -> None:
    facts = course(row(fio2_set=40), drawn(pao2=240))
    low = work_out_course(facts, SiteInTime(SiteFigures(barometric_mmhg=Decimal(630))))[-1][1][
        "pf_ratio"
    ]
    assert isinstance(low.answer, Query)
    assert isinstance(answers(facts)["pf_ratio"].answer, Value)


def test_a_band_is_read_from_the_displayed_ratio() -> None:
    worked = answers(course(row(fio2_set=45, peep_set=8), drawn(pao2="90.0074")))
    assert value(worked["pf_ratio"]).shown == "200"
    assert isinstance(worked["berlin_class"].answer, Verdict)
    assert worked["berlin_class"].answer.word == "moderate"


@pytest.mark.parametrize(("minutes", "near"), [(59, True), (60, True), (61, False)])
def test_measured_values_of_the_hour_before_count_as_of_the_gas(minutes: int, near: bool) -> None:
    check = row(
        fio2_set=40,
        peep_set=8,
        minute_vent_obs=9,
        mean_airway_pressure_obs=15,
        hold_passive="yes",
    )
    worked = answers(course(check, drawn(minutes)))
    assert isinstance(worked["ventilatory_ratio"].answer, Value) is near
    assert isinstance(worked["oxygenation_index"].answer, Value) is near


@pytest.mark.parametrize(
    "support",
    [{"ecmo_sweep_lpm": 4}, {"ecmo_flow_lpm": 4}],
)
def test_on_a_membrane_lung_the_ratios_are_off(support: dict[str, object]) -> None:
    worked = answers(course(row(fio2_set=50, minute_vent_obs=8, **support), drawn()))
    for key in ("pf_ratio", "ventilatory_ratio", "oxygenation_index"):
        assert not absent(worked[key]).applicable


def test_a_membrane_lung_charted_as_an_event_counts_until_its_end() -> None:
    running = Event("e", "ecmo", later(hours=-5), None, "", "ash")
    facts = course(row(fio2_set=50), drawn(), events=(running,))
    assert not absent(answers(facts)["pf_ratio"]).applicable
    ended = replace(facts, events=(replace(running, ended_at=AT),))
    assert value(answers(ended)["pf_ratio"])


def test_end_tidal_is_not_mixed_expired() -> None:
    assert isinstance(
        answers(course(row(etco2_mmhg=35), drawn()))["dead_space_enghoff"].answer, NotAvailable
    )


def test_a_gas_row_answers_for_gases_and_a_check_for_the_rest() -> None:
    facts = course(row(**HOLD, fio2_set=40, spo2=94), drawn())
    check, blood = (worked for _, worked in work_out_course(facts))
    assert absent(check["pf_ratio"]).reason == "needs a blood gas"
    assert not absent(blood["driving_pressure"]).applicable
    assert value(blood["pbw"]).shown == value(check["pbw"]).shown

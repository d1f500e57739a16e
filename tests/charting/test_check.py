"""A whole form: fields by themselves, against each other, against before; nothing is ever lost."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.charting.check import TypedCheck, read_check
from app.charting.facts import Kind, Mark, State
from app.charting.fields import FIELDS
from tests.charting.rows import AT, course, later, row

NOW = later(hours=5)
FULL = {
    "fio2_set": "45",
    "peep_set": "8",
    "tidal_volume_set": "420",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "trigger_flow_set": "2",
    "resp_rate_obs": "20",
    "tidal_volume_obs": "420",
    "minute_vent_obs": "8.4",
    "peak_inspiratory_pressure_obs": "32",
    "plateau_pressure_obs": "26",
    "hold_passive": "yes",
    "peep_total": "8",
    "spo2": "94",
    "heart_rate": "88",
    "airway_depth_cm": "22",
    "cuff_pressure_cmh2o": "26",
}


def form(typed: dict[str, str], **more) -> TypedCheck:
    about = {"kind": Kind.FULL, "observed_at": later(hours=4), "mode_family": "ac_vc", **more}
    return TypedCheck(typed=typed, **about)


def read(typed: dict[str, str], *rows, **more):
    return read_check(form(typed, **more), course(*rows), now=NOW)


def of(found, code: str):
    return next(reading for reading in found.readings if reading.field == code)


def test_a_whole_form_stands() -> None:
    found = read(FULL)
    assert found.stands, found.objections
    assert {reading.field for reading in found.readings} == set(FULL)


@pytest.mark.parametrize(
    ("typed", "state"), [("8", State.CONFIRMED), ("8.0", State.CONFIRMED), ("10", State.CHANGED)]
)
def test_a_setting_typed_as_it_was_is_confirmed_and_otherwise_changed(typed, state) -> None:
    found = read({**FULL, "peep_set": typed, "peep_total": typed}, row(peep_set="8"))
    assert of(found, "peep_set").state is state


def test_a_setting_without_a_value_before_is_measured() -> None:
    assert of(read(FULL), "peep_set").state is State.MEASURED


def test_a_kept_setting_is_confirmed_with_its_value() -> None:
    typed = {code: text for code, text in FULL.items() if code != "peep_set"}
    found = read(typed, row(peep_set="8"), kept=frozenset({"peep_set"}))
    kept = of(found, "peep_set")
    assert (kept.state, kept.number) == (State.CONFIRMED, 8)


def test_what_was_seen_and_is_no_longer_so_is_asked_before_it_is_confirmed() -> None:
    typed = {code: text for code, text in FULL.items() if code != "peep_set"}
    looked = {"kept": frozenset({"peep_set"}), "seen": {"peep_set": "8"}}
    assert read(typed, row(peep_set="8.0"), **looked).stands
    (asked,) = read(typed, row(peep_set="7.5"), **looked).objections
    assert (asked.field, asked.kind) == ("peep_set", "asked")
    assert "was 8 when you looked; 7.5 is charted now" in asked.sentence
    again = read(typed, row(peep_set="7.5"), accepted=frozenset({asked.key}), **looked)
    assert (again.stands, of(again, "peep_set").number) == (True, Decimal("7.5"))


def test_a_unit_chosen_for_the_form_stands_in_where_none_was_typed() -> None:
    slip = {"gas_specimen": "arterial", "ph": "7.40", "paco2": "5.3", "pao2": "90 mmHg"}
    units = {"paco2": "kPa", "pao2": "kPa"}
    found = read(slip, kind=Kind.GAS, mode_family="", units=units)
    carbon, oxygen = of(found, "paco2"), of(found, "pao2")
    assert (carbon.raw, carbon.unit_typed) == ("5.3", "kPa")
    assert round(carbon.number) == 40
    assert (oxygen.number, oxygen.unit_typed) == (90, "mmHg")


def test_a_measured_value_is_never_kept() -> None:
    found = read({"fio2_set": "45"}, row(spo2="94"), kept=frozenset({"spo2"}))
    assert "spo2" not in {reading.field for reading in found.readings}


def test_a_reason_makes_a_reading_without_a_value() -> None:
    found = read({"spo2": "94"}, reasons={"plateau_pressure_obs": "effort"})
    assert of(found, "plateau_pressure_obs").state is State.NOT_MEASURED


def test_a_value_beats_a_reason_for_the_same_field() -> None:
    found = read(FULL, reasons={"plateau_pressure_obs": "effort"})
    assert of(found, "plateau_pressure_obs").state is State.MEASURED


def test_what_is_left_empty_is_one_question_for_the_whole_form() -> None:
    typed = {code: text for code, text in FULL.items() if code not in ("spo2", "heart_rate")}
    (asked,) = read(typed).objections
    assert (asked.field, asked.kind) == ("", "asked")
    assert "HR, SpO2" in asked.sentence or "SpO2, HR" in asked.sentence
    again = read(typed, accepted=frozenset({asked.key}))
    assert (again.stands, again.answered) == (True, (asked,))


def test_an_answer_to_one_gap_is_no_answer_to_another() -> None:
    typed = {code: text for code, text in FULL.items() if code != "spo2"}
    (asked,) = read(typed).objections
    less = {code: text for code, text in typed.items() if code != "heart_rate"}
    assert not read(less, accepted=frozenset({asked.key})).stands


def test_two_humidifiers_are_held_up_and_can_be_recorded_as_found() -> None:
    # Decision 29: a blocking check never stops a true finding.
    typed = {**FULL, "humidifier": "hme_with_heated_found"}
    (blocked,) = read(typed).objections
    assert blocked.kind == "blocked"
    found = read(typed, accepted=frozenset({blocked.key}))
    assert found.stands
    assert Mark.AS_FOUND in of(found, "humidifier").marks


@pytest.mark.parametrize(("minutes", "stands"), [(-1, True), (0, True), (2, True), (3, False)])
def test_a_time_more_than_two_minutes_ahead_is_refused_whatever_is_accepted(
    minutes: int, stands: bool
) -> None:
    ahead = NOW + timedelta(minutes=minutes)
    found = read(FULL, observed_at=ahead)
    assert found.stands is stands
    if not stands:
        (refused,) = found.objections
        assert (refused.field, refused.kind) == ("observed_at", "refused")
        assert not read(FULL, observed_at=ahead, accepted=frozenset({"in_the_future:"})).stands


def test_settings_of_the_mode_before_say_nothing_in_the_new_one() -> None:
    before = row("ac_vc", resp_rate_set="20", tidal_volume_set="420")
    typed = {"resp_rate_obs": "14", "tidal_volume_obs": "300", "spo2": "95", "heart_rate": "80"}
    found = read(typed, before, mode_family="csv_ps")
    assert not [o for o in found.objections if o.field in ("resp_rate_obs", "tidal_volume_obs")]


def test_an_import_takes_what_would_be_asked_and_says_so() -> None:
    found = read({**FULL, "fio2_set": "1"}, source="import", accept_everything=True)
    assert found.stands
    assert Mark.UNCONFIRMED_IMPORT in of(found, "fio2_set").marks


def test_an_import_drops_what_is_refused_and_keeps_the_rest() -> None:
    found = read({**FULL, "tidal_volume_obs": "585573"}, source="import", accept_everything=True)
    assert [dropped.field for dropped in found.dropped] == ["tidal_volume_obs"]
    assert of(found, "spo2").number == 94


def test_an_import_drops_what_a_block_is_about() -> None:
    typed = {**FULL, "humidifier": "hme_with_heated_found"}
    found = read(typed, source="import", accept_everything=True)
    assert [dropped.field for dropped in found.dropped] == ["humidifier"]


TEXTS = st.one_of(
    st.text(max_size=12),
    st.from_regex(r"\A[-+]?[0-9]{1,4}([.,][0-9]{1,3})?( ?[a-zA-Z%/0-9]{1,6})?\Z"),
)


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.sampled_from([c for c in FIELDS if c != "mode_family"]), TEXTS, max_size=14),
    st.sampled_from(["", "ac_vc", "csv_ps", "hfnc", "aprv"]),
)
def test_any_text_in_any_field_is_taken_refused_or_asked_and_never_lost(typed, family) -> None:
    found = read(typed, row(peep_set="8", fio2_set="40"), mode_family=family)
    spoken = {o.field for o in found.objections} | {reading.field for reading in found.readings}
    assert {code for code, text in typed.items() if text.strip()} <= spoken


@settings(max_examples=40, deadline=None)
@given(st.dictionaries(st.sampled_from(list(FULL)), TEXTS, max_size=14))
def test_an_import_never_holds_anything_up(typed) -> None:
    found = read({**FULL, **typed}, source="import", accept_everything=True)
    assert found.stands
    kept = {reading.field for reading in found.readings} | {d.field for d in found.dropped}
    assert {code for code, text in {**FULL, **typed}.items() if text.strip()} <= kept


def test_rows_after_the_time_observed_are_not_before_it() -> None:
    later_row = row(at=later(hours=4.5), peep_set="16")
    found = read(FULL, row(at=AT, peep_set="8"), later_row)
    assert of(found, "peep_set").state is State.CONFIRMED


def test_a_struck_row_is_nothing_that_was_before() -> None:
    struck = replace(row(peep_set="8"), struck="wrong patient")
    assert of(read(FULL, struck), "peep_set").state is State.MEASURED

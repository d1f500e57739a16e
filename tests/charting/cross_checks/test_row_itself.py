"""The row as a whole: its time, its machine, its patient."""

import pytest

from app.charting.cross_checks import Weight
from app.charting.event_facts import Event
from tests.charting.cross_checks.held import around, codes, found, in_force
from tests.charting.rows import AT, later, row


@pytest.mark.parametrize(("minutes", "said"), [(1, False), (-2, False), (-2.1, True)])
def test_a_time_still_to_come_blocks(minutes: float, said: bool) -> None:
    findings = found(row(spo2=94), around(now=later(minutes=minutes)))
    assert ("in_the_future" in findings) is said
    if said:
        assert findings["in_the_future"].weight is Weight.BLOCK


def test_a_time_before_support_started_is_asked() -> None:
    assert codes(row(spo2=94), around(support_started_at=later(minutes=1))) == {"before_support"}
    assert codes(row(spo2=94), around(support_started_at=AT)) == set()


def event(kind: str, ended: bool) -> Event:
    return Event("e1", kind, later(hours=-1), AT if ended else None, "", "ash")


def test_a_row_while_the_patient_is_away_is_asked() -> None:
    assert codes(row(spo2=94), around(events=(event("away", ended=False),))) == {"while_away"}
    assert codes(row(spo2=94), around(events=(event("away", ended=True),))) == set()
    assert codes(row("standby"), around(events=(event("standby", ended=False),))) == set()


def test_a_machine_known_elsewhere_blocks_where_it_is_charted() -> None:
    elsewhere = around(device_elsewhere="L9")
    assert found(row(device_id="V-12"), elsewhere)["device_elsewhere"].weight is Weight.BLOCK
    assert codes(row(spo2=94), elsewhere) == set()


def test_three_far_steps_at_once_ask_for_the_patient() -> None:
    before = around(
        previous=in_force(fio2_set=40, peep_set=8, resp_rate_set=14, tidal_volume_set=400)
    )
    assert "many_jumps" in codes(row(fio2_set=80, peep_set=16, resp_rate_set=30), before)
    assert "many_jumps" not in codes(row(fio2_set=80, peep_set=16, resp_rate_set=24), before)


def test_a_row_whose_measured_values_all_repeat_is_asked() -> None:
    values = {
        "spo2": 94,
        "heart_rate": 88,
        "resp_rate_obs": 20,
        "tidal_volume_obs": 405,
        "minute_vent_obs": "8.2",
    }
    before = around(previous=in_force(**values))
    assert codes(row(**values), before) == {"everything_repeats"}
    assert codes(row(**{**values, "spo2": 95}), before) == set()
    del values["spo2"]
    assert codes(row(**values), before) == set()


def test_a_sedation_score_under_a_block_is_noted() -> None:
    assert codes(row(rass=-5, nmb="yes")) == {"sedation_score_under_block"}
    assert codes(row(rass=-5, nmb="no")) == set()

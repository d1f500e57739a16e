"""All checks together: silence on a row in order, keys, and any row at all."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from app.charting.cross_checks import CHECKS, check
from app.charting.facts import Airway, Assessment, Kind
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.mode_families import MODE_FAMILIES
from tests.charting.cross_checks.held import around, found
from tests.charting.rows import START, airway, row


def test_a_row_in_order_says_nothing() -> None:
    quiet = row(
        fio2_set=40,
        peep_set=8,
        tidal_volume_set=420,
        resp_rate_set=20,
        inspiratory_time_set="0.9",
        tidal_volume_obs=415,
        resp_rate_obs=20,
        minute_vent_obs="8.4",
        peak_inspiratory_pressure_obs=30,
        mean_airway_pressure_obs=14,
        plateau_pressure_obs=24,
        hold_passive="yes",
        peep_total=9,
        alarm_pressure_high=40,
        alarm_minute_vent_low=5,
    )
    assert check(quiet, around()) == ()


def test_a_finding_key_names_the_values_it_is_about() -> None:
    first = found(row(sbp=60, dbp=60))["levels_crossed"]
    second = found(row(sbp=60, dbp=70))["levels_crossed"]
    assert first.key == "levels_crossed:60,60"
    assert first.key != second.key


def test_every_check_stands_in_the_list_once() -> None:
    assert len(CHECKS) == len(set(CHECKS))


NUMBER_CODES = sorted(code for code, f in FIELDS.items() if f.shape is Shape.NUMBER)
CHOICE_CODES = sorted(code for code, f in FIELDS.items() if f.shape is Shape.CHOICE)


@st.composite
def any_row(draw: st.DrawFn) -> Assessment:
    values: dict[str, object] = {}
    for code in draw(st.lists(st.sampled_from(NUMBER_CODES), max_size=25, unique=True)):
        hard = FIELDS[code].hard
        assert hard is not None
        values[code] = draw(st.decimals(hard.low, hard.high, places=1))
    for code in draw(st.lists(st.sampled_from(CHOICE_CODES), max_size=8, unique=True)):
        values[code] = draw(st.sampled_from([choice.code for choice in FIELDS[code].choices]))
    family = draw(st.sampled_from([*MODE_FAMILIES, ""]))
    return row(family, draw(st.sampled_from(list(Kind))), **values)


@given(any_row(), any_row())
def test_no_row_raises_and_every_finding_is_a_sentence_about_fields(
    now: Assessment, before: Assessment
) -> None:
    tube: Airway = airway()
    context = around(
        settings=before.readings,
        previous=before.readings,
        airway=tube,
        gas=before,
        support_started_at=START,
        pbw_kg=Decimal(60),
    )
    for finding in check(now, context):
        assert finding.sentence.endswith((".", "?"))
        assert set(finding.fields) <= set(FIELDS)
        assert finding.key.startswith(finding.code)

"""A row's readings under the short names that the arithmetic knows, each with its origin.

Left out on purpose: the minute volume as an input of a bedside index (it is a minute's average and
stands apart from one breath times the rate), and the displayed PEEP (it is no hold).
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from types import MappingProxyType

from msgspec import Struct

from app.charting.facts import BodySize, Kind, Reading, State
from app.charting.mode_families import MODE_FAMILIES, family_of
from app.charting.moment import Moment
from app.charting.reasons import reason_words
from app.physiology.answer import Answer
from app.physiology.breathing import FAMILIES


class Told(Struct, frozen=True):
    """An input that no reading holds: the mode in force, a site's figure, a difference of rates."""

    words: str


class WorkedOut(Struct, frozen=True):
    """An index's answer with the origin of every input: a reading, a height, another index.

    `inputs` are keyed by the arithmetic's short names. With a value they are those it used; without
    one, those that were there.
    """

    answer: Answer
    inputs: Mapping[str, "Origin"]


Origin = Reading | BodySize | WorkedOut | Told
Given = Decimal | str | bool | None


class Term(Struct, frozen=True):
    """One input: what the arithmetic gets, and where it came from."""

    given: Given
    origin: Origin


Terms = dict[str, Term]

_MEASURED = {
    "vte": "tidal_volume_obs",
    "rr": "resp_rate_obs",
    "ppeak": "peak_inspiratory_pressure_obs",
    "pplat": "plateau_pressure_obs",
    "peep_total": "peep_total",
    "passive": "hold_passive",
    "pmean": "mean_airway_pressure_obs",
    "leak_pct": "leak_percent",
    "spo2": "spo2",
    "petco2": "etco2_mmhg",
}
"""Of the row itself: a hold's volume and pressures come from one assessment or not at all."""

_SET = {
    "peep_set": "peep_set",
    "pause": "inspiratory_pause_set",
    "flow_pattern": "flow_pattern",
    "dp_insp_above_peep": "pressure_control_set",
    "ps": "pressure_support_set",
    "ti": "inspiratory_time_set",
}

_GAS = {"pao2": "pao2", "paco2": "paco2", "ph": "ph", "hco3": "hco3", "sample": "gas_specimen"}
_NEAR = {
    "ve": "minute_vent_obs",
    "pmean": "mean_airway_pressure_obs",
    "passive": "hold_passive",
}

CHARTED_AS: Mapping[str, str] = MappingProxyType(
    {
        **_NEAR,
        **_MEASURED,
        **_SET,
        **_GAS,
        "vt_set": "tidal_volume_set",
        "flow": "flow_rate_set",
        "vt_spont": "tidal_volume_spont_obs",
        "rr_spont": "resp_rate_spont_obs",
        "fio2": "fio2_set",
        "family": "mode_family",
        "height": "height_cm",
        "sex": "pbw_sex",
    }
)
"""The field in which each input of the arithmetic is charted, for pages that say what is missing.
"""


def terms_of(moment: Moment) -> Terms:
    """Every input that this moment knows; one that nobody could measure carries its reason."""
    terms = dict(_around(moment))
    terms |= dict(_of_a_gas(moment) if moment.is_gas else _of_a_check(moment))
    return terms


def _term(reading: Reading) -> Term:
    if reading.state is State.NOT_MEASURED:
        return Term(f"not done: {reason_words(reading.reason)}", reading)
    return Term(reading.word if reading.number is None else reading.number, reading)


def _read(names: Mapping[str, str], readings: Mapping[str, Reading]) -> Iterator[tuple[str, Term]]:
    for name, code in names.items():
        reading = readings.get(code)
        if reading is not None:
            yield name, _term(reading)


def _around(moment: Moment) -> Iterator[tuple[str, Term]]:
    """What surrounds a row whatever its kind: body, mode, oxygen, extracorporeal support."""
    body = moment.body
    if body is not None:
        yield "height", Term(body.height_cm, body)
        yield "sex", Term(body.pbw_sex, body)
    if moment.family:
        family = moment.family if moment.family in MODE_FAMILIES else "other"
        yield "family", Term(family, Told(family_of(family).label))
    if moment.oxygen is not None:
        yield "fio2", _term(moment.oxygen)
    if moment.ecmo:
        yield "ecmo", Term(moment.ecmo, Told("extracorporeal support in use"))


def _of_a_gas(moment: Moment) -> Iterator[tuple[str, Term]]:
    """The specimen is always asked for: unnamed, none is taken for arterial (decision 25)."""
    yield "sample", Term(None, Told("nobody said which specimen it was"))
    yield from _read(_GAS, moment.row.readings)
    specimen = moment.row.readings.get("gas_specimen")
    if specimen is not None and specimen.state is State.NOT_MEASURED:
        yield "sample", Term(None, specimen)
    yield from _read(_NEAR, moment.near)
    peep = moment.settings.get("peep_set")
    if peep is not None:
        yield "peep_set", _term(peep)
    words = f"barometric pressure of the site, {moment.barometric_mmhg.normalize():f} mmHg"
    yield "pb", Term(moment.barometric_mmhg, Told(words))


def _of_a_check(moment: Moment) -> Iterator[tuple[str, Term]]:
    """A word on effort is always asked for: unanswered is not passive (decision 5)."""
    yield "passive", Term(None, Told("nobody said whether the breath was passive"))
    yield from _read(_MEASURED, moment.row.readings)
    yield from _read(_SET, moment.settings)
    yield from _set_volume(moment)
    yield from _set_flow(moment)
    yield from _streams(moment)


def _set_volume(moment: Moment) -> Iterator[tuple[str, Term]]:
    """The set volume, where the row looked at it or was a full check; never of another row."""
    reading = moment.settings.get("tidal_volume_set")
    looked = moment.row.kind is Kind.FULL or "tidal_volume_set" in moment.row.readings
    if reading is not None and looked:
        yield "vt_set", _term(reading)


def _set_flow(moment: Moment) -> Iterator[tuple[str, Term]]:
    """The flow only where a constant one is set: any other changes within the breath."""
    flow, pattern = moment.settings.get("flow_rate_set"), moment.settings.get("flow_pattern")
    if flow is not None and pattern is not None and pattern.word == "constant":
        yield "flow", _term(flow)


def _streams(moment: Moment) -> Iterator[tuple[str, Term]]:
    """Mandatory and spontaneous volume and rate, where breaths are mixed and both were read."""
    known = FAMILIES.get(moment.family)
    if known is None or known.one_stream:
        return
    read = moment.row.readings
    names = (
        "tidal_volume_obs",
        "tidal_volume_spont_obs",
        "resp_rate_obs",
        "resp_rate_spont_obs",
    )
    volume, own_volume, rate, own_rate = (read.get(name) for name in names)
    if volume is None or own_volume is None or rate is None or own_rate is None:
        return
    if rate.number is None or own_rate.number is None or own_rate.number > rate.number:
        return
    yield "vt_mand", _term(volume)
    yield "vt_spont", _term(own_volume)
    yield "rr_spont", _term(own_rate)
    yield "rr_mand", Term(rate.number - own_rate.number, Told("total less spontaneous rate"))

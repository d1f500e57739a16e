"""From rounds and samples to what a person would have typed at the bedside, field by field."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Final

from msgspec import Struct, field

from app.charting.facts import Kind
from app.charting.field import Field
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.exchange.clif_beside import Beside
from app.exchange.clif_gases import Sample
from app.exchange.clif_rounds import Round

FIELD_OF: Final[Mapping[str, Field]] = {
    declared.clif: declared for declared in FIELDS.values() if declared.clif
}
"""CLIF column or category to the field it is charted as."""

MONITORED: Final = ("heart_rate", "sbp", "dbp", "map", "spo2", "temp_c")
BREATH_OVER_SET: Final = Decimal(1)
"""A hold is taken as passive where the total rate is at most this much over the set rate."""
ABOVE_PEEP: Final = "pressure_control_set"
"""CLIF does not say from where this pressure counts; it is taken as above PEEP and labelled."""


class ClifCheck(Struct, frozen=True):
    """One check as typed text by field code. `inferred` fields were worked out by a rule of the
    import, not charted; `conflicts` are later values of the same round that were left."""

    kind: Kind
    at: datetime
    family: str
    typed: Mapping[str, str]
    inferred: frozenset[str] = frozenset()
    conflicts: tuple[tuple[str, str], ...] = field(default=())


def check_of(found: Round, beside: Beside) -> ClifCheck | None:
    """One round as a check; None where its rows hold no value (a device named, nothing read).

    PEEP charted with a plateau counts as total PEEP. Vital signs join, they make no check alone.
    """
    typed = dict(_typed(found.values))
    if not typed:
        return None
    inferred = {ABOVE_PEEP} & typed.keys()
    if "plateau_pressure_obs" in typed and "peep_obs" in typed:
        typed["peep_total"] = typed.pop("peep_obs")
        inferred.add("peep_total")
    if passive_by_rates(found):
        typed["hold_passive"] = "yes"
        inferred.add("hold_passive")
    typed |= dict(_beside(found, beside))
    conflicts = tuple(
        (FIELD_OF[clash.column].code, as_typed(FIELD_OF[clash.column], clash.left))
        for clash in found.conflicts
    )
    kind = Kind.FULL if is_full(found.values) else Kind.BRIEF
    return ClifCheck(kind, found.at, found.family, typed, frozenset(inferred), conflicts)


def gas_of(sample: Sample) -> ClifCheck:
    """A sample as a blood gas with its specimen; mode and FiO2 are left to those in force."""
    typed = {"gas_specimen": sample.specimen}
    for category, finding in sample.values.items():
        declared = FIELD_OF[category]
        typed[declared.code] = as_typed(declared, finding.value, finding.unit)
    conflicts = tuple(
        (FIELD_OF[left.category].code, as_typed(FIELD_OF[left.category], left.value, left.unit))
        for _, left in sample.conflicts
        if left.category in FIELD_OF
    )
    return ClifCheck(Kind.GAS, sample.at, "", typed, conflicts=conflicts)


def passive_by_rates(found: Round) -> bool:
    """Whether a plateau may be taken as passive: yes only in a controlled family whose total rate
    is at most one over the set rate. No set or no total rate is no, and so is a set rate that will
    be refused."""
    set_rate, total = found.values.get("resp_rate_set"), found.values.get("resp_rate_obs")
    if "plateau_pressure_obs" not in found.values or set_rate is None or total is None:
        return False
    possible = FIELD_OF["resp_rate_set"].hard
    if possible is not None and not possible.holds(set_rate):
        return False
    return family_of(found.family).controlled and total <= set_rate + BREATH_OVER_SET


def is_full(values: Mapping[str, Decimal]) -> bool:
    """Whether a round is a whole check: a setting and a measurement of the machine, FiO2 aside."""
    settings = any(name.endswith("_set") and name != "fio2_set" for name in values)
    return settings and any(name.endswith("_obs") for name in values)


def _typed(values: Mapping[str, Decimal]) -> Iterator[tuple[str, str]]:
    for column, value in values.items():
        declared = FIELD_OF[column]
        yield declared.code, as_typed(declared, value)


def _beside(found: Round, beside: Beside) -> Iterator[tuple[str, str]]:
    for category in MONITORED:
        value = beside.vital(category, found.at)
        if value is not None:
            yield FIELD_OF[category].code, as_typed(FIELD_OF[category], value)
    counted = beside.vital("respiratory_rate", found.at)
    if counted is not None and _counted_by_eye(found):
        yield "resp_rate_obs", as_typed(FIELDS["resp_rate_obs"], counted)
    if beside.prone(found.at):
        yield "position", "prone"


def _counted_by_eye(found: Round) -> bool:
    """Whether the monitor's rate is the only one: nothing else counts where no machine breathes."""
    open_air = bool(found.family) and not family_of(found.family).ventilates
    return open_air and "resp_rate_obs" not in found.values


def as_typed(declared: Field, value: Decimal, unit: str = "") -> str:
    """The text a person would have typed: FiO2 in percent (CLIF keeps a fraction), no trailing
    zeros, and the unit where it is not the field's own."""
    percent = declared.code == "fio2_set" and value <= 1
    text = plain(value * 100 if percent else value)
    foreign = declared.unit and unit and unit.lower() != declared.unit.lower()
    return f"{text} {unit}" if foreign else text


def plain(value: Decimal) -> str:
    """Digits without exponent or trailing zeros; a fourth decimal where three could be read as
    thousands."""
    text = f"{value:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text

"""Which fields a check asks for: by mode family, by kind of row and by airway.

The tables follow the trade's texts (from memory) and engineering judgement. Two fields can stand in
for one another (a flow or a pressure trigger): the first is asked, either answers.
"""

from collections.abc import Collection, Mapping
from functools import cache
from types import MappingProxyType

from app.charting.facts import Kind
from app.charting.field import Field, Group, Use
from app.charting.fields import FIELDS, in_group
from app.charting.mode_families import MODE_FAMILIES, family_of
from app.charting.uses_by_airway import BY_AIRWAY, GUESSED_AIRWAY
from app.charting.uses_by_family import MEASURED, SETTINGS

EITHER: tuple[frozenset[str], ...] = (
    frozenset({"trigger_flow_set", "trigger_pressure_set"}),
    frozenset({"flow_rate_set", "inspiratory_time_set"}),
    frozenset({"time_low_set", "resp_rate_set"}),
    frozenset({"ipap_set", "pressure_support_set"}),
    frozenset({"fio2_set", "lpm_set"}),
)
"""Fields of which one is enough, in a family that requires one and offers the other."""

ANSWERS = (
    "spo2",
    "resp_rate_obs",
    "tidal_volume_obs",
    "minute_vent_obs",
    "peak_inspiratory_pressure_obs",
    "plateau_pressure_obs",
    "hold_passive",
    "peep_total",
)
"""What a brief check reads beside the family's main settings: what answers to a change of them."""

BRIEF_REQUIRED = ("spo2", "resp_rate_obs")
FULL_REQUIRED = ("spo2", "heart_rate")
GAS_REQUIRED = ("gas_specimen", "ph", "paco2", "pao2")

_ALWAYS = (Group.PATIENT, Group.MONITOR, Group.HUMIDIFICATION, Group.SAFETY)
_BESIDE_THE_MODE = (
    "mode_family",
    "tidal_volume_target_ml_kg",
    "ordered_by",
    "orders_match",
    "change_reason",
    "nitric_oxide_ppm",
    "ecmo_sweep_lpm",
    "ecmo_flow_lpm",
    "ecmo_fdo2",
)
_CHEST = (
    "airway_category",
    "breath_sounds",
    "secretions_amount",
    "secretions_colour",
    "secretions_consistency",
    "cough",
)
Uses = Mapping[str, Use]


def _alarms(family: str) -> dict[str, Use]:
    shown = [field.code for field in in_group(Group.ALARMS)]
    if not family_of(family).ventilates:
        shown = ["alarm_spo2_low"]
    return dict.fromkeys(shown, Use.OPTIONAL)


def _full(family: str, airway: str) -> dict[str, Use]:
    known = family if family in MODE_FAMILIES else "other"
    uses = {field.code: Use.OPTIONAL for group in _ALWAYS for field in in_group(group)}
    uses |= dict.fromkeys((*_BESIDE_THE_MODE, *_CHEST), Use.OPTIONAL)
    uses |= _alarms(known) | SETTINGS[known] | MEASURED[known]
    if known != "standby":
        uses |= dict.fromkeys(FULL_REQUIRED, Use.REQUIRED)
    return uses | BY_AIRWAY[airway or GUESSED_AIRWAY.get(known, "")]


def _brief(family: str, airway: str) -> dict[str, Use]:
    full = _full(family, airway)
    known = family if family in MODE_FAMILIES else "other"
    main = (code for code, use in SETTINGS[known].items() if use is Use.REQUIRED)
    offered = [code for code in ("mode_family", *main, "change_reason", *ANSWERS) if code in full]
    uses = {code: _eased(full[code]) for code in offered}
    return uses | {code: full[code] for code in BRIEF_REQUIRED if code in offered}


def _eased(use: Use) -> Use:
    return Use.OPTIONAL if use is Use.REQUIRED else use


def _gas() -> dict[str, Use]:
    uses = {field.code: Use.OPTIONAL for field in in_group(Group.GAS)}
    return uses | dict.fromkeys(GAS_REQUIRED, Use.REQUIRED)


@cache
def _uses(family: str, kind: Kind, airway: str) -> Uses:
    if kind is Kind.GAS:
        return MappingProxyType(_gas())
    known = airway if airway in BY_AIRWAY else ""
    return MappingProxyType((_full if kind is Kind.FULL else _brief)(family, known))


def use_of(family: str, field_code: str, kind: Kind = Kind.FULL, airway_category: str = "") -> Use:
    """What a family does with a field in this kind of row, with this airway.

    HIDDEN is the answer for every field that the tables do not name. A family that nobody knows is
    treated as "other"; an airway that nobody charted as the one that the family usually has.
    """
    return _uses(family, kind, airway_category).get(field_code, Use.HIDDEN)


@cache
def fields_for(family: str, kind: Kind, airway_category: str = "") -> tuple[Field, ...]:
    """The fields that this row's form shows, in bedside order; hidden ones are left out."""
    uses = _uses(family, kind, airway_category)
    shown = (field for field in FIELDS.values() if uses.get(field.code, Use.HIDDEN) != Use.HIDDEN)
    return tuple(shown)


def still_required(
    family: str, kind: Kind, airway_category: str, answered: Collection[str]
) -> tuple[Field, ...]:
    """The required fields with neither a value nor a reason, in bedside order.

    `answered` holds the codes that carry a reading, "not measured (why)" included.
    """
    uses = _uses(family, kind, airway_category)
    return tuple(
        field
        for field in fields_for(family, kind, airway_category)
        if uses[field.code] is Use.REQUIRED and not _answered(field.code, uses, answered)
    )


def _answered(code: str, uses: Uses, answered: Collection[str]) -> bool:
    if code in answered:
        return True
    stand_ins = {other for pair in EITHER if code in pair for other in pair if other in uses}
    return any(other in answered for other in stand_ins)

"""What an index would need where it has no number: each missing input, and where it is charted."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from types import MappingProxyType

from app.charting.facts import Reading
from app.charting.field import Field, Group, Manner
from app.charting.fields import FIELDS
from app.charting.in_force import MAX_AGE
from app.charting.moment import NEAR, Moment
from app.charting.terms import CHARTED_AS, Terms
from app.pages.explained_page import Need
from app.physiology.answer import Answer, Given, NotAvailable
from app.physiology.catalogue import Index
from app.physiology.vocabulary import TERMS

ANY_OF: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "vt": ("vte", "vt_set"),
        "peep": ("peep_set", "peep_total"),
        "ti": ("ti", "flow"),
    }
)
"""Inputs that stand in for one another: one of them is enough."""

ALL_OF: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "pbw": ("sex", "height"),
        "driving_pressure": ("pplat", "peep_set"),
        "resistance": ("ppeak", "pplat", "flow", "flow_pattern"),
        "compliance": ("vt", "pplat", "peep_set"),
        "pf": ("pao2", "fio2", "sample"),
        "sf": ("spo2", "fio2"),
    }
)
"""Inputs that are worked out themselves: what they are worked out from."""

_A_BREATH: Given = MappingProxyType(
    {
        "passive": None,
        "family": "ac_vc",
        "flow_pattern": "constant",
        "pplat": Decimal(20),
        "ppeak": Decimal(30),
        "peep_set": Decimal(5),
        "vt": Decimal(400),
    }
)
"""A breath that lacks nothing but the word on effort: an index that then asks for it hangs on it.
"""

_NEAR_A_GAS = frozenset({"ve", "pmean", "passive"})


def needs_of(index: Index, answer: Answer, terms: Terms, moment: Moment | None) -> tuple[Need, ...]:
    """Every input that is missing, once; none where no input would help.

    `terms` and `moment` are those of the row; empty and None where there is no row at all.
    """
    if not isinstance(answer, NotAvailable) or not answer.applicable:
        return ()
    found = dict.fromkeys(choice for name in answer.missing for choice in _choices(name))
    for wanted in index.inputs:
        if wanted.required:
            absent = (choice for choice in _choices(wanted.name) if not _has(choice, terms, moment))
            found |= dict.fromkeys(absent)
    if _effort_is_open(index, terms, moment):
        found |= {("passive",): None}
    return tuple(Need(_what(choice), _where(choice[0], moment)) for choice in found)


def _effort_is_open(index: Index, terms: Terms, moment: Moment | None) -> bool:
    """Whether the index hangs on a passive breath, and nobody has said whether it was one."""
    asked = index.work_out(_A_BREATH)
    hangs_on_it = isinstance(asked, NotAvailable) and asked.missing == ("passive",)
    known = terms.get("passive")
    of_a_check = moment is None or not moment.is_gas
    return hangs_on_it and of_a_check and (known is None or known.given is None)


def _choices(name: str) -> Iterator[tuple[str, ...]]:
    """The inputs behind a name; of each tuple one is enough."""
    for part in ALL_OF.get(name, (name,)):
        yield next((names for key, names in ANY_OF.items() if part in (key, *names)), (part,))


def _has(choice: tuple[str, ...], terms: Terms, moment: Moment | None) -> bool:
    return any(_is_there(name, terms, moment) for name in choice)


def _is_there(name: str, terms: Terms, moment: Moment | None) -> bool:
    term = terms.get(name)
    if term is None:
        return _is_held_back(name, moment)
    origin = term.origin
    return term.given is not None and (not isinstance(origin, Reading) or origin.has_value)


def _is_held_back(name: str, moment: Moment | None) -> bool:
    """A flow whose pattern nobody charted is kept from the arithmetic, but it is there."""
    return name == "flow" and moment is not None and "flow_rate_set" in moment.settings


def _what(names: tuple[str, ...]) -> str:
    return " or ".join(called(name) for name in names)


def called(name: str) -> str:
    """An input as a reader knows it: the label of the field it is charted in, with its unit."""
    field = _field_of(name)
    label, unit = (field.label, field.unit) if field else (TERMS[name].label, TERMS[name].unit)
    return f"{label}, {unit}" if unit else label


def _field_of(name: str) -> Field | None:
    return FIELDS.get(CHARTED_AS.get(name, ""))


def _where(name: str, moment: Moment | None) -> str:
    field = _field_of(name)
    if field is None:
        return "no field of the chart holds it"
    if field.group is Group.IDENTITY:
        return "with the patient's body size"
    if field.manner is Manner.SETTING:
        return f"among the settings, looked at within {MAX_AGE.total_seconds() / 3600:g} h"
    if field.group is Group.GAS:
        return "with a blood gas"
    if moment is not None and moment.is_gas and name in _NEAR_A_GAS:
        return f"in a check within {NEAR.total_seconds() / 60:g} min before the sample"
    return "in the same check"

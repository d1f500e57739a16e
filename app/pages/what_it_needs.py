"""What an index would need where it has no number: each missing input, and where it is charted.

The arithmetic is asked itself: with every input that is there standing for an ordinary breath, it
says what is missing first; with that added, what is missing next, until there is a number.
"""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from types import MappingProxyType

from msgspec import Struct

from app.charting.derive import NOT_READ
from app.charting.facts import Reading
from app.charting.field import Field, Group, Manner
from app.charting.fields import FIELDS
from app.charting.in_force import MAX_AGE
from app.charting.moment import NEAR, Moment
from app.charting.terms import CHARTED_AS, Term, Terms
from app.pages.explained_page import Need
from app.physiology.answer import Answer, NotAvailable
from app.physiology.catalogue import CATALOGUE, Index
from app.physiology.vocabulary import TERMS

INDEX_BEHIND: Mapping[str, str] = MappingProxyType(
    {
        "pbw": "pbw",
        "driving_pressure": "driving_pressure",
        "resistance": "airway_resistance",
        "compliance": "compliance_static",
        "pf": "pf_ratio",
        "sf": "sf_ratio",
    }
)
"""Inputs that are an index of their own, and which."""

ORDINARY: Mapping[str, Decimal | str] = MappingProxyType(
    {
        "vte": Decimal(420),
        "vt_set": Decimal(420),
        "vt_mand": Decimal(420),
        "vt_spont": Decimal(300),
        "rr": Decimal(20),
        "rr_mand": Decimal(12),
        "rr_spont": Decimal(8),
        "ve": Decimal("8.4"),
        "mve": Decimal("8.4"),
        "ti": Decimal("0.9"),
        "pause": Decimal(0),
        "flow": Decimal(60),
        "flow_pattern": "constant",
        "ppeak": Decimal(32),
        "pplat": Decimal(26),
        "pmean": Decimal(17),
        "peep_set": Decimal(10),
        "peep_total": Decimal(11),
        "dp_insp_above_peep": Decimal(16),
        "ps": Decimal(10),
        "leak_pct": Decimal(0),
        "passive": "yes",
        "family": "ac_vc",
        "height": Decimal(160),
        "sex": "F",
        "spo2": Decimal(94),
        "fio2": Decimal(50),
        "pao2": Decimal(80),
        "paco2": Decimal(44),
        "petco2": Decimal(38),
        "peco2_mixed": Decimal(30),
        "ph": Decimal("7.36"),
        "hco3": Decimal(24),
        "pb": Decimal(760),
        "sample": "arterial",
        "resistance": Decimal(6),
        "compliance": Decimal(28),
        "driving_pressure": Decimal(15),
        "pbw": Decimal("52.4"),
        "pf": Decimal(160),
        "sf": Decimal(188),
    }
)
"""One ordinary breath and gas in which every number agrees with the others: no value of it is ever
shown, it only lets the arithmetic get as far as it can."""

MOST_STEPS = 12
_NEAR_A_GAS = frozenset({"ve", "pmean", "passive"})

Given = dict[str, Decimal | str | bool | None]
Names = tuple[str, ...]


def needs_of(index: Index, answer: Answer, terms: Terms, moment: Moment | None) -> tuple[Need, ...]:
    """Every input that is missing, once, in words; none where no input would help."""
    missing = missing_inputs(index, answer, terms, moment)
    return tuple(Need(_what(names), _where(names[0], moment)) for names in missing)


def missing_inputs(
    index: Index, answer: Answer, terms: Terms, moment: Moment | None
) -> tuple[Names, ...]:
    """The arithmetic's names of what is missing; of each tuple one is enough.

    `terms` and `moment` are those of the row; empty and None where there is no row at all.
    """
    if not isinstance(answer, NotAvailable) or not answer.applicable:
        return ()
    there = {name: _stand_in(name, term) for name, term in terms.items() if _is_there(term)}
    of_a_gas = moment is not None and moment.is_gas
    if not of_a_gas:
        there.setdefault("passive", None)  # of a check it is always asked
    if moment is not None and "flow_rate_set" in moment.settings:
        # A flow whose pattern nobody charted is kept from the arithmetic, but it is there.
        there.setdefault("flow", ORDINARY["flow"])
    return tuple(dict.fromkeys(_Asking(there, of_a_gas).missing_for(index, answer.missing)))


class _Asking(Struct, frozen=True):
    """Asks an index for a number again and again; `there` grows by what was missing."""

    there: Given
    of_a_gas: bool

    def missing_for(self, index: Index, first: Names = ()) -> Iterator[Names]:
        """What is missing, in the order in which the arithmetic asks for it."""
        missing, unread = first, NOT_READ.get(index.key, frozenset())
        for _ in range(MOST_STEPS):
            if missing:
                yield from self._added([name for name in missing if name not in unread])
            read = {name: given for name, given in self.there.items() if name not in unread}
            answer = index.work_out(read)
            if not isinstance(answer, NotAvailable) or not answer.applicable or not answer.missing:
                return
            missing = answer.missing

    def _added(self, missing: Sequence[str]) -> Iterator[Names]:
        """One of the names, or all that it is worked out from, put there."""
        names = tuple(name for name in missing if self._is_charted(name))
        name = (*names, *missing)[0]
        behind = self._behind(name)
        if behind:
            yield from self.missing_for(CATALOGUE[behind])
        else:
            yield names or (name,)
        self.there[name] = ORDINARY.get(name)

    def _is_charted(self, name: str) -> bool:
        return name in CHARTED_AS and not self._behind(name)

    def _behind(self, name: str) -> str:
        """The index that an input is; of a check the minute volume is volume times rate."""
        if name in ("ve", "mve") and not self.of_a_gas:
            return "minute_ventilation"
        return INDEX_BEHIND.get(name, "")


def _stand_in(name: str, term: Term) -> Decimal | str | bool | None:
    return ORDINARY.get(name, term.given) if isinstance(term.given, Decimal) else term.given


def _is_there(term: Term) -> bool:
    origin = term.origin
    return term.given is not None and (not isinstance(origin, Reading) or origin.has_value)


def _what(names: Names) -> str:
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

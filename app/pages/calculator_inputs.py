"""The inputs of a calculator sheet: which units and answers each offers, and how typed text reads.

Numbers are read as the chart reads them and handed to the file calculator with their unit, so that
a page and `leeboard calculate` can never answer differently.
"""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from types import MappingProxyType

from msgspec import Struct, field

from app.charting.digits import Slip, Typed, quoted, read_number
from app.charting.fields import FIELDS
from app.charting.mode_families import MODE_FAMILIES
from app.charting.terms import CHARTED_AS
from app.charting.unit_words import WORDS
from app.pages.assess_page import Option
from app.pages.calculator_page import CalcInput
from app.physiology.catalogue import Input
from app.physiology.errors import UnitError
from app.physiology.units import convert, read_unit
from app.physiology.vocabulary import TERMS, doubt_about_kpa

UNIT = "unit."
"""Before an input's name: the unit that was chosen for it."""

ASKED = frozenset({"passive", "sample"})
"""Left open they are "asked and not answered", never "not mentioned" (decisions 5 and 25)."""

_GAS = ("mmHg", "kPa")
_CYLINDER = ("psi", "bar", "kPa")
_UNITS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "vt": ("mL", "L"),
        "vt_mand": ("mL", "L"),
        "vd": ("mL", "L"),
        "fio2": ("%", "fraction"),
        "peco2_mixed": _GAS,
        "po2": _GAS,
        "pb": ("mmHg", "kPa", "hPa"),
        "ph2o": _GAS,
        "temp": ("°C", "°F"),
        "pressure": _CYLINDER,
        "residual": _CYLINDER,
        "full_pressure": _CYLINDER,
    }
)
"""What may be typed where the chart has no field of its own; the first is computed in."""

_ANSWERS: Mapping[str, tuple[tuple[str, str], ...]] = MappingProxyType(
    {
        "sex": (("F", "Female"), ("M", "Male")),
        "family": tuple((family.code, family.label) for family in MODE_FAMILIES.values()),
        "basis": (("above_peep", "Above PEEP"), ("absolute", "Absolute")),
        "ecmo": (("none", "None"), ("vv", "Veno-venous"), ("va", "Veno-arterial")),
        "device": (("heated", "Heated humidifier"), ("hme", "Heat-moisture exchanger")),
        "passive": (("yes", "Yes"), ("no", "No")),
        "sample": tuple((one.code, one.label) for one in FIELDS["gas_specimen"].choices),
        "flow_pattern": tuple((one.code, one.label) for one in FIELDS["flow_pattern"].choices),
    }
)


def units_of(wanted: Input) -> tuple[str, ...]:
    """The units that may be chosen for an input, the usual one first."""
    if wanted.name in _UNITS:
        offered = _UNITS[wanted.name]
        return (wanted.unit, *(unit for unit in offered if unit != wanted.unit))
    charted = FIELDS.get(CHARTED_AS.get(wanted.name, ""))
    if charted is None or wanted.unit not in charted.accepted_units:
        return (wanted.unit,) if wanted.unit else ()
    return charted.accepted_units


class Sheet(Struct, frozen=True):
    """What a sheet was sent: texts by name. `place` keeps ids of several sheets apart."""

    place: str
    typed: Mapping[str, str] = field(default_factory=dict)

    def text(self, name: str) -> str:
        """What was typed, without outer blanks."""
        return self.typed.get(name, "").strip()

    def unit(self, wanted: Input) -> str:
        """The unit that counts: the chosen one, where it is one of those offered."""
        offered, chosen = units_of(wanted), self.text(f"{UNIT}{wanted.name}")
        return chosen if chosen in offered else (offered[0] if offered else "")

    def input(self, wanted: Input, error: str = "", label: str = "") -> CalcInput:
        """The input as the page draws it, with its text kept."""
        units, answers = units_of(wanted), _ANSWERS.get(wanted.name, ())
        several = len(units) > 1
        return CalcInput(
            id=f"{self.place}-{wanted.name}",
            name=wanted.name,
            label=label or wanted.label,
            typed=self.text(wanted.name),
            needed=wanted.required,
            unit=units[0] if units and not several else "",
            unit_name=f"{UNIT}{wanted.name}" if several else "",
            units=options(((unit, unit) for unit in units), self.unit(wanted)) if several else (),
            options=options(answers, self.text(wanted.name)),
            error=error,
        )


def options(answers: Iterable[tuple[str, str]], chosen: str) -> tuple[Option, ...]:
    """Answers to choose from, with the chosen one marked."""
    return tuple(Option(value, label, value == chosen) for value, label in answers)


class Case(Struct):
    """One case for the file calculator, as far as it could be read, with what is wrong where."""

    inputs: dict[str, object] = field(default_factory=dict)
    units: dict[str, object] = field(default_factory=dict)
    errors: dict[str, str] = field(default_factory=dict)
    unread: bool = False
    """Whether some text is no number at all, so that nothing may be worked out from the rest."""
    said: bool = False
    """Whether anything was typed or chosen."""


def read_case(sheet: Sheet, wanted: Sequence[Input]) -> Case:
    """The sheet's inputs as a case. Text that is no number stays out, and is complained about."""
    case = Case()
    for one in wanted:
        text = sheet.text(one.name)
        case.said = case.said or bool(text)
        if one.name in ("from", "to"):
            case.units[one.name] = text or None
        elif TERMS[one.name].kind != "number":
            _take_word(case, one.name, text)
        elif text:
            _take_number(case, one, text, sheet.unit(one))
    return case


def _take_word(case: Case, name: str, text: str) -> None:
    if text or name in ASKED:
        case.inputs[name] = text or None


def _take_number(case: Case, wanted: Input, text: str, unit: str) -> None:
    read = read_number(text)
    if read is None or isinstance(read, Slip):
        what = read.what if read is not None else "is not a number."
        _complain(case, wanted, f"{wanted.label} {quoted(text)} {what}")
        return
    behind = _unit_behind(read, unit)
    try:
        converted = convert(read.number, behind, wanted.unit)
    except UnitError as problem:
        _complain(case, wanted, f"{wanted.label}: {problem}.")
        return
    case.inputs[wanted.name], case.units[wanted.name] = read.number, behind
    doubt = _doubt(wanted.name, read.number, converted, behind)
    if doubt:
        case.errors[wanted.name] = doubt


def _unit_behind(read: Typed, chosen: str) -> str:
    """A unit typed behind the number comes before the one chosen beside it."""
    key = read.unit.casefold().replace(" ", "")
    return WORDS.get(key, read.unit) if read.unit else chosen


def _doubt(name: str, number: Decimal, converted: Decimal, unit: str) -> str:
    in_kpa = read_unit(unit) == "kPa" if unit else False
    doubt = doubt_about_kpa(name, number) if in_kpa else None
    return doubt or TERMS[name].doubt(converted) or ""


def _complain(case: Case, wanted: Input, words: str) -> None:
    case.errors[wanted.name] = words
    case.unread = True

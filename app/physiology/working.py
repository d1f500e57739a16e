"""From inputs to an answer: how an index reads what it is given, and how it declines.

An index's body is plain arithmetic on `Inputs`; reading an input that is missing or looks mistyped
ends the working with the right kind of answer, so a body never sees a number it must not use.
"""

from collections.abc import Callable
from decimal import Decimal
from functools import update_wrapper

from msgspec import Struct

from app.physiology.answer import Answer, Given, NotAvailable, Query, Value, Verdict
from app.physiology.display import fixed
from app.physiology.vocabulary import TERMS

YES = frozenset({"true", "yes", "y"})
NO = frozenset({"false", "no", "n"})


class Refused(Exception):  # noqa: N818  (declining is an answer, not an error)
    """Ends a working with its answer; never leaves this room."""

    def __init__(self, answer: NotAvailable | Query) -> None:
        super().__init__(answer.reason)
        self.answer = answer


def unavailable(reason: str, *missing: str) -> Refused:
    """There is no number, since something that could be filled in is not there or does not hold."""
    return Refused(NotAvailable(reason, missing))


def inapplicable(reason: str) -> Refused:
    """There can be no number here: the mode, route, age or specimen rules it out."""
    return Refused(NotAvailable(reason, applicable=False))


def asked(reason: str) -> Refused:
    """The inputs contradict each other or look mistyped."""
    return Refused(Query(reason))


class Inputs:
    """The inputs of one working, remembering which were used."""

    def __init__(self, given: Given) -> None:
        self._given = given
        self.used: dict[str, Decimal | str | bool] = {}

    def says(self, name: str) -> bool:
        """Whether the caller mentions this input at all, even to say that it has no answer."""
        return name in self._given

    def optional(self, name: str) -> Decimal | None:
        """The number, or None where there is none; a number that looks mistyped is asked about."""
        raw = self._given.get(name)
        if isinstance(raw, bool):
            raise asked(f"{_label(name)}: yes or no is not a number")
        if not isinstance(raw, Decimal):
            return None
        return self._believed(name, raw)

    def number(self, name: str) -> Decimal:
        """The number; without one the working ends with the reason, in the words typed."""
        number = self.optional(name)
        if number is None:
            raise self._missing(name)
        return number

    def number_or(self, name: str, standard: str) -> Decimal:
        """The number, or the standard one where the caller says nothing; empty is missing."""
        if not self.says(name):
            return Decimal(standard)
        return self.number(name)

    def above_zero(self, name: str) -> Decimal:
        """A number that is divided by, or without which nothing moves: zero gives no value."""
        number = self.number(name)
        if number.is_zero():
            raise unavailable(f"{_label(name)} is zero")
        return number

    def first_of(self, *names: str) -> tuple[str, Decimal]:
        """The first of several names for one thing that has a number, with its name."""
        for name in names:
            number = self.optional(name)
            if number is not None:
                return name, number
        raise self._missing(*names)

    def any_of(self, *names: str) -> Decimal | None:
        """The first of several names for one thing that has a number; None where none has."""
        return next((n for n in map(self.optional, names) if n is not None), None)

    def word(self, name: str) -> str | None:
        """A word in small letters; None where there is none."""
        raw = self._given.get(name)
        if raw is None or raw == "":
            return None
        text = str(raw).strip().casefold()
        self.used[name] = text
        return text

    def text(self, name: str) -> str | None:
        """Text as it was written (a unit's capitals count); None where there is none."""
        raw = self._given.get(name)
        if not isinstance(raw, str) or not raw.strip():
            return None
        self.used[name] = raw.strip()
        return raw.strip()

    def yes_no(self, name: str) -> bool | None:
        """True, False, or None where it was not answered in such words."""
        text = self.word(name)
        if text in YES:
            self.used[name] = True
            return True
        if text in NO:
            self.used[name] = False
            return False
        self.used.pop(name, None)
        return None

    def _believed(self, name: str, number: Decimal) -> Decimal:
        if not number.is_finite():
            raise asked(f"{_label(name)} is not a number")
        doubt = TERMS[name].doubt(number)
        if doubt:
            raise asked(doubt)
        self.used[name] = number
        return number

    def _missing(self, *names: str) -> Refused:
        for name in names:
            raw = self._given.get(name)
            if isinstance(raw, str) and raw.strip():
                return unavailable(f"{_label(name)}: {raw.strip()}", name)
        label = " or ".join(dict.fromkeys(_label(name) for name in names))
        return unavailable(f"{label} is not known", *names)


def _label(name: str) -> str:
    return TERMS[name].label


class Worked(Struct, frozen=True):
    """A result with more to say than its number: what it rests on, or how this one is shown."""

    number: Decimal
    basis: str = ""
    places: int | None = None
    shown: str | None = None
    unit: str | None = None


Check = Callable[[Inputs], None]
Body = Callable[[Inputs], "Decimal | Worked | Verdict"]


class WorkOut:
    """An index's function from inputs to answer, carrying the unit and places that it shows.

    First every check, in order (what rules the index out before what looks mistyped), then the
    arithmetic.
    """

    __name__: str

    def __init__(self, body: Body, unit: str, places: int, checks: tuple[Check, ...]) -> None:
        update_wrapper(self, body)
        self._body, self._checks = body, checks
        self.unit, self.places = unit, places

    def __call__(self, given: Given) -> Answer:
        take = Inputs(given)
        try:
            for check in self._checks:
                check(take)
            result = self._body(take)
        except Refused as refused:
            return refused.answer
        return self._answer(result, take.used)

    def _answer(
        self, result: Decimal | Worked | Verdict, used: dict[str, Decimal | str | bool]
    ) -> Answer:
        if isinstance(result, Verdict):
            return Verdict(result.word, used, result.basis)
        if isinstance(result, Decimal):
            result = Worked(result)
        places = self.places if result.places is None else result.places
        shown = result.shown or fixed(result.number, places)
        return Value(result.number, result.unit or self.unit, shown, used, result.basis)


def works_out(unit: str, places: int, *checks: Check) -> Callable[[Body], WorkOut]:
    """Makes an index of a body: its unit, shown decimals, and the checks that come first."""
    return lambda body: WorkOut(body, unit, places, checks)

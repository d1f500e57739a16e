"""What the file calculator says to one case, as a page draws it."""

from decimal import Decimal

from app.charting.shown import signed
from app.pages.calculator_inputs import Case
from app.pages.calculator_page import CalcAnswer
from app.pages.exact_words import exact_words
from app.pages.shown import Drawn, Shown
from app.physiology.calculate import answer_cases
from app.physiology.catalogue import Index

UNREAD = "An input cannot be read: see what stands beside it."


def answer_of(index: Index, case: Case, label: str = "") -> CalcAnswer:
    """The answer to the case; nothing is worked out while some text is no number."""
    called = label or index.label
    if case.unread:
        return CalcAnswer(_nothing(called), said=UNREAD)
    asked = {"id": None, "index": index.key, "inputs": case.inputs, "units": case.units}
    (row,) = answer_cases([asked])
    reason = _words(row["reason"])
    if row["state"] == "value":
        return _number(called, row, reason)
    if row["state"] == "class":
        shown = Shown(called, _words(row["shown"]), Drawn.STATED, key=index.key)
        return CalcAnswer(shown, said=reason)
    return CalcAnswer(_nothing(called, index.key), said=f"{reason[:1].upper()}{reason[1:]}.")


def _number(called: str, row: dict[str, object], reason: str) -> CalcAnswer:
    unit = _words(row["unit"])
    shown = Shown(called, signed(_words(row["shown"])), Drawn.WORKED_OUT, unit)
    return CalcAnswer(shown, exact_words(Decimal(str(row["value"])), unit), reason)


def _nothing(called: str, key: str = "") -> Shown:
    return Shown(called, "", Drawn.NOT_VALID, key=key)


def _words(value: object) -> str:
    return value if isinstance(value, str) else ""

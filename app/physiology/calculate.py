"""Cases of a file in, answers out: the whole catalogue without a patient, a page or a database.

A case is `id`, `index`, `inputs`, `units`; whatever else stands in it (an expected value, say) is
never read. Every case gets its answer in file order, and none can stop the run.
"""

import json
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from app.physiology.answer import Answer, NotAvailable, Query, Value, Verdict
from app.physiology.case_inputs import read_case, unread
from app.physiology.catalogue import Index, find
from app.physiology.display import fixed, significant
from app.physiology.errors import CasesError, UnitError
from app.physiology.units import convert, read_unit
from app.physiology.working import Refused

Row = dict[str, object]


def answer_text(text: str) -> str:
    """The answers to a JSON list of cases, as JSON.

    Raises CasesError where the text is not JSON or not a list; anything inside it is answered.
    """
    try:
        cases = json.loads(
            text.removeprefix("\ufeff"),
            parse_float=_exact,
            parse_int=_exact,
            parse_constant=str,
        )
    except (ValueError, RecursionError) as problem:
        raise CasesError(f"not JSON ({type(problem).__name__}: {str(problem)[:80]})") from None
    if not isinstance(cases, list):
        raise CasesError("a list of cases is expected")
    told = json.dumps(answer_cases(cases), ensure_ascii=False, indent=1)
    # half of a surrogate pair in an id is legal JSON but not legal UTF-8: escaped, it is both
    return told.encode("utf-8", "backslashreplace").decode("utf-8") + "\n"


def answer_cases(cases: list[object]) -> list[Row]:
    """One row for each case, in order: id, state, value, unit, shown, reason, source.

    `state` is value, class, not_available, query or unknown_index; without a number or a class,
    `value` is None and `reason` says why.
    """
    return [_answer_case(case) for case in cases]


def _exact(digits: str) -> Decimal | str:
    """Every digit kept; what no decimal can hold stays text and is asked about."""
    try:
        return Decimal(digits)
    except InvalidOperation:
        return digits


def _answer_case(case: object) -> Row:
    if not isinstance(case, Mapping):
        return _row(None, "query", reason="a case is an object with id, index, inputs and units")
    name = _plain(case.get("id"))
    key = case.get("index")
    index = find(key) if isinstance(key, str) else None
    if index is None:
        told = f"{key[:60]!r}" if isinstance(key, str) else "a name that is not text"
        return _row(name, "unknown_index", reason=f"there is no index called {told}")
    try:
        return _told(name, index, case)
    except Refused as refused:
        return _without_number(name, index, refused.answer)
    except ArithmeticError:
        return _row(name, "query", index, reason="the numbers are beyond what can be computed")


def _told(name: object, index: Index, case: Mapping[str, object]) -> Row:
    inputs, units = _object(case.get("inputs"), "inputs"), _object(case.get("units"), "units")
    answer: Answer = index.work_out(read_case(index, inputs, units))
    if isinstance(answer, NotAvailable | Query):
        return _without_number(name, index, answer)
    notes = [answer.basis] if answer.basis else []
    strangers = unread(inputs)
    if strangers:
        notes.append(f"not read: {', '.join(strangers[:5])}")
    reason = "; ".join(notes) or None
    if isinstance(answer, Verdict):
        return _row(name, "class", index, answer.word, None, answer.word, reason)
    number, unit, shown = _in_wanted_unit(answer, units.get("out"))
    return _row(name, "value", index, float(number), unit, shown, reason)


def _object(raw: object, what: str) -> Mapping[str, object]:
    if raw is None:
        return {}
    if not isinstance(raw, Mapping):
        raise Refused(Query(f"{what} are not an object"))
    return raw


def _in_wanted_unit(answer: Value, wanted: object) -> tuple[Decimal, str, str]:
    """The number, its unit as the case spells it, and its text."""
    if wanted is None or wanted == "displayed":
        return answer.number, answer.unit, answer.shown
    if not isinstance(wanted, str):
        raise Refused(NotAvailable("the unit wanted is not a word"))
    try:
        number = convert(answer.number, answer.unit, wanted)
        same = read_unit(answer.unit) == read_unit(wanted)
    except UnitError as problem:
        raise Refused(NotAvailable(f"no result in the unit wanted: {problem}")) from None
    return number, wanted, answer.shown if same else _shown_in(number, wanted)


def _shown_in(number: Decimal, unit: str) -> str:
    return fixed(number, 1) if read_unit(unit) == "kPa" else significant(number)


def _without_number(name: object, index: Index, answer: NotAvailable | Query) -> Row:
    state = "query" if isinstance(answer, Query) else "not_available"
    return _row(name, state, index, reason=answer.reason)


def _row(
    name: object,
    state: str,
    index: Index | None = None,
    value: float | str | None = None,
    unit: str | None = None,
    shown: str | None = None,
    reason: str | None = None,
) -> Row:
    source = f"{index.source.key}: {index.source}" if index else None
    return {
        "id": name,
        "state": state,
        "value": value,
        "unit": unit,
        "shown": shown,
        "reason": reason,
        "source": source,
    }


def _plain(raw: object) -> str | int | float | None:
    """An id that JSON can carry back; anything but text or a plain number is no id."""
    if isinstance(raw, str):
        return raw
    if isinstance(raw, bool) or not isinstance(raw, int | float | Decimal):
        return None
    number = Decimal(repr(raw)) if isinstance(raw, float) else Decimal(raw)
    if not number.is_finite() or abs(number.adjusted()) > 15:
        return str(raw)
    return int(number) if number == number.to_integral_value() else float(number)

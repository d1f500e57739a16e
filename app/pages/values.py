"""From a reading or an index answer to what a page draws: number, state, the word under it."""

from decimal import Decimal, InvalidOperation

from msgspec.structs import replace

from app.charting.derive import WorkedOut
from app.charting.facts import Reading, State
from app.charting.field import Field, Shape
from app.charting.reasons import not_done
from app.charting.shown import shown, signed
from app.pages.short_words import brief_basis, brief_reason
from app.pages.shown import Beyond, Drawn, Shown, When
from app.pages.site_words import PLAIN, SiteWords
from app.physiology.answer import NotAvailable, Query, Value, Verdict
from app.physiology.catalogue import Index
from app.rules.policy import Limit, Policy

_DRAWN = {
    State.MEASURED: Drawn.MEASURED,
    State.CONFIRMED: Drawn.CONFIRMED,
    State.CHANGED: Drawn.CHANGED,
    State.NOT_MEASURED: Drawn.NOT_MEASURED,
}


def reading_text(field: Field, reading: Reading) -> str:
    """The number as the field shows it, or the words of a choice or a text."""
    if reading.number is not None:
        return signed(shown(field, reading.number))
    if field.shape is Shape.MOMENT:
        return reading.word.replace("T", " ")
    return field.label_of(reading.word)


def of_reading(field: Field, reading: Reading, *, before: Reading | None = None) -> Shown:
    """A charted value; `before` is the last value of the same field, for "was 45"."""
    if not reading.has_value:
        parts = (not_done(field.name, reading.reason), _was_corrected(field, reading))
        words = ", ".join(filter(None, parts))
        return Shown(field.name, "", Drawn.NOT_MEASURED, field.unit, words, key=field.code)
    text = reading_text(field, reading)
    return Shown(
        label=field.name,
        text=text,
        drawn=_DRAWN[reading.state] if reading.number is not None else Drawn.STATED,
        unit=field.unit,
        word=_word_under(field, reading, text, before),
        corrected=reading.corrected_from is not None,
        key=field.code,
        author=reading.author,
    )


def _word_under(field: Field, reading: Reading, text: str, before: Reading | None) -> str:
    if words := _was_corrected(field, reading):
        return words
    if before is None or not before.has_value or reading.state is not State.CHANGED:
        return ""
    was = reading_text(field, before)
    return f"was {was}" if was != text else ""


def _was_corrected(field: Field, reading: Reading) -> str:
    corrected = reading.corrected_from
    if corrected is None:
        return ""
    return f"corrected, was {reading_text(field, corrected) if corrected.has_value else 'not done'}"


def of_index(index: Index, worked: WorkedOut) -> Shown:
    """A derived value with its basis, or the reason why there is none."""
    answer = worked.answer
    if isinstance(answer, Value):
        return Shown(
            index.short_label,
            signed(answer.shown),
            Drawn.WORKED_OUT,
            index.unit,
            brief_basis(answer.basis),
            key=index.key,
        )
    if isinstance(answer, Verdict):
        basis = brief_basis(answer.basis)
        return Shown(index.short_label, answer.word, Drawn.STATED, word=basis, key=index.key)
    if isinstance(answer, NotAvailable) and not answer.applicable:
        return absent(index.short_label, Drawn.NOTHING, answer.reason, index.key)
    if isinstance(answer, NotAvailable):
        drawn = Drawn.NOT_MEASURED if answer.missing else Drawn.NOT_VALID
        reason = brief_reason(answer.reason, answer.missing)
        return absent(index.short_label, drawn, reason, index.key)
    return absent(index.short_label, Drawn.NOT_VALID, brief_reason(answer.reason), index.key)


def absent(label: str, drawn: Drawn, word: str, key: str = "") -> Shown:
    """A place without a number, with the reason that stands in it."""
    return Shown(label=label, text="", drawn=drawn, word=word, key=key)


def against(cell: Shown, limit: Limit | None, *, run: int) -> Shown:
    """The same value seen against its limit; `run` values in a row lie beyond it, this one last."""
    number = as_number(cell.text)
    side = limit.beyond(number) if limit is not None and number is not None else ""
    if limit is None or not side:
        return cell
    end = limit.over if side == "over" else limit.under
    limit_words = f"{side} {end:f}"
    word = f"{limit_words}, {cell.word}" if cell.corrected and cell.word else limit_words
    return replace(cell, beyond=Beyond(side), once=run <= 1, word=word)


def tagged(cell: Shown, why: NotAvailable | Query) -> Shown:
    """A charted value that is kept and not judged, with the reason under it."""
    missing = why.missing if isinstance(why, NotAvailable) else ()
    words = (cell.word, brief_reason(why.reason, missing))
    return replace(cell, word=", ".join(filter(None, words)))


def beyond(cell: Shown, limit: Limit | None) -> str:
    """The side on which the shown number lies beyond the limit, or nothing."""
    number = as_number(cell.text)
    return limit.beyond(number) if limit is not None and number is not None else ""


def as_number(text: str) -> Decimal | None:
    """The number that a page shows; None for a word or an absence."""
    try:
        return Decimal(text.replace("−", "-")) if text else None
    except InvalidOperation:
        return None


def limit_of(key: str, policy: Policy, *, adult: bool, words: SiteWords = PLAIN) -> Limit | None:
    """The unit's limit as the site writes it; none for a child (decision 1)."""
    limit = policy.limits.get(key) if adult else None
    return None if limit is None or limit.of_patient else words.limit(limit)


def timed(cell: Shown, reading_at: When) -> Shown:
    """The value with the moment at which it was observed."""
    return replace(cell, when=reading_at)


class Run:
    """Counts values in a row beyond one side of a limit, so that "once" can be told from a run."""

    def __init__(self) -> None:
        self._side, self._length = "", 0

    def __call__(self, cell: Shown, limit: Limit | None) -> Shown:
        """The next value of the series, seen against the limit of its own moment."""
        if not cell.text:
            return cell
        side = beyond(cell, limit)
        self._length = self._length + 1 if side and side == self._side else int(bool(side))
        self._side = side
        return against(cell, limit, run=self._length)

"""Build the page of elements: fields, numbers, lines, a table, a banner, each in every state.

Everything on it is invented and says so; nothing is read from the record.
"""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from app.pages.assess_page import Ask, FieldInput, Option, Says
from app.pages.bed_page import GridColumn, GridGroup, GridRow
from app.pages.elements_page import ElementsPage, Lines
from app.pages.fill_page import Blank
from app.pages.frame import Banner, Frame
from app.pages.help_page import DrawnState, states
from app.pages.shown import Beyond, Count, Drawn, Due, Shown, Tone, When, Worry
from app.pages.times import when_in
from app.pages.trends_page import Patch, Stroke, Trend, TrendMark
from app.rules.unit_clock import UnitClock

LONG = "a name of several words that nobody shortened, since it is what the record says"
LONG_WORD = "Pneumonoultramicroscopicsilicovolcanoconiosis"
CLOCK = UnitClock("UTC")
AT = datetime(2026, 3, 2, 3, 30, tzinfo=UTC)
LATER = AT + timedelta(hours=1)


def elements_page(frame: Frame) -> ElementsPage:
    """The page; only the frame around it belongs to who reads."""
    return ElementsPage(
        frame=frame,
        banner=_banner(),
        banner_worst=_worst_banner(),
        states=(*states(), *_more_states()),
        lines=Lines(tuple(_worries()), tuple(_dues()), tuple(_counts())),
        fields=tuple(_fields()),
        blanks=tuple(_blanks()),
        columns=tuple(_columns()),
        groups=(_group(),),
        row_trends={"driving_pressure": _row_trend()},
    )


def _at(hour: int) -> When:
    return when_in(AT.replace(hour=hour), LATER, CLOCK)


def _banner() -> Banner:
    return Banner(
        bed="L5",
        moved="",
        name="Example",
        record_number="··0000",
        age="58 y",
        sex="F",
        height="168 cm, measured",
        predicted_weight=Shown(
            "Predicted weight", "59.7", Drawn.WORKED_OUT, "kg", href="/help/indices#pbw"
        ),
        day="Day 6",
        day_rule="calendar days since invasive support began",
        limits_of_care="full treatment",
        isolation="",
        allergies="none known",
        adult_off="",
        course_href="/help/elements",
    )


def _worst_banner() -> Banner:
    return replace(
        _banner(),
        bed="",
        name=f"{LONG_WORD}, {LONG}",
        height="no height",
        predicted_weight=Shown(
            "Predicted weight", "", Drawn.NOT_MEASURED, word="no height", href="/help/indices#pbw"
        ),
        limits_of_care=LONG,
        isolation=LONG,
        origin="imported",
    )


def _more_states() -> Iterator[DrawnState]:
    nothing = Shown("Example", "", Drawn.NOTHING)
    yield DrawnState(nothing, "does not apply here: drawn as nothing")
    corrected = Shown("Example", "23", Drawn.MEASURED, corrected=True)
    yield DrawnState(corrected, "corrected; what stood before is one press away")
    under = Shown("Example", "86", Drawn.MEASURED, word="under 88", beyond=Beyond.UNDER)
    yield DrawnState(under, "under the range: the line stands over the number")
    stated = Shown("Example", "left side, 30°", Drawn.STATED)
    yield DrawnState(stated, "words instead of a number")
    way = Shown("Example", "16", Drawn.WORKED_OUT, "cmH2O", href="/help/indices#driving_pressure")
    yield DrawnState(way, "a number that opens to its sum")
    worst = Shown("Example", "", Drawn.NOT_MEASURED, word=f"not measured: {LONG}")
    yield DrawnState(worst, "the longest reason that a cell has to bear")


def _worries() -> Iterator[Worry]:
    yield Worry(Tone.FLAG, "A flag: 17, over 15", "open since 01:40", _at(3))
    yield Worry(Tone.FLAG, f"A flag: {LONG}", f"{LONG}; {LONG_WORD}", _at(3), href="/help/watch")
    yield Worry(Tone.SEEN, "A flag that somebody has seen", "seen 02:10, Example", _at(2))
    yield Worry(Tone.ONCE, "Outside once: 16, over 15", "read again by 02:20", _at(3))
    yield Worry(Tone.OVERDUE, "Check overdue: was due 23:30", "last full check 19:30")
    yield Worry(Tone.AWAY, "Away since 01:10", "what is due is paused")
    yield Worry(Tone.MUTED, "Quiet since 01:10. Support withdrawn", "limits and flags are muted")
    yield Worry(Tone.NOT_EVALUABLE, "Cannot be judged: no plateau", "last valid 14, 19:30")
    yield Worry(Tone.NOTE, "Told as information")
    yield Worry(Tone.QUIET, "No flag raised")


def _dues() -> Iterator[Due]:
    yield Due("full check", "due", _at(4))
    yield Due("full check", "late", _at(3))
    yield Due("full check", "overdue", _at(1))
    yield Due("full check", "paused", None, "away since 01:10")
    yield Due(f"a task: {LONG}", "due", _at(5))


def _counts() -> Iterator[Count]:
    yield Count(3, "flagged", Tone.FLAG)
    yield Count(1, "with a check overdue", Tone.OVERDUE)
    yield Count(1, "away", Tone.AWAY)
    yield Count(1, "quiet: nothing judged", Tone.MUTED)
    yield Count(2, "outside once", Tone.ONCE)
    yield Count(1, "flagged and seen", Tone.SEEN)
    yield Count(2, "cannot be judged", Tone.NOT_EVALUABLE)
    yield Count(0, "empty")


REASONS = (Option("unable", "unable", letter="u"), Option("refused", "refused", letter="r"))
REFUSED = Says("e-refused", "100 is refused: this field takes 0 to 50.", open=True)
ASKS = (Ask("soft:e-asked", "40? It was 400, 90 % lower.", "Yes, as typed"),)
ECHO = Says("e-echo", echo="40 %", note="changed, was 45")


def _field(code: str, label: str, **changes: object) -> FieldInput:
    given: dict[str, object] = {
        "code": code,
        "label": label,
        "shape": "number",
        "unit": "cmH2O",
        "typed": "",
        "required": False,
        "says": Says(code),
        "inputmode": "decimal",
        "asked": True,
    }
    return FieldInput(**(given | changes))  # type: ignore[arg-type]


def _fields() -> Iterator[FieldInput]:
    old = {"last": "12, 23:30", "last_value": "12", "seen": "12"}
    yield _field("e-empty", "Empty", reasons=REASONS)
    yield _field("e-typed", "Typed", typed="26")
    yield _field("e-old", "With its old value, to be confirmed", **old)
    yield _field("e-kept", "Confirmed", **old, kept=True)
    yield _field("e-last", "Measured before, never carried", last="28, 23:30", reasons=REASONS)
    yield _field("e-refused", "Refused", typed="100", says=REFUSED)
    yield _field("e-asked", "Asked about", typed="40", says=Says("e-asked", asks=ASKS, open=True))
    yield _field("e-echo", "Read as something else", typed="0.4", unit="%", says=ECHO)
    choices = (Option("a", "one answer"), Option("b", LONG))
    yield _field("e-choice", "A choice", shape="choice", unit="", options=choices)
    yield _field("e-text", "Words", shape="text", unit="", inputmode="", typed=LONG)
    yield _field("e-long", f"A label: {LONG}", typed="7.5", unit="mL/cmH2O", help=f"Help: {LONG}.")


def _blanks() -> Iterator[Blank]:
    choices = (Option("a", "one answer", chosen=True), Option("b", "another"))
    yield Blank("b-text", "Words", "text", "as typed")
    yield Blank("b-number", "A number", "number", "168", "cm", "from 40 to 250")
    yield Blank("b-bad", "A refused number", "number", "17O", "cm", bad="That is no number.")
    yield Blank("b-choice", "A choice", "choice", options=choices)
    yield Blank("b-day", "A day", "date")
    yield Blank("b-tick", "A tick", "tick", "yes")
    yield Blank("b-long", LONG, "text", hint=LONG)


def _columns() -> Iterator[GridColumn]:
    yield GridColumn(_at(0), "Example", "full", ("late, written 02:10",))
    yield GridColumn(_at(1), "Example", "brief", (f"struck 01:20, Example: {LONG}",), struck=True)
    yield GridColumn(_at(2), "Example", "full", ("corrected",), newest=True)
    yield GridColumn(_at(3), "A student", "full", ("unsigned draft",), draft=True)


def _group() -> GridGroup:
    def number(text: str, drawn: Drawn, word: str = "", **more: bool) -> Shown:
        return Shown("Example", text, drawn, word=word, **more)  # type: ignore[arg-type]

    over = Shown("Example", "16", Drawn.WORKED_OUT, word="over 15", beyond=Beyond.OVER)
    rows = (
        GridRow(
            "A setting",
            "cmH2O",
            "peep_set",
            (
                number("10", Drawn.MEASURED),
                number("10", Drawn.CONFIRMED, struck=True),
                number("8", Drawn.CHANGED, "was 10"),
                number("8", Drawn.CONFIRMED),
            ),
        ),
        GridRow(
            "Worked out, with its day",
            "cmH2O",
            "driving_pressure",
            (
                number("13", Drawn.WORKED_OUT),
                number("", Drawn.NOTHING),
                over,
                number("", Drawn.NOT_VALID, "assisted"),
            ),
        ),
        GridRow(
            f"A label: {LONG}",
            "mL/cmH2O",
            "spo2",
            (
                number("93", Drawn.MEASURED, stale=True),
                number("", Drawn.NOTHING),
                number("", Drawn.NOT_MEASURED, "unable"),
                number("95", Drawn.MEASURED),
            ),
        ),
    )
    return GridGroup("A group of rows", rows)


def _row_trend() -> Trend:
    """A rise, a gap where the value does not hold, and a value over the limit."""
    return Trend(
        key="driving_pressure",
        label="Example",
        unit="cmH2O",
        kind="line",
        newest=None,
        limit_words="outside: over 15",
        ends=("20", "10"),
        strokes=(Stroke("5%", "70%", "35%", "60%"),),
        bands=(Patch("0%", "0%", "100%", "50%"),),
        marks=(
            TrendMark("5%", "70%", "point"),
            TrendMark("35%", "60%", "point"),
            TrendMark("60%", "100%", "none"),
            TrendMark("95%", "40%", "over"),
        ),
        values=(),
        summary="Example: 3 values from 13 to 16, newest 16 cmH2O at 02:00; 1 outside.",
    )

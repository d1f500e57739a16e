"""The help page: what this program is, the rules behind its numbers, its marks and its keys.

The sentences stand in the template; every figure in them is taken from here, from the code or from
the policy in force, so that it cannot go stale. Help says what rules do, never what they diagnose
(decision 35).
"""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

from msgspec import Struct

from app.charting.in_force import MAX_AGE
from app.charting.reasons import NOT_MEASURED_REASONS
from app.pages.frame import Frame
from app.pages.grid import LATE_AFTER
from app.pages.shown import Beyond, Drawn, Shown, Tone
from app.pages.worries import NO_FLAG
from app.physiology.catalogue import CATALOGUE
from app.physiology.display import fixed
from app.rules.due import ROUND_CREDIT
from app.rules.policy import Limit, Policy
from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import day_rule


class Rounding(Struct, frozen=True):
    """A number and what is shown for it, with the word on a limit of 8.0."""

    number: str
    shown: str
    verdict: str


class Figures(Struct, frozen=True):
    """What the sentences of the page name."""

    no_flag: str
    roundings: tuple[Rounding, ...]
    weight_formula: str
    weight_source: str
    pressure_holds_when: str
    adult_age: int
    settings_hold: str
    reasons: str
    day_rule: str
    rounds: str
    late_after: int
    overdue_after: int
    round_credit: str
    zone: str
    late_entry_after: str
    policy_words: str


class DrawnState(Struct, frozen=True):
    """How one state of a number is drawn, and what it says."""

    shown: Shown
    words: str


class Meaning(Struct, frozen=True):
    """One mark or key, and what it says or does."""

    name: str
    words: str


class HelpPage(Struct, frozen=True):
    """What a reader must know to trust a number, on one page."""

    frame: Frame
    figures: Figures
    states: tuple[DrawnState, ...]
    marks: tuple[Meaning, ...]
    keys: tuple[Meaning, ...]
    everywhere: tuple[Meaning, ...] = ()


MARKS = (
    Meaning(Tone.FLAG, "a flag: outside the range this unit set and confirmed, or drifting away"),
    Meaning(
        Tone.SEEN, "a flag that somebody acknowledged or muted; it stands until values clear it"
    ),
    Meaning(Tone.ONCE, "outside once: a single value, not yet read again"),
    Meaning(Tone.OVERDUE, "overdue: nobody has charted the check that was due"),
    Meaning(Tone.NOT_EVALUABLE, "cannot be judged: what the limit needs is missing or too old"),
    Meaning(Tone.MUTED, "nothing is judged or due: the course is closed, or support withdrawn"),
    Meaning(Tone.NOTE, "told as information; it raises no flag"),
)

KEYS = (
    Meaning("Enter", "on to the next field; an empty setting or mark is confirmed"),
    Meaning("↓", "one field down; nothing is confirmed"),
    Meaning("↑", "one field up; nothing is confirmed"),
    Meaning("n", "not measured, in an empty field; then the reason"),
    Meaning("Esc", "undoes what was done in this field"),
    Meaning("/", "to a field by its name, from an empty field"),
    Meaning("?", "shows every key of the check"),
)


EVERYWHERE = (
    Meaning("?", "shows the keys of the page, outside of fields; it can be turned off there"),
    Meaning("Tab", "on to the next link, button or field; the first leads past the page's head"),
    Meaning("Enter", "follows a link, presses a button, sends a form"),
    Meaning("Space", "presses a button, ticks a box, opens a list"),
    Meaning("Esc", "closes an open window"),
    Meaning("← →", "on trends: one value back or on, in the drawing that has the focus"),
)


def help_page(frame: Frame, policy: Policy, clock: UnitClock) -> HelpPage:
    """The help under the unit's policy; without a unit, under the one that ships."""
    return HelpPage(frame, _figures(policy, clock), tuple(states()), MARKS, KEYS, EVERYWHERE)


def _figures(policy: Policy, clock: UnitClock) -> Figures:
    weight, rounds = CATALOGUE["pbw"], policy.rounds
    return Figures(
        no_flag=NO_FLAG,
        roundings=tuple(_rounding(text) for text in ("8.04", "8.05", "8.06")),
        weight_formula=weight.formula,
        weight_source=str(weight.source),
        pressure_holds_when=CATALOGUE["driving_pressure"].valid_when,
        adult_age=policy.adult_age_y,
        settings_hold=f"{MAX_AGE.total_seconds() / 3600:g} h",
        reasons=", ".join(reason.label for reason in NOT_MEASURED_REASONS),
        day_rule=day_rule(policy.ventilator_gap_days),
        rounds=", ".join(f"{at:%H:%M}" for at in rounds.times),
        late_after=rounds.late_after_min,
        overdue_after=rounds.overdue_after_min,
        round_credit=_minutes(ROUND_CREDIT),
        zone=clock.zone,
        late_entry_after=_minutes(LATE_AFTER),
        policy_words=policy.words,
    )


def _rounding(text: str) -> Rounding:
    """Rounded and judged by the code that does it everywhere."""
    shown = fixed(Decimal(text), 1)
    side = Limit("vt_per_pbw", None, Decimal(8), "an example").beyond(Decimal(shown))
    return Rounding(text, shown, side or "not over")


def _minutes(span: timedelta) -> str:
    return f"{span.total_seconds() / 60:g} min"


def states() -> Iterator[DrawnState]:
    """Every way in which a number, or its absence, is drawn."""
    over = Shown("Example", "17", Drawn.WORKED_OUT, word="over 15", beyond=Beyond.OVER)
    once = Shown("Example", "16", Drawn.WORKED_OUT, word="over 15", beyond=Beyond.OVER, once=True)
    yield DrawnState(Shown("Example", "26", Drawn.MEASURED), "measured then")
    yield DrawnState(Shown("Example", "60", Drawn.CHANGED), "a setting that was changed")
    yield DrawnState(Shown("Example", "60", Drawn.CONFIRMED), "confirmed: looked at, unchanged")
    yield DrawnState(Shown("Example", "6.8", Drawn.WORKED_OUT), "worked out")
    yield DrawnState(over, "outside the range this unit set, more than once in a row")
    yield DrawnState(once, "outside once")
    old = Shown("Example", "93", Drawn.MEASURED, stale=True)
    yield DrawnState(old, "too old to say where the bed stands")
    struck = Shown("Example", "24", Drawn.MEASURED, struck=True)
    yield DrawnState(struck, "struck: it no longer counts")
    open_line = Shown("Example", "", Drawn.NOT_MEASURED, word="no plateau")
    yield DrawnState(open_line, "nobody filled it, though it can be filled")
    hatch = Shown("Example", "", Drawn.NOT_VALID, word="not valid: assisted")
    yield DrawnState(hatch, "nobody can fill it here, or what is there does not hold")

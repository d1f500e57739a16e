"""Two people, one bed: a form meets what was charted of the same course since it was opened.

Equal values stand side by side, each with its author; different fields do not touch. Another value
for the same field is asked about, and so is a change of mode, tube or position that the form does
not know of. The values of one hold (volume, plateau, passive, PEEP) are one question: kept together
or left out together, because a driving pressure of two holds would be nobody's.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from app.charting.airways import tubes_moved
from app.charting.facts import Assessment, CourseFacts, Reading, newest_values
from app.charting.in_force import in_force
from app.charting.read_fields import read_fields
from app.charting.said import MODE, Said, of_airway, of_mode, of_new, of_reading, same
from app.charting.typed_check import TypedCheck

SAME_ROUND = timedelta(minutes=15)
"""How far apart two people's observations may be and still be of one round (engineering
judgement)."""

HOLD = (
    "tidal_volume_obs",
    "plateau_pressure_obs",
    "hold_passive",
    "peep_total",
    "peep_set",
)
"""What a driving pressure and a compliance are made of."""

PRESSED = ("plateau_pressure_obs", "peep_total")
"""What only somebody who held the breath can have read."""

WHERE_AND_HOW = ("position", "airway_category", "airway_size_mm")
"""What changes the meaning of every number on a form, beside the mode."""


class Choice(StrEnum):
    """What somebody decides about one difference."""

    MINE = "mine"
    THEIRS = "theirs"


class Subject(StrEnum):
    """What a difference is about."""

    FIELD = "field"
    HOLD = "hold"
    MODE = "mode"
    MOVED = "moved"
    """Mode, tube or position changed, and the form says nothing of it."""


class Difference(Struct, frozen=True):
    """One thing to be decided, with both sides' words.

    `key` names the values of both sides, so that an answer holds for these and no others.
    """

    key: str
    subject: Subject
    mine: tuple[Said, ...]
    theirs: tuple[Said, ...]

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be decided: what moved is not undone by leaving something out."""
        return (Choice.MINE,) if self.subject is Subject.MOVED else tuple(Choice)


class Settled(Struct, frozen=True):
    """A form after the decisions so far; `still_open` are those to be made."""

    check: TypedCheck
    still_open: tuple[Difference, ...]


class _View(Struct, frozen=True):
    """A course as seen at one time: the last values overall and at the form's own moment."""

    facts: CourseFacts
    newest: Mapping[str, Reading]
    at_the_time: Mapping[str, Reading]
    families: tuple[str, str]


def meet(
    before: CourseFacts, now: CourseFacts, check: TypedCheck, opened_at: datetime
) -> tuple[Difference, ...]:
    """What must be decided before the form is saved; empty where nothing contradicts it.

    `before` is the course as it was known when the form was opened at `opened_at`, `now` as it is.
    A row of another round (observed more than `SAME_ROUND` away and before the form was opened)
    contradicts nothing, unless the mode, the tube or the position is another for it.
    """
    then, held = _view(before, check.observed_at), _view(now, check.observed_at)
    mine = _mine(then, held, check)
    theirs = _written_since(then, held, check, opened_at)
    moved = _moved(then, held)
    theirs = {**{code: moved[code] for code in moved if code in mine}, **theirs}
    differing = {c: theirs[c] for c in mine if c in theirs and not same(mine[c], theirs[c])}
    return (
        *_mode(then, held, check, opened_at),
        *_unheard([said for code, said in moved.items() if code not in mine]),
        *_hold(then, mine, theirs, differing),
        *(_field(mine[code], said) for code, said in differing.items() if code not in HOLD),
    )


def settle(
    check: TypedCheck, differences: Sequence[Difference], choices: Mapping[str, str]
) -> Settled:
    """The form with the decisions carried out.

    Mine stays as a new observation. Theirs leaves mine out, and their value answers for the field.
    A decision that does not fit its difference is none.
    """
    still_open: list[Difference] = []
    for difference in differences:
        choice = choices.get(difference.key)
        if choice not in difference.choices:
            still_open.append(difference)
        elif choice == Choice.MINE:
            check = _said_by_its_text(check, difference)
        else:
            check = _left_out(check, difference)
    return Settled(check, tuple(still_open))


def _said_by_its_text(check: TypedCheck, difference: Difference) -> TypedCheck:
    """A value that was only kept is typed now: confirming would take what stands meanwhile."""
    kept = {said.field: said.text for said in difference.mine if said.kept}
    return replace(check, typed={**check.typed, **kept}, kept=check.kept - kept.keys())


def _left_out(check: TypedCheck, difference: Difference) -> TypedCheck:
    if difference.subject is Subject.MODE:
        return replace(check, mode_family=difference.theirs[0].word)
    gone = {said.field for said in difference.mine}
    return replace(
        check,
        typed={code: text for code, text in check.typed.items() if code not in gone},
        reasons={code: text for code, text in check.reasons.items() if code not in gone},
        kept=check.kept - gone,
        left_to_others=check.left_to_others | gone,
    )


def _view(facts: CourseFacts, at: datetime) -> _View:
    rows, tubes = facts.standing, tubes_moved(facts.airways)
    return _View(
        facts,
        newest=newest_values(rows),
        at_the_time=newest_values([row for row in rows if row.observed_at <= at]),
        families=(
            in_force(rows, at, tubes=tubes).family,
            in_force(rows, rows[-1].observed_at, tubes=tubes).family if rows else "",
        ),
    )


def _mine(then: _View, held: _View, check: TypedCheck) -> dict[str, Said]:
    """What the form says, field by field.

    A tick that does not tell what was seen beside it means the value that stood when the form was
    opened.
    """
    read = {new.field: of_new(new) for new in read_fields(check, held.at_the_time).readings}
    for code in _blind_ticks(check):
        if code in then.at_the_time:
            seen = of_reading(then.at_the_time[code])
            read[code] = replace(seen, by="", at=None, kept=True)
    return read


def _blind_ticks(check: TypedCheck) -> list[str]:
    return sorted(check.kept - check.seen.keys() - check.typed.keys())


def _written_since(
    then: _View, held: _View, check: TypedCheck, opened_at: datetime
) -> dict[str, Said]:
    """The newest reading of each field that was written since, corrections too, in this round."""
    known = {reading.id for row in then.facts.standing for reading in row.readings.values()}
    stood = {code: held.at_the_time.get(code) for code in _blind_ticks(check)}
    found = {code: of_reading(now) if now else Said(code) for code, now in stood.items()}
    for row in held.facts.standing:
        if _of_this_round(row, check, opened_at):
            fresh = (reading for reading in row.readings.values() if reading.id not in known)
            found |= {reading.field: of_reading(reading) for reading in fresh}
    return found


def _of_this_round(row: Assessment, check: TypedCheck, opened_at: datetime) -> bool:
    near = abs(row.observed_at - check.observed_at) <= SAME_ROUND
    return near or row.observed_at >= opened_at


def _hold(
    then: _View, mine: Mapping[str, Said], theirs: Mapping[str, Said], differing: Mapping[str, Said]
) -> Iterator[Difference]:
    """One question for all of my hold where any part of it differs, or the PEEP under it moved."""
    group = [code for code in HOLD if code in mine]
    pressed = any(code in mine and mine[code].has_value for code in PRESSED)
    unheard = pressed and "peep_set" not in mine and _peep_moved(then, theirs)
    if unheard or any(code in differing for code in group):
        words = [theirs[code] for code in HOLD if code in theirs]
        subject = Subject.HOLD if unheard or len(group) > 1 else Subject.FIELD
        yield _difference(subject, [mine[code] for code in group], words)


def _peep_moved(then: _View, theirs: Mapping[str, Said]) -> bool:
    if "peep_set" not in theirs:
        return False
    stood = then.newest.get("peep_set")
    return stood is None or not same(of_reading(stood), theirs["peep_set"])


def _mode(then: _View, held: _View, check: TypedCheck, opened_at: datetime) -> Iterator[Difference]:
    """Another mode family charted since: in this round, or one that is another than before."""
    known = {row.id for row in then.facts.standing}
    fresh = [row for row in held.facts.standing if row.mode_family and row.id not in known]
    changed = then.families != held.families
    named = [row for row in fresh if changed or _of_this_round(row, check, opened_at)]
    if not named or named[-1].mode_family == check.mode_family:
        return
    theirs = of_mode(named[-1])
    if check.mode_family:
        yield _difference(Subject.MODE, [Said(MODE, word=check.mode_family)], [theirs])
    elif changed and any(then.families):
        yield _difference(Subject.MOVED, [], [theirs])


def _moved(then: _View, held: _View) -> dict[str, Said]:
    """Tube and position as they are now, where they were known to be otherwise before."""
    found: dict[str, Said] = {}
    views = ((then.at_the_time, held.at_the_time), (then.newest, held.newest))
    for code in WHERE_AND_HOW:
        for earlier, later in views:
            if code in earlier and code in later:
                was, now = of_reading(earlier[code]), of_reading(later[code])
                found |= {} if same(was, now) else {code: now}
    return found | _exchanged(then.facts, held.facts)


def _exchanged(before: CourseFacts, now: CourseFacts) -> dict[str, Said]:
    if not before.airways or before.airways[-1] == now.airways[-1]:
        return {}
    return {"airway": of_airway(now.airways[-1])}


def _unheard(moved: Sequence[Said]) -> Iterator[Difference]:
    if moved:
        yield _difference(Subject.MOVED, [], moved)


def _field(mine: Said, theirs: Said) -> Difference:
    return _difference(Subject.FIELD, [mine], [theirs])


def _difference(subject: Subject, mine: Sequence[Said], theirs: Sequence[Said]) -> Difference:
    words = [subject.value, *(said.identity for said in (*mine, *theirs))]
    digest = hashlib.sha256(json.dumps(words).encode()).hexdigest()
    return Difference(digest[:16], subject, tuple(mine), tuple(theirs))

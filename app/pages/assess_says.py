"""What a form says of itself: beside each field, and in the summary over it."""

from collections.abc import Container, Iterable, Iterator, Sequence

from app.charting.check import Objection, ReadCheck
from app.charting.entry import Read
from app.charting.facts import Reading, State
from app.charting.fields import FIELDS
from app.pages.assess_page import Ask, Complaint, Says
from app.pages.site_words import PLAIN, SiteWords
from app.pages.values import reading_text

ACCEPTS = {
    "passive_unanswered": ("Leave it unanswered", "u"),
    "incomplete": ("Yes, save without them", "y"),
    "specimen_not_named": ("Save it without", "u"),
    "from_paper": ("Yes, another check", "y"),
}
"""What accepting a question means and the key that does it, where "yes" would be another answer."""

OF_ONE_VALUE = frozenset({"soft", "jump", "unit", "fraction", "point"})
"""Kinds of question that a number raises by itself."""

UNUSED = "This mode makes it uncertain: kept, not used"


def ask_of(objection: Objection, *, accepted: bool = False) -> Ask:
    """The question with the words and the key that accept it; a block takes another key."""
    kind = objection.key.partition(":")[0]
    words, letter = ACCEPTS.get(kind, ("Yes, as typed", "y"))
    if objection.kind == "blocked":
        words, letter = "Record it as found", "f"
    return Ask(objection.key, objection.sentence, words, letter, accepted)


def says_of(
    code: str,
    read: ReadCheck,
    before: Reading | None,
    *,
    tagged: bool = False,
    words: SiteWords = PLAIN,
) -> Says:
    """Everything beside one field. `before` is its last value, for "changed, was 45"."""
    mine = [objection for objection in read.objections if objection.field == code]
    refused = next((each.sentence for each in mine if each.kind == "refused"), "")
    asked = [each for each in mine if each.kind != "refused"]
    told = _answered(code, read)
    changed = _changed(code, read, before, words)
    return Says(
        code=code,
        refused=refused,
        asks=(*_asks(told, accepted=True), *_asks(asked)),
        echo=_echo(code, read),
        note=" ".join(filter(None, [changed, *_notes(code, read, tagged)])),
        open=bool(refused or asked),
    )


def _asks(objections: Sequence[Objection], *, accepted: bool = False) -> Iterator[Ask]:
    """What is asked of one value by itself is one question: unusual and far from the last."""
    own = [each for each in objections if each.key.partition(":")[0] in OF_ONE_VALUE]
    if own:
        joined = " ".join(each.sentence for each in own)
        keys = "\n".join(each.key for each in own)
        yield Ask(keys, joined, "Yes, as typed", accepted=accepted)
    yield from (ask_of(each, accepted=accepted) for each in objections if each not in own)


def _answered(code: str, read: ReadCheck) -> tuple[Objection, ...]:
    """What somebody has accepted beside this field, once each."""
    outcome = read.outcomes.get(code)
    own = outcome.questions if isinstance(outcome, Read) else ()
    found = {
        question.key: Objection(code, "asked", question.sentence, question.key) for question in own
    }
    found |= {answer.key: answer for answer in read.answered if answer.field == code}
    return tuple(found.values())


def _echo(code: str, read: ReadCheck) -> str:
    outcome = read.outcomes.get(code)
    return outcome.said if isinstance(outcome, Read) else ""


def _notes(code: str, read: ReadCheck, tagged: bool) -> Iterator[str]:
    if tagged:
        yield UNUSED
    yield from (found.sentence for found in read.notes if code in found.fields[:1])


def _changed(code: str, read: ReadCheck, before: Reading | None, words: SiteWords) -> str:
    """ "changed, was 45" for a setting that was typed anew."""
    new = next((reading for reading in read.readings if reading.field == code), None)
    if new is None or new.state is not State.CHANGED or before is None or not before.has_value:
        return ""
    return f"changed, was {reading_text(words.fields[code], before)}"


def complaints_of(read: ReadCheck, places: Container[str]) -> Iterator[Complaint]:
    """What holds the form up, each leading to its place among `places`.

    A question about the whole form, or about a setting in force that this form does not show, has
    no place to be answered in and is answered here.
    """
    for objection in read.objections:
        if objection.field in places:
            yield Complaint(objection.field, _label(objection), objection.sentence)
        else:
            ask = ask_of(objection) if objection.key else None
            yield Complaint("", _label(objection), objection.sentence, ask)
    if read.objections:
        for told in read.answered:
            if told.field not in places:
                yield Complaint("", _label(told), told.sentence, ask_of(told, accepted=True))


def _label(objection: Objection) -> str:
    if objection.field == "observed_at":
        return "Observed at"
    if objection.field == "paper_by":
        return "Written by"
    known = FIELDS.get(objection.field)
    return known.label if known is not None else "This check"


def first_to_answer(read: ReadCheck, order: Iterable[str]) -> str:
    """The first field in the form's order that holds it up, "form" for the form's own question."""
    held = {objection.field for objection in read.objections}
    return next((code for code in order if code in held), "form" if held else "")

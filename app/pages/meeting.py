"""Build the page that asks what holds where two people charted one bed."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from app.charting.check import TypedCheck
from app.charting.fields import FIELDS
from app.charting.meeting import Choice, Difference, Subject
from app.charting.mode_families import family_of
from app.charting.reasons import not_done
from app.charting.said import AIRWAY, MODE, Said
from app.charting.shown import signed, with_unit
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.meeting_page import MeetingPage, SaidLine, Side, ToDecide
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import when_in

CHOICE = "meet."
"""What stands before a difference's key in a form."""

HEADINGS = {
    Subject.HOLD: "The hold",
    Subject.MODE: "Mode",
    Subject.MOVED: "Changed since you opened the form",
}
NOTES = {
    Subject.HOLD: "Volume, plateau, PEEP and passive stay together: no number is of two holds.",
    Subject.MODE: "Which fields a check asks for follows the mode.",
    Subject.MOVED: "Your form says nothing of it, and it changes what every number means.",
}
MINE = {
    Subject.MODE: "Mine: it was in this mode",
    Subject.MOVED: "My numbers hold all the same",
}
THEIRS = {Subject.MODE: "Theirs: my check was in their mode"}


def meeting_page(
    frame: Frame,
    course: Known,
    check: TypedCheck,
    differences: Sequence[Difference],
    *,
    choices: Mapping[str, str],
    carried: Iterable[tuple[str, str]],
) -> MeetingPage:
    """Every difference with both sides; what was chosen so far stays chosen."""
    base = f"/courses/{course.facts.course_id}"
    return MeetingPage(
        frame=frame,
        banner=course.banner,
        heading="The chart moved on",
        words=f"{_authors(differences)} charted this bed since you opened the form. Nothing of "
        "yours is saved yet, and nothing is lost: say what holds.",
        decisions=tuple(_to_decide(each, course, choices) for each in differences),
        rest=_rest(check, differences),
        carried=tuple(carried),
        action=f"{base}/assess",
        back_href=base,
    )


def _authors(differences: Sequence[Difference]) -> str:
    names = sorted({said.by for each in differences for said in each.theirs if said.by})
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1]))) if names else "Somebody"


def _to_decide(each: Difference, course: Known, choices: Mapping[str, str]) -> ToDecide:
    chosen = choices.get(each.key, "")
    subject = each.subject
    leaves = Choice.THEIRS in each.choices
    theirs = Side(
        tuple(_lines(each.theirs, course)),
        Choice.THEIRS.value if leaves else "",
        THEIRS.get(subject, "Theirs: leave mine out"),
        chosen == Choice.THEIRS,
    )
    mine = Side(
        tuple(_lines(each.mine, course)),
        Choice.MINE.value,
        MINE.get(subject, "Mine: a new observation"),
        chosen == Choice.MINE,
    )
    heading = HEADINGS.get(subject) or FIELDS[each.mine[0].field].label
    return ToDecide(f"{CHOICE}{each.key}", heading, NOTES.get(subject, ""), theirs, mine)


def _lines(said: Iterable[Said], course: Known) -> Iterator[SaidLine]:
    for one in said:
        when = when_in(one.at, course.now, course.clock) if one.at is not None else None
        yield SaidLine(FIELDS[one.field].label, said_words(one, course.words), one.by, when)


def said_words(said: Said, words: SiteWords = PLAIN) -> str:
    """What is said, as a page writes it; a value that was struck since no longer stands."""
    known = words.fields[said.field]
    if said.field == MODE:
        return family_of(said.word).label
    if said.field == AIRWAY:
        size = f" {said.number:f} mm" if said.number is not None else ""
        return f"{known.label_of(said.word)}{size}"
    if said.number is not None:
        return signed(with_unit(known, said.number))
    if said.word:
        return known.label_of(said.word)
    return not_done(known.name, said.reason) if said.reason else "no longer stands"


def _rest(check: TypedCheck, differences: Sequence[Difference]) -> str:
    asked = {said.field for each in differences for said in each.mine}
    told = [
        f"{FIELDS[code].name} {FIELDS[code].label_of(text)}"
        for code, text in check.typed.items()
        if code not in asked and text.strip()
    ]
    return ", ".join(told)

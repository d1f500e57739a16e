"""The handoff of L5: a full draft, an empty one, and one with as much as a sheet must hold."""

from msgspec.structs import replace

from app.pages.bed_page import NowGroup
from app.pages.changed_part import Change
from app.pages.handoff_page import HandoffPage, Section, Seen, Told, Words
from app.pages.shown import Due, Tone, Worry
from tests.browser.sample_bed import NOW
from tests.browser.sample_frame import NOW as MOMENT
from tests.browser.sample_frame import at, banner, confirmed, frame, measured


def said(words: str) -> Words:
    return Words(words, "Birch", at("01:55"))


CHANGES = (
    Change("FiO2, %", "45", "50", at("22:10", 25), "Birch", "SpO2 90 after the turn"),
    Change("PEEP, cmH2O", "10", "8", at("22:10", 25), "Birch", "Pressure low after the turn"),
    Change("FiO2, %", "50", "60", at("01:40"), "Birch", "Still 90 after suction; 92 since"),
    Change("Cuff, cmH2O", "28", "26", at("01:40"), "Birch"),
)
DUE = (
    Due("read SpO2 again", "late", at("02:00")),
    Due("full check with both holds", "due", at("05:40")),
    Due("gas, one hour after FiO2 60", "due", at("02:50")),
    Due("turn with nursing; depth again after", "due", at("04:00")),
)
IF_THEN = (
    "If SpO2 under 88 for 5 min and the tube is at 22, then suction, FiO2 up one step, call the "
    "physician within 10 min. Tried: suction 21:40, small effect.\n"
    "If plateau over 30, then look for effort, repeat the hold, call Dr Oak."
)
AIRWAY = NowGroup(
    "Oral tube",
    "= confirmed 01:40",
    (
        confirmed("Size", "7.5", "mm"),
        confirmed("Depth, lip", "22", "cm"),
        measured("Cuff", "26", "cmH2O", "measured 01:40"),
    ),
)


def sections() -> tuple[Section, ...]:
    return (
        Section(
            "concern",
            "Concern",
            "chosen by a person",
            words=said("High. Stiffer over the night, still climbing in oxygen; I don’t know why."),
            worries=(Worry(Tone.FLAG, "Driving pressure 16, over 15", "at 22:10 and 01:40"),),
            writable=True,
            prompt="How worried are you, and one reason",
        ),
        Section("danger", "Danger line", lines=("Second attempt with a bougie, 20 Nov.",)),
        Section(
            "why",
            "Why on support",
            "and the course",
            words=said("Pneumonia, both bases. Best day was the 24th; worse since the turn."),
            writable=True,
            prompt="One or two sentences",
        ),
        Section("changed", "What changed", "since 19:00", changes=CHANGES),
        Section("support", "Support, lungs, gas", numbers=NOW),
        Section(
            "airway",
            "Airway, secretions, sedation",
            numbers=(AIRWAY,),
            lines=("Oral tube, 7.5 mm inside",),
            seen=(
                Seen("21:40", (Told("Secretions Moderate", "#"), Told("Colour White", "#"))),
                Seen("23:30", (Told("RASS −3", "#"), Told("Cough Weak", "#"))),
            ),
        ),
        Section("todo", "Still to do", "the next 4 h first", due=DUE),
        Section(
            "ifthen", "If … then …", words=said(IF_THEN), writable=True, prompt="If, then, who"
        ),
        Section(
            "gaps",
            "Gaps and unknowns",
            worries=(
                Worry(Tone.NOT_EVALUABLE, "Resistance: flow not charted since 19:30"),
                Worry(Tone.NOT_EVALUABLE, "Emergency outlet not ticked since 19:30"),
            ),
        ),
        Section(
            "questions",
            "Questions",
            empty_words="No question has been asked.",
            writable=True,
            prompt="What you want to ask",
        ),
    )


def handoff(**changes: object) -> HandoffPage:
    given: dict[str, object] = {
        "frame": frame("Handoff"),
        "banner": banner(),
        "standing": "Draft. Birch has the bed.",
        "shift_words": "Night shift, 25 Nov 19:00 to 26 Nov 07:00",
        "sections": sections(),
        "editable": True,
        "note_action": "/courses/5/handoff/words",
        "back_href": "/courses/5",
        "printed": MOMENT,
        "changed_words": "What changed since 19:00: 4 steps, newest FiO2, %: from 50 to 60, 01:40",
    }
    return HandoffPage(**(given | changes))  # type: ignore[arg-type]


def empty_handoff() -> HandoffPage:
    """Nothing charted and nothing written: every heading still stands there."""
    bare = tuple(
        Section(
            section.key,
            section.heading,
            section.note,
            writable=section.writable,
            prompt=section.prompt,
            empty_words="Nothing is known.",
        )
        for section in sections()
    )
    return handoff(sections=bare, standing="Draft. Nobody has been offered this bed.")


def heavy_handoff() -> HandoffPage:
    """A shift in which much happened: eight steps, seven duties, long words under each heading."""
    duties = (*DUE, Due("cuff pressure", "due", at("04:30")), Due("breathing trial", "due"))
    more = {
        "concern": {
            "words": said("High. " + "Stiffer over the night, and I do not know why. " * 3)
        },
        "why": {"words": said("Pneumonia, both bases; worse since the turn. " * 4)},
        "changed": {"changes": (*CHANGES, *CHANGES)},
        "todo": {"due": duties},
        "questions": {
            "words": said("Why is PEEP 8 at 60 %? Asked on the round."),
            "empty_words": "",
        },
    }
    full = tuple(replace(section, **more.get(section.key, {})) for section in sections())
    return handoff(sections=full, editable=False)

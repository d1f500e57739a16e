"""Drafts of a student: the list, one left from the shift before, and one draft before signing."""

from app.pages.shown import Drawn, Shown
from app.pages.unsigned import OWN, TO_SIGN
from app.pages.unsigned_page import (
    DraftGroup,
    DraftPage,
    DraftValue,
    OpenQuestion,
    UnsignedLine,
    UnsignedPage,
    UnsignedPart,
)
from tests.browser.sample_frame import at, banner, blank, changed, confirmed, frame, measured, over
from tests.browser.sample_frame import worked as out


def line(bed: str, clock: str, day: int = 26, kind: str = "Full check") -> UnsignedLine:
    name = f"P-{bed[1:].zfill(2)}"
    return UnsignedLine(bed, name, kind, "Fern", at(clock, day), "/courses/5/drafts/1", "Look")


def unsigned() -> UnsignedPage:
    left, new = (line("L5", "15:30", 25),), (line("L3", "00:10"), line("L12", "01:40", 26, "Gas"))
    parts = (UnsignedPart("Left from an earlier shift", left), UnsignedPart("This shift", new))
    return UnsignedPage(frame("Unsigned drafts"), TO_SIGN, parts, "")


def none_unsigned() -> UnsignedPage:
    return UnsignedPage(frame("Unsigned drafts"), OWN, (), "You have no unsigned draft.")


GROUPS = (
    DraftGroup(
        "At the monitor",
        (
            DraftValue("SpO2", measured("SpO2", "92", "%")),
            DraftValue("Heart rate", measured("Heart rate", "88", "/min")),
        ),
    ),
    DraftGroup(
        "Told to the machine",
        (
            DraftValue("FiO2", changed("FiO2", "40", "%", "was 50"), typed="0.4"),
            DraftValue("PEEP", confirmed("PEEP", "8", "cmH2O")),
            DraftValue(
                "Tidal volume",
                changed("Tidal volume", "520", "mL", "was 400"),
                asked="VT set 520 mL: was 400, +30 %?",
            ),
        ),
    ),
    DraftGroup(
        "Holds",
        (
            DraftValue("Plateau pressure", blank("Plateau", "not done: effort")),
            DraftValue("Passive", Shown("Passive", "no", Drawn.STATED)),
        ),
    ),
)


def draft(**changes: object) -> DraftPage:
    given: dict[str, object] = {
        "frame": frame("Unsigned draft"),
        "banner": banner(),
        "heading": "Unsigned draft: full check of 01:40",
        "words": "Charted by Fern, written 01:44, on volume control. "
        "No fact, and in no handoff as one.",
        "groups": GROUPS,
        "if_signed": (over("VT/kg", "8.7", "over 8.0"), out("S/F", "230")),
        "remarks": ("Minute volume 8.4 L/min: rate × volume gives 10.4.",),
        "questions": (
            OpenQuestion("Tidal volume", "520 mL: was 360, +44 %?", "jump:vte:520", accepted=False),
        ),
        "seen": "f" * 32,
        "sign_action": "/courses/5/drafts/1/sign",
        "why_not": "",
        "strike_action": "/courses/5/drafts/1/strike",
        "strike_typed": "",
        "strike_error": "",
        "back_href": "/courses/5",
    }
    return DraftPage(**(given | changes))  # type: ignore[arg-type]


def own_draft() -> DraftPage:
    return draft(
        questions=(),
        sign_action="",
        why_not="You charted this: somebody else signs beside you.",
        strike_typed="no",
        strike_error="Say why, in at least 4 characters.",
    )

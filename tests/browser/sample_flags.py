"""The flags of one cause: open with everything said of them, and none open."""

from app.pages.flags import CAUTION
from app.pages.flags_page import AnswerForm, FlagLine, FlagsPage, HistoryLine
from app.pages.shown import Tone
from tests.browser.sample_frame import at, banner, frame

STEP = FlagLine(
    words="Static compliance fell to 24, from 31",
    tone=Tone.FLAG,
    sentence="Static compliance fell in a step against its median of the last 24 hours.",
    values="24 at 22:10, 24 at 01:40",
    since=at("01:40"),
    against="Level before 31 mL/cmH2O",
    source="Engineering judgement, tuned on simulated courses.",
    policy_words="Raised under Unit Larch, version 7",
    would_clear="Cleared by 2 values in a row within 13 % of the level before; age clears nothing.",
    notes=("Raised because of the correction at 01:55",),
)
OVER = FlagLine(
    words="Driving pressure 16, over 15",
    tone=Tone.SEEN,
    sentence="Driving pressure was over its limit in two of the last three holds, or far over it "
    "once.",
    values="16 at 22:10, 16 at 01:40",
    since=at("01:40"),
    against="Limit, over 15 cmH2O",
    source="An association, not a proven target. Rule: two of three.",
    policy_words="Raised under Unit Larch, version 7",
    would_clear="Cleared by 2 values in a row at least 1 inside the limit; age clears nothing.",
)


def flags(**changes: object) -> FlagsPage:
    given: dict[str, object] = {
        "frame": frame("Flags"),
        "banner": banner(),
        "heading": "Flags: mechanics",
        "open": (OVER, STEP),
        "quiet_words": "",
        "said": ("Acknowledged 01:45 by Birch: recruit, then hold at 03 (owner night therapist)",),
        "history": (
            HistoryLine(at("01:45"), "Acknowledged 01:45 by Birch: recruit, then hold at 03"),
            HistoryLine(at("01:40"), "Raised: Driving pressure over 15 (16 at 22:10, 16 at 01:40)"),
            HistoryLine(at("20:10", 25), "Muted until 22:10: chest open", "Ash"),
        ),
        "form": AnswerForm(
            "/courses/5/flags/mechanics", "k-5", "a b", "", "Birch", True, False, 140
        ),
        "caution": CAUTION,
        "back_href": "/courses/5",
    }
    return FlagsPage(**(given | changes))  # type: ignore[arg-type]


def flags_none() -> FlagsPage:
    return flags(
        open=(), said=(), history=(), form=None, quiet_words="No flag raised of this cause"
    )


def flags_refused() -> FlagsPage:
    form = AnswerForm("/courses/5/flags/mechanics", "k-6", "a b", "", "Birch", True, True, 140)
    error = "The flags changed since this page was opened. Look at them again."
    return flags(form=form, error=error)

"""A handoff on offer, as its receiver sees it, the round of handoffs, and a frozen page."""

from markupsafe import Markup

from app.pages.frame import NavLink
from app.pages.handoff_page import (
    AcceptForm,
    Choice,
    Deeds,
    DifferenceLine,
    HandoffPage,
    IfThenLine,
    KeptPage,
    LateForm,
    OfferForm,
    PlanForms,
    Section,
    SnapshotPage,
    TaskLine,
    ThreadLine,
    WordsForm,
)
from app.pages.handoff_round_page import RoundGroup, RoundPage, RoundRow
from app.pages.shown import Due, When
from app.web.templating import Pages
from tests.browser.sample_frame import at, banner, frame
from tests.browser.sample_handoff import handoff, said, sections

BASE = "/courses/5/handoff"
DIFFERENCES = (
    DifferenceLine(
        "moved-1",
        "Moved from L2 to L5",
        "rescue gear and outlets at L5 looked at",
        at("01:50"),
        "Cedar",
    ),
    DifferenceLine("row-1", "New full check", "PEEP, cmH2O 8 → 10", at("01:55"), "Ash", True),
)
TASKS = (
    TaskLine(
        "t1",
        "Gas, one hour after FiO2 60",
        "open",
        When("2026-11-26T01:00:00+00:00", "25 Nov 20:00"),
        "night therapist",
        "",
        "",
        "Ash",
        True,
    ),
    TaskLine(
        "t2",
        "Turn with nursing",
        "moved",
        at("04:00"),
        "nurse",
        "ordered",
        "moved 01:40, Ash, was 03:00",
        "Ash",
        True,
    ),
    TaskLine(
        "t4",
        "Tube out unplanned: re-intubated or not",
        "open",
        at("03:10"),
        "",
        "by the unit's rule",
        "",
        "Ash",
        True,
        (
            NavLink("Re-intubated", "/courses/5/airway?act=placed"),
            NavLink("Not re-intubated", "/courses/5/liberation?act=told"),
        ),
    ),
    TaskLine(
        "t3",
        "Cuff by manometer",
        "not_done",
        None,
        "",
        "",
        "not done 01:20, Ash: patient in the scanner",
        "Ash",
        False,
    ),
)
IF_THENS = (
    IfThenLine(
        "i1",
        "SpO2 under 88 % for 5 min",
        "suction, FiO2 up one step",
        "the physician within 10 min",
        "suction 21:40, small effect",
        "Ash",
        at("01:30"),
    ),
)
THREAD = (
    ThreadLine("offered version 3 to Birch", "", "Ash", at("01:42"), "/courses/5/handoffs/3"),
    ThreadLine("asked", "Why is PEEP 8 at 60 %?", "Birch", at("01:44")),
    ThreadLine("answered", "Pressure dropped after the turn; Dr Oak chose 8.", "Ash", at("01:46")),
)
PLAN = PlanForms(
    "k-1",
    f"{BASE}/tasks",
    f"{BASE}/tasks/settle",
    f"{BASE}/if-then",
    f"{BASE}/if-then/take-back",
    (Choice("spo2 under 88", "SpO2 under 88 %"),),
)
RECEIVING = Deeds(
    "k-1",
    error="Something changed since the offer. It has to be seen before accepting.",
    accept=AcceptForm(
        f"{BASE}/accept",
        "Accept L5, P-05 from Ash",
        3,
        "You accept version 3, as offered 01:42. Until you press, the bed is not yours.",
        True,
        "",
        DIFFERENCES,
    ),
    boxes=(
        WordsForm("returned", f"{BASE}/return", "Your question", "Return it with this question"),
    ),
)
GIVING = Deeds(
    "k-1",
    offer=OfferForm(
        f"{BASE}/offer",
        "Offer L5, P-05",
        (Choice("", "whoever comes"), Choice("b", "Birch", True)),
        (Choice("low", "Low"), Choice("raised", "Raised"), Choice("high", "High", True)),
        "The record suggests raised: outside this unit's ranges: driving pressure over 15.",
        "",
    ),
    late=LateForm(f"{BASE}/seen", DIFFERENCES[1:]),
    withdraw_action=f"{BASE}/withdraw",
)


def planned() -> tuple[Section, ...]:
    """The sample's headings with a plan in them."""
    kept = [one for one in sections() if one.key not in ("todo", "ifthen", "questions", "concern")]
    return (
        Section("concern", "Concern", words=said("Stiffer over the night."), lede="High concern."),
        *kept,
        Section("todo", "Still to do", due=(Due("full check", "due", at("03:30")),), tasks=TASKS),
        Section("if_then", "If … then …", if_thens=IF_THENS),
        Section("restated", "Questions and restatement", thread=THREAD),
    )


def receiving() -> HandoffPage:
    """Offered, and two things have changed since."""
    return handoff(
        standing="Offered to Birch",
        standing_note="Ash has this bed, accepted from Birch 19:04. Offered 01:42, version 3.",
        sections=planned(),
        deeds=RECEIVING,
        plan=PLAN,
    )


def giving() -> HandoffPage:
    """Held by the reader, with low concern folded."""
    return handoff(
        standing="Ash has this bed, accepted from Birch 19:04",
        sections=planned(),
        deeds=GIVING,
        plan=PLAN,
        folded=("Full treatment · Oral tube 7.5 mm at 22 cm", "Volume control · FiO2 40", "03:30"),
    )


def kept() -> KeptPage:
    """A frozen page under a frame of today."""
    page = SnapshotPage(
        banner(),
        "Version 3, offered by Ash to Birch, Thu 26 Nov 2026, 01:42 EST",
        "Judged by policy 1",
        planned(),
        "5",
        3,
    )
    fragment = Pages().text("parts/_snapshot.html", page)
    return KeptPage(
        frame("Offered handoff"),
        banner(),
        "As offered: version 3",
        Markup(fragment),  # noqa: S704
        f"SHA-256 {'0a' * 32}",
        (NavLink("The handoff now", BASE),),
    )


def row(bed: str, who: str, state: str, **more: object) -> RoundRow:
    given: dict[str, object] = {
        "bed": bed,
        "who": who,
        "who_line": "record ends in 4471",
        "concern": "High concern",
        "concern_words": "Stiffer over the night, still climbing in oxygen; I don’t know why.",
        "concern_key": "high",
        "flags": "Driving pressure 16, over 15",
        "state": state,
        "standing": "Ash has it; offered to Birch 01:42",
        "yours": "Read and accept",
        "href": BASE,
        "late": "",
        "due": Due("check", "due", at("03:30")),
        "task": at("02:50"),
    }
    return RoundRow(**(given | more))  # type: ignore[arg-type]


def round_of() -> RoundPage:
    """A round half way."""
    calm = {
        "concern": "Low concern",
        "concern_key": "low",
        "concern_words": "",
        "flags": "",
        "task": None,
    }
    return RoundPage(
        frame("Handoffs"),
        (
            "2 of 8 beds are yours",
            "3 offered and not accepted",
            "1 returned with a question",
            "0 nobody has yet",
        ),
        (
            RoundGroup(
                "Offered to you",
                "to-you",
                (
                    row("L5", "P-05", "offered"),
                    row("L6", "P-06", "returned", standing="Ash has it; returned by Birch 01:44"),
                ),
            ),
            RoundGroup(
                "Yours to hand over",
                "yours",
                (
                    row(
                        "L1",
                        "P-01",
                        "accepted",
                        **calm,
                        standing="Birch has it",
                        late="1 late item to look at",
                    ),
                ),
            ),
            RoundGroup(
                "Other beds",
                "others",
                (row("L9", "P-09", "draft", concern="", flags="", standing="Nobody has it yet"),),
            ),
        ),
        (NavLink("Worst first", "/handoffs", True), NavLink("In bed order", "/handoffs?order=bed")),
        "v1",
        "/handoffs/rows?version=v1",
    )


def no_round() -> RoundPage:
    """Nobody is in a bed."""
    return RoundPage(frame("Handoffs"), (), (), (), "v1", "/handoffs/rows?version=v1")

"""A therapist's own beds: two of them with much to do, and none at all."""

from app.pages.mine import HOW_BEDS_COME
from app.pages.mine_page import DueAtBed, MinePage, MyBed
from app.pages.shown import Due, Tone, Worry
from tests.browser.sample_frame import at, frame

PLATEAU = Due("plateau", "overdue", at("01:40"), "overdue")
CHECK = Due("full check", "due", at("03:30"))
TASK = Due(
    "chest film after the tracheostomy, to be seen by the night physician", "due", at("02:45")
)
AGAIN = Due("read again: SpO2", "late", at("02:00"))


def bed(code: str, **changes: object) -> MyBed:
    given: dict[str, object] = {
        "bed": code,
        "who": "P-05",
        "who_line": "day 6 · high concern",
        "href": "/courses/5",
        "why_mine": "yours since 19:05, offered to Ash",
        "worries": (
            Worry(
                Tone.FLAG,
                "Driving pressure 16, over 15",
                "open since 01:40: 16 at 22:10, 16 at 01:40; also static compliance fell to 24, "
                "from 31",
                at("01:40"),
                "mechanics",
                "/courses/5/flags/mechanics",
            ),
            Worry(Tone.ONCE, "SpO2 86 once, under 88", "read again by 02:00", at("01:30")),
        ),
        "quiet_words": "",
        "due": (PLATEAU, AGAIN, TASK, CHECK),
        "quiet_due": "",
        "assess_href": "/courses/5/assess",
        "handoff_href": "/courses/5/handoff",
    }
    return MyBed(**(given | changes))  # type: ignore[arg-type]


def mine(**changes: object) -> MinePage:
    calm = bed(
        "L12",
        who="P-12",
        who_line="day 2 · low concern",
        worries=(),
        quiet_words="No flag raised",
        due=(),
        quiet_due="Nothing due in two hours; next: full check 07:30",
        why_mine="yours since 19:05",
    )
    covered = bed("L7", who="P-07", why_mine="you cover; Ash has it", worries=calm.worries)
    waits = "assigned to you this shift, not accepted; Ash has it"
    assigned = bed("L9", who="P-09", why_mine=waits, due=(), quiet_due="", assess_href="")
    given: dict[str, object] = {
        "frame": frame("My beds"),
        "summary_words": "2 beds, 1 with a flag, 1 thing overdue",
        "in_order": tuple(
            DueAtBed("L5", "/courses/5", due) for due in (PLATEAU, AGAIN, TASK, CHECK)
        ),
        "beds": (bed("L5"), calm, covered, assigned),
        "cover_words": ("Birch covers for Ash until 04:30: transport to the scanner",),
        "offered_words": "Offered to you and not accepted yet: L7",
        "empty_words": (),
        "version": "v",
        "rows_href": "/mine/rows?version=v",
    }
    return MinePage(**(given | changes))  # type: ignore[arg-type]


def mine_none() -> MinePage:
    return mine(
        summary_words="",
        in_order=(),
        beds=(),
        offered_words="",
        cover_words=(),
        empty_words=HOW_BEDS_COME,
    )

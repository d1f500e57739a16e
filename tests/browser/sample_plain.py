"""Sign-in, courses and trouble, each with and without something in it."""

from msgspec.structs import replace

from app.pages.first_run import NO_PERSON_YET, NO_UNIT_YET
from app.pages.frame import NavLink
from app.pages.plain_pages import CourseLine, CoursesPage, DemoPerson, SignInPage, TroublePage
from tests.browser.sample_frame import at, frame

PEOPLE = (
    DemoPerson("ash", "larch-ash", "respiratory therapist, day"),
    DemoPerson("birch", "larch-birch", "respiratory therapist, night"),
    DemoPerson("cedar", "larch-cedar", "lead"),
    DemoPerson("oak", "larch-oak", "physician, reads"),
)


def sign_in() -> SignInPage:
    page = frame("Sign in", viewer_name="", viewer_role="", links=())
    return SignInPage(page, "", "", "/board", PEOPLE)


def sign_in_refused() -> SignInPage:
    page = frame("Sign in", viewer_name="", viewer_role="", links=(), demo=False)
    return SignInPage(page, "birch", "That name and password do not go together.", "/board")


def sign_in_first_run() -> SignInPage:
    missing = (NO_UNIT_YET, NO_PERSON_YET)
    page = frame("Sign in", unit_name="", viewer_name="", viewer_role="", links=(), demo=False)
    return SignInPage(replace(page, missing=missing), "", "", "/")


def courses() -> CoursesPage:
    lines = tuple(
        CourseLine(
            f"/courses/{number}",
            f"Course {number}, adult, F",
            at("03:10", 20),
            48,
            at("01:40") if number % 2 else None,
            "imported" if number % 2 else "ended 25 Nov",
        )
        for number in range(31, 36)
    )
    return CoursesPage(frame("Courses", "Courses"), "Ended or imported courses", lines, "")


def no_courses() -> CoursesPage:
    return CoursesPage(
        frame("Courses", "Courses"), "Ended or imported courses", (), "No course has ended."
    )


def not_found() -> TroublePage:
    ways = (NavLink("Board", "/board"),)
    words = "This address leads to nothing that you may see."
    return TroublePage(frame("Not found"), "Nothing here", words, ways)


def not_saved() -> TroublePage:
    ways = (NavLink("Try again", "/courses/5/assess"), NavLink("Board", "/board"))
    typed = (("FiO2", "40 %"), ("PEEP", "10"), ("Remark", "Coughs on the turn;\nsettles after."))
    words = "The record could not be written. Nothing of this check is on record."
    return TroublePage(frame("Not saved"), "Not saved", words, ways, "7f3a-22", typed)

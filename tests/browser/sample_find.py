"""The page that finds a course, with something in every list and with nothing."""

from app.pages.find_page import FindPage, FoundLine, StepLine
from app.pages.frame import NavLink
from tests.browser.sample_frame import at, frame

LINE = FoundLine("/courses/5", "Course 1", at("03:10", 20), "extubated, 24 Nov 11:20")
SHIFT = "Wed 25 Nov 2026, 19:00 EST to Thu 26 Nov 2026, 07:00 EST"


def found() -> FindPage:
    steps = (
        StepLine(at("18:40"), "L5", "/courses/5", "offered version 2", "Ash", "/courses/5/2"),
        StepLine(at("19:05"), "L5", "/courses/5", "accepted", "Birch"),
    )
    links = (NavLink("The shift before", "/find"), NavLink("The shift after", "/find"))
    page = frame("Find", "Find")
    return FindPage(page, "record number", (LINE,), "", (LINE, LINE), SHIFT, steps, links)


def nothing() -> FindPage:
    words = "Nobody has exactly this number here."
    return FindPage(frame("Find", "Find"), "record number", (), words, (), SHIFT, (), ())

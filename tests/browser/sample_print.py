"""The page that leads to paper, for a lead and for whoever comes before any set was kept."""

from app.pages.print_page import PrintPage, print_links
from tests.browser.sample_frame import at, frame


def printing() -> PrintPage:
    beds = tuple((f"L{bed}", "5") for bed in range(1, 13))
    outages = ("On paper from 02:05 to 04:40 on 26 Nov, said by Cedar: server room flooded",)
    return PrintPage(
        frame("Print", "Print"), print_links("a4", beds), True, at("02:00"), outages, "EST"
    )


def nothing_kept() -> PrintPage:
    return PrintPage(frame("Print", "Print"), print_links("letter", ()), leads=False, kept=None)

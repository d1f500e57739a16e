"""The page that leads to paper: what to print, on which sheet, and what is kept for an outage."""

from collections.abc import Sequence

from msgspec import Struct

from app.charting.mode_families import MODE_FAMILIES
from app.pages.frame import Frame, NavLink
from app.pages.sheets import PAPERS
from app.pages.shown import When


class PrintLinks(Struct, frozen=True):
    """What can be printed, each on the chosen paper."""

    papers: tuple[NavLink, ...]
    sets: tuple[NavLink, ...]
    beds: tuple[NavLink, ...]
    blanks: tuple[NavLink, ...]


class PrintPage(Struct, frozen=True):
    """Links to sets of sheets, and the state of the set that lies ready for an outage."""

    frame: Frame
    links: PrintLinks
    leads: bool
    kept: When | None
    """When the newest set for an outage was written; None where there is none."""
    outages: tuple[str, ...] = ()
    """Times on paper that were recorded, newest first."""
    zone: str = ""
    error: str = ""
    """Why what was asked for was not done."""
    twice: bool = False
    """Whether a change of the clock is near, so that a time may have come twice."""
    from_at: str = ""
    to_at: str = ""
    words: str = ""


def print_links(paper: str, beds: Sequence[tuple[str, str]]) -> PrintLinks:
    """Every link of the page; `beds` are those with somebody in them, as code and course."""
    base = f"/print/sheets?paper={paper}&of="
    blank = f"/print/blank?paper={paper}"
    families = MODE_FAMILIES.values()
    return PrintLinks(
        papers=tuple(
            NavLink(label, f"/print?paper={key}", current=key == paper)
            for key, label in PAPERS.items()
        ),
        sets=(NavLink("The unit", f"{base}unit"), NavLink("My beds", f"{base}mine")),
        beds=tuple(NavLink(code, f"{base}{course}") for code, course in beds),
        blanks=(
            NavLink("Every form", blank),
            *(NavLink(family.label, f"{blank}&family={family.code}") for family in families),
        ),
    )

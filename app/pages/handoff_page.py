"""The handoff page as its template reads it: fixed headings, in a fixed order, on one sheet."""

from dataclasses import dataclass

from app.pages.bed_page import NowGroup
from app.pages.frame import Banner, Frame
from app.pages.shown import Due, When, Worry


@dataclass(frozen=True, slots=True)
class Words:
    """What a person wrote under a heading, in that person's voice."""

    words: str
    author: str
    when: When


@dataclass(frozen=True, slots=True)
class Change:
    """One step of what changed this shift: before, after, when, by whom and why."""

    what: str
    before: str
    after: str
    when: When
    author: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """One heading of the page. What comes from data and what a person wrote are kept apart."""

    key: str
    heading: str
    note: str = ""
    lines: tuple[str, ...] = ()
    numbers: tuple[NowGroup, ...] = ()
    changes: tuple[Change, ...] = ()
    due: tuple[Due, ...] = ()
    worries: tuple[Worry, ...] = ()
    words: Words | None = None
    writable: bool = False
    prompt: str = ""
    """What to write here, for whoever writes it."""
    empty_words: str = ""
    """What to say where nothing is known: missing is drawn as missing."""


@dataclass(frozen=True, slots=True)
class HandoffPage:
    """One patient for the next shift."""

    frame: Frame
    banner: Banner
    standing: str
    """Who has the bed and where the handoff stands: "Draft. Nobody has been offered this bed"."""
    shift_words: str
    sections: tuple[Section, ...]
    editable: bool
    note_action: str
    back_href: str
    printed: When

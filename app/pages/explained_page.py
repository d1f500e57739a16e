"""The explanation of one number as its template reads it: the sum, its inputs, and who says so."""

from msgspec import Struct

from app.pages.frame import Banner, Frame
from app.pages.shown import Shown, When


class InputLine(Struct, frozen=True):
    """One input with its value or its absence, and what must be known of where it came from."""

    shown: Shown
    state: str
    """How it came to be: "measured", "confirmed: looked at, unchanged", "worked out"."""
    when: When | None = None
    author: str = ""
    notes: tuple[str, ...] = ()
    """Marks: corrected from what, asked and let stand, imported, typed as what."""


class Need(Struct, frozen=True):
    """One thing that would have to be there: what, and where it is charted."""

    what: str
    where: str


class PastValue(Struct, frozen=True):
    """One earlier (or later) value of the same key, leading to its own explanation."""

    shown: Shown
    when: When
    author: str
    here: bool = False
    """Whether it is the value that the page explains."""


class RangeJudged(Struct, frozen=True):
    """The range that the value is judged by, with its source and the policy that holds it."""

    words: str
    verdict: str
    source: str
    policy_words: str


class Line(Struct, frozen=True):
    """One thing to know of a field, such as its range: a label and words."""

    label: str
    words: str


class Explanation(Struct, frozen=True):
    """One number, opened. What does not apply is empty, and the page leaves it out."""

    label: str
    shown: Shown
    state: str
    """Where it comes from, in a few words: "worked out from a full check", "measured"."""
    judged: RangeJudged
    source: str
    when: When | None = None
    author: str = ""
    notes: tuple[str, ...] = ()
    exact: str = ""
    """The number as it is before rounding."""
    why_not: str = ""
    """Why there is no number, in full."""
    needs_words: str = ""
    needs: tuple[Need, ...] = ()
    formula: str = ""
    basis: str = ""
    inputs: tuple[InputLine, ...] = ()
    valid_when: str = ""
    about: tuple[Line, ...] = ()
    catalogue_href: str = ""
    """The index in the catalogue; empty for a field."""


class ExplainedPage(Struct, frozen=True):
    """The explanation of one number of one patient, with the other values of the same key."""

    frame: Frame
    banner: Banner
    number: Explanation
    past: tuple[PastValue, ...]
    past_words: str
    """For example "31 earlier values" left out of the list, or why the list is empty."""
    back_href: str

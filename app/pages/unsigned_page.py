"""Drafts that nobody has signed, as templates read them: the list, and one draft before signing."""

from msgspec import Struct

from app.pages.frame import Banner, Frame
from app.pages.shown import Shown, When


class UnsignedLine(Struct, frozen=True):
    """One draft in the list."""

    bed: str
    name: str
    kind: str
    author: str
    observed: When
    href: str
    deed: str
    """What this viewer can do with it: "Look and sign", or "Look"."""


class UnsignedPart(Struct, frozen=True):
    """Drafts of one shift; those of an earlier one come first."""

    heading: str
    lines: tuple[UnsignedLine, ...]


class UnsignedPage(Struct, frozen=True):
    """What waits for a signature."""

    frame: Frame
    words: str
    parts: tuple[UnsignedPart, ...]
    empty_words: str


class DraftValue(Struct, frozen=True):
    """One value of a draft with everything that a signer has to know of it."""

    label: str
    shown: Shown
    typed: str = ""
    """What was typed, where it was read as something else ("0.4")."""
    asked: str = ""
    """What its author was asked beside it, and answered with yes."""


class DraftGroup(Struct, frozen=True):
    """Values that were read in one place at the bed."""

    heading: str
    values: tuple[DraftValue, ...]


class OpenQuestion(Struct, frozen=True):
    """What has to be answered before the draft can be signed; without a key nobody can."""

    label: str
    words: str
    key: str
    accepted: bool
    answer: str = "Yes"


class DraftPage(Struct, frozen=True):
    """One draft, every value in sight, and what the viewer may do with it."""

    frame: Frame
    banner: Banner
    heading: str
    words: str
    """Whose it is, when it was written, and that it is no fact."""
    groups: tuple[DraftGroup, ...]
    if_signed: tuple[Shown, ...]
    """What the numbers would mean."""
    remarks: tuple[str, ...]
    """Soft remarks of the checks; they hold nothing up."""
    questions: tuple[OpenQuestion, ...]
    seen: str
    sign_action: str
    """Empty where the viewer cannot sign it; then `why_not` may say why."""
    why_not: str
    strike_action: str
    strike_typed: str
    strike_error: str
    back_href: str

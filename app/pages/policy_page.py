"""The pages of a unit's policy, as their templates read them."""

from msgspec import Struct

from app.pages.assess_page import Option
from app.pages.frame import Frame, NavLink
from app.pages.shown import When


class EntryLine(Struct, frozen=True):
    """One number or word in force: its value, where it comes from, and who set it when."""

    label: str
    value: str
    unit: str
    source: str
    set_by: str
    """ "Set in version 2, Cedar, 26 Nov 19:00: reason"; empty where it is as the table says."""


class TableEntry(Struct, frozen=True):
    """The entries that belong together: a limit, a rule, the rounds."""

    heading: str
    anchor: str
    lines: tuple[EntryLine, ...]
    change_href: str
    """Empty for whoever may not change it, and for an earlier version."""
    notes: tuple[str, ...] = ()
    """Source and setting that most of its entries share: those without one of their own."""


class PolicySection(Struct, frozen=True):
    """Tables of one cause, or of the unit itself."""

    heading: str
    anchor: str
    tables: tuple[TableEntry, ...]


class ChangeLine(Struct, frozen=True):
    """What one entry was and is."""

    words: str
    before: str
    after: str
    unit: str = ""


class VersionLine(Struct, frozen=True):
    """One version, who wrote it why, and what it changed."""

    name: str
    anchor: str
    href: str
    toml_href: str
    since: When
    author: str
    reason: str
    changes: tuple[ChangeLine, ...]
    first: bool
    """Whether there was none before it."""
    holds: bool


class PolicyPage(Struct, frozen=True):
    """One version whole, and the list of all."""

    frame: Frame
    heading: str
    lead: str
    sections: tuple[PolicySection, ...]
    versions: tuple[VersionLine, ...]
    toml_href: str
    ways: tuple[NavLink, ...]


class EntryBlank(Struct, frozen=True):
    """One entry as a form shows it, with what was typed and what is wrong with it."""

    name: str
    label: str
    shape: str
    typed: str
    unit: str = ""
    hint: str = ""
    bad: str = ""
    options: tuple[Option, ...] = ()
    """The answers of a choice."""


class ChangeForm(Struct, frozen=True):
    """The entries of one table, to be set anew."""

    frame: Frame
    heading: str
    lead: str
    action: str
    blanks: tuple[EntryBlank, ...]
    base: int
    toml: str
    """What was changed before in the same sitting; empty where this is the first change."""
    errors: tuple[str, ...] = ()
    back_href: str = "/policy"
    more: tuple[EntryBlank, ...] = ()
    """An entry that the table does not have yet: which, and its number."""


class AddPage(Struct, frozen=True):
    """What a unit could limit and does not."""

    frame: Frame
    action: str
    options: tuple[Option, ...]
    bad: str = ""


class PasteForm(Struct, frozen=True):
    """A whole policy in its file form, typed or pasted."""

    frame: Frame
    text: str
    base: int
    errors: tuple[ChangeLine, ...] = ()
    longest: int = 0


class TriedLine(Struct, frozen=True):
    """One bed: how many flags either policy raises there, and the rules that differ."""

    bed: str
    href: str
    checks: int
    in_force: int
    proposed: int
    rules: tuple[str, ...]


class TriedPage(Struct, frozen=True):
    """The proposed policy tried on the past days."""

    words: str
    lines: tuple[TriedLine, ...]
    in_force: int
    proposed: int
    rules: tuple[ChangeLine, ...]
    """By rule over all beds, those that differ."""
    notes: tuple[str, ...]


class PreviewPage(Struct, frozen=True):
    """What would change and what it would have raised, before anybody adopts it."""

    frame: Frame
    heading: str
    changes: tuple[ChangeLine, ...]
    tried: TriedPage | None
    toml: str
    base: int
    save_key: str
    days: tuple[NavLink, ...]
    """How many past days it can be tried on: label and the value of its button."""
    tables: tuple[NavLink, ...]
    """Other tables to change as well: heading and address."""
    reason: str = ""
    errors: tuple[str, ...] = ()
    longest_reason: int = 0

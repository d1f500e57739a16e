"""The bed page as its template reads it: now, what stands out, the last 24 h as a grid, events."""

from collections.abc import Mapping

from msgspec import Struct, field

from app.pages.bed_acts import Acts
from app.pages.changed_part import ChangedPart
from app.pages.frame import Banner, Frame, NavLink
from app.pages.shown import Due, Shown, When, Worry
from app.pages.trends_page import Trend


class NowGroup(Struct, frozen=True):
    """A few numbers of one kind with the state they share, said once in the heading."""

    heading: str
    note: str
    numbers: tuple[Shown, ...]
    words: str = ""
    """A sentence instead of numbers where the group does not apply."""


class GridColumn(Struct, frozen=True):
    """One assessment: when it was observed, by whom, and what a reader must know of it."""

    when: When
    author: str
    kind: str
    notes: tuple[str, ...] = ()
    """For example "written 16:20", "imported", "struck: wrong patient", "unsigned"."""
    newest: bool = False
    struck: bool = False
    draft: bool = False
    """True while it waits for a signature: shown, and in force nowhere."""
    href: str = ""
    """The row by itself, where it can be corrected or struck."""


class GridRow(Struct, frozen=True):
    """One field or index across the assessments; one cell per column, in the same order."""

    label: str
    unit: str
    key: str
    cells: tuple[Shown, ...]


class GridGroup(Struct, frozen=True):
    """Rows that belong together: told to the machine, read at the bed, worked out, airway."""

    heading: str
    rows: tuple[GridRow, ...]


class EventLine(Struct, frozen=True):
    """One event in one line, and where it is looked at and put right."""

    when: When
    words: str
    author: str
    href: str = ""


class TreatmentLine(Struct, frozen=True):
    """One inhaled treatment that is ordered: what, and how it stands."""

    words: str
    detail: str
    give_href: str
    """Where it is written down that it was given."""


class BedPage(Struct, frozen=True):
    """Everything about one patient now and over the last day."""

    frame: Frame
    banner: Banner
    now: tuple[NowGroup, ...]
    worries: tuple[Worry, ...]
    quiet_words: str
    due: tuple[Due, ...]
    quiet_due: str
    """What stands in place of what is due, where nothing is."""
    columns: tuple[GridColumn, ...]
    groups: tuple[GridGroup, ...]
    more: tuple[GridGroup, ...]
    """Groups that are read less often: the same columns, folded under the grid."""
    earlier_words: str
    """For example "12 earlier checks", when the grid leaves some out."""
    earlier_href: str
    events: tuple[EventLine, ...]
    assess_href: str
    gas_href: str
    brief_href: str
    event_href: str
    handoff_href: str
    may_chart: bool
    row_words: str
    """Where a column leads: what this viewer can do with the row."""
    policy_words: str
    changed: ChangedPart | None = None
    acts: tuple[Acts, ...] = ()
    """What else can be done for this patient."""
    tube_out_href: str = ""
    """Where it is recorded in one press that the tube came out; empty without a tube."""
    treatments: tuple[TreatmentLine, ...] = ()
    """Inhaled treatments that are ordered."""
    liberation: tuple[str, ...] = ()
    """The way off the ventilator: a tube that is out or went in again, time off."""
    ordered_words: str = ""
    own_ranges: tuple[str, ...] = ()
    """Ranges of this patient's own, in place of the unit's."""
    """The targets in force, by whom they were ordered."""
    row_trends: Mapping[str, Trend] = field(default_factory=dict)
    """The day of some rows of the grid as a small line, by the row's key."""
    going: tuple[str, ...] = ()
    """What goes on and lasts (prone, away, standby, a trial), each with how long so far; and who
    covers here for whom."""
    not_yet: tuple[NavLink, ...] = ()
    """What the intake left open, each with the page that completes it."""

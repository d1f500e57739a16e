"""What stands around every page, and the banner that says whose page it is."""

from msgspec import Struct

from app.pages.first_run import Missing
from app.pages.shown import Shown, When

CAUTIONS = (
    "Handoff aid. Not a monitor or alarm. Values are hand-entered and may be old: check the age. "
    "Verify at the bedside. Missing is not normal. Limits are this unit's settings from published "
    "guidance, not orders; local policy and licensed practice decide."
)


class NavLink(Struct, frozen=True):
    """One entry of the page's own navigation."""

    label: str
    href: str
    current: bool = False
    more: bool = False
    """Whether it stands behind "More" in the line over every page."""


class Locks(Struct, frozen=True):
    """When a page locks unless somebody does something, and how many idle minutes that is."""

    at_iso: str
    idle_minutes: int


class Frame(Struct, frozen=True):
    """Title, navigation, viewer and clock of a page. The title never names a patient."""

    title: str
    unit_name: str
    viewer_name: str
    viewer_role: str
    now: When
    links: tuple[NavLink, ...] = ()
    csrf: str = ""
    theme: str = ""
    """For example "day", "night", or empty to follow the device."""
    demo: bool = False
    first_steps_href: str = ""
    """Where the demo says what to try first; empty outside of it."""
    notice: str = ""
    """A line over every page while the record is in trouble ("audit cannot be written")."""
    missing: tuple[Missing, ...] = ()
    """What a new site lacks before anybody can work in it."""
    said: str = ""
    """What has just happened, said once after a save."""
    told: tuple[NavLink, ...] = ()
    """What others did to rows that the viewer wrote, in the last day."""
    here: str = ""
    """The page's own address, so that a change of light leads back to it."""
    locks: Locks | None = None
    """When this page locks; nothing where nobody is signed in."""
    as_of: str = ""
    """Of which moment the page is, where it is not of the present."""
    as_of_note: str = ""
    present_href: str = ""
    outages: tuple[str, ...] = ()
    """Times on paper that the page's own time touches."""
    unsaved: tuple[tuple[str, str], ...] = ()
    """What was typed into a form that the page no longer shows as it was: label and text."""
    cautions: str = CAUTIONS


class Banner(Struct, frozen=True):
    """Whose page this is: two identifiers, body, limits of care. A bed is no identifier."""

    bed: str
    """The bed now, or empty for a course that is in none of this unit's beds."""
    moved: str
    """Where the patient was before, or how the course ended; empty for who is where they were."""
    name: str
    record_number: str
    age: str
    sex: str
    height: str
    predicted_weight: Shown
    day: str
    day_rule: str
    limits_of_care: str
    isolation: str
    allergies: str
    adult_off: str
    """Why adult formulae, limits and rules are off; empty for an adult."""
    course_href: str
    course_id: str = ""
    """What every form of the page carries, so that it cannot be sent to another patient."""
    height_href: str = ""
    """Where the height is said anew, with what it was before."""
    origin: str = ""
    """For example "imported" where the rows came from files and not from this unit's bedside."""
    limits_name: str = "treatment limits"
    number_name: str = "record number"
    """What this site calls them."""

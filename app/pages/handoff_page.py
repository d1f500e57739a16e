"""The handoff page as its template reads it: fixed headings, in a fixed order, on one sheet."""

from msgspec import Struct

from app.pages.bed_page import NowGroup
from app.pages.changed_part import Change
from app.pages.frame import Banner, Frame, NavLink
from app.pages.shown import Due, When, Worry


class Words(Struct, frozen=True):
    """What a person wrote under a heading, in that person's voice."""

    words: str
    author: str
    when: When


class TaskLine(Struct, frozen=True):
    """One thing left to do, or settled; `state` is open, moved, done or not_done."""

    key: str
    words: str
    state: str
    when: When | None
    """When it is due; None where nobody gave a time."""
    owner: str
    source: str
    """ "ordered", "by the unit's rounds"; empty for a person's own."""
    became: str
    """What became of it, "done 18:40, Ash"; empty while it is open and was never moved."""
    author: str
    is_open: bool
    late: str = ""
    """ "late", "overdue" or "paused", as on the bed's page; empty while its time has not passed."""
    ways: tuple[NavLink, ...] = ()
    """Where the fact is charted that closes it; empty for what is simply done."""


class IfThenLine(Struct, frozen=True):
    """One line of what may come: the half that data can offer, and the half that a person wrote."""

    key: str
    if_words: str
    then_words: str
    call_words: str
    tried: str
    author: str
    when: When


class Told(Struct, frozen=True):
    """A value inside a sentence: "Depth 22 cm", and where it opens."""

    text: str
    href: str = ""


class Seen(Struct, frozen=True):
    """What was seen at one time, told in a line."""

    at: str
    told: tuple[Told, ...]


class Section(Struct, frozen=True):
    """One heading of the page. What comes from data and what a person wrote are kept apart."""

    key: str
    heading: str
    note: str = ""
    lines: tuple[str, ...] = ()
    seen: tuple[Seen, ...] = ()
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
    lede: str = ""
    """What a person chose, said before their words: "High concern"."""
    words_label: str = ""
    """What the words are, where the heading does not say it: "None expected"."""
    tasks: tuple[TaskLine, ...] = ()
    if_thens: tuple[IfThenLine, ...] = ()
    thread: "tuple[ThreadLine, ...]" = ()
    anchor: str = ""
    """The heading's own name where several patients stand in one document."""


class ThreadLine(Struct, frozen=True):
    """One step of the handoff in the order of time, in words."""

    did: str
    words: str
    author: str
    when: When
    href: str = ""
    """Where the offered version is kept."""


class DifferenceLine(Struct, frozen=True):
    """Something that is different from what was offered or accepted, to be seen and ticked."""

    key: str
    words: str
    detail: str
    when: When | None
    author: str
    ticked: bool = False


class Choice(Struct, frozen=True):
    """One entry of a list of choices."""

    value: str
    label: str
    chosen: bool = False


class OfferForm(Struct, frozen=True):
    """What the giver fills in: how worried, why, and to whom."""

    action: str
    button: str
    receivers: tuple[Choice, ...]
    levels: tuple[Choice, ...]
    suggested: str
    reason: str
    """Words typed before, where the form comes back."""


class AcceptForm(Struct, frozen=True):
    """What the receiver reads, ticks and says back before the bed is theirs."""

    action: str
    button: str
    """Names the bed, the patient and the giver."""
    version: int
    version_words: str
    typed: bool
    """True where a typed line is wanted; otherwise it is said aloud."""
    restated: str
    differences: tuple[DifferenceLine, ...]


class LateForm(Struct, frozen=True):
    """What came behind an accepted handoff and this reader has not seen yet."""

    action: str
    items: tuple[DifferenceLine, ...]


class WordsForm(Struct, frozen=True):
    """One box and one button."""

    key: str
    action: str
    label: str
    button: str
    words: str = ""


class Deeds(Struct, frozen=True):
    """What this reader can do about the handoff now; nothing that they cannot."""

    save_key: str
    error: str = ""
    offer: OfferForm | None = None
    accept: AcceptForm | None = None
    late: LateForm | None = None
    boxes: tuple[WordsForm, ...] = ()
    """Return, answer, take over, add: each open to this reader."""
    withdraw_action: str = ""
    waiting: str = ""
    """Why there is nothing to press, where a reader would look for it."""


class PlanForms(Struct, frozen=True):
    """The forms under "Still to do" and "If … then …"."""

    save_key: str
    task_action: str
    settle_action: str
    if_then_action: str
    take_back_action: str
    offered_ifs: tuple[Choice, ...]
    """First halves from this patient's own limits; the second half is always a person's."""
    owners: tuple[str, ...] = ("night therapist", "day therapist", "nurse", "physician")


class HandoffPage(Struct, frozen=True):
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
    standing_note: str = ""
    """Who has the bed meanwhile, and since when."""
    standing_href: str = ""
    """Where the page asks whether it still holds; empty on paper."""
    deeds: Deeds | None = None
    plan: PlanForms | None = None
    folded: tuple[str, ...] = ()
    """Three lines in place of the page, where nothing on it asks to be read in full."""
    changed_words: str = ""
    """What changed in a line, for the top of the page; it leads to the heading that says it all."""
    ages: bool = True
    round_href: str = "/handoffs"
    news: str = ""
    """What the reader's page does not show yet, where the handoff went on meanwhile."""


class SnapshotPage(Struct, frozen=True):
    """What an offer freezes: no token, no age, nothing of whoever looks at it later."""

    banner: Banner
    version_words: str
    policy_words: str
    sections: tuple[Section, ...]
    course_id: str
    version: int
    ages: bool = False
    editable: bool = False


class KeptPage(Struct, frozen=True):
    """A frozen page as it is read later: the stored fragment, untouched, under a frame of today."""

    frame: Frame
    banner: Banner
    heading: str
    fragment: str
    """Safe markup: the stored bytes."""
    hash_words: str
    ways: tuple[NavLink, ...]

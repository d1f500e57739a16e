"""The check form as its template reads it: fields in bedside order, typed text, questions."""

from msgspec import Struct

from app.pages.cover_question import CoverQuestion
from app.pages.drafts import KeptDraft
from app.pages.frame import Banner, Frame
from app.pages.identity import IdentityQuestion
from app.pages.shown import Shown


class Option(Struct, frozen=True):
    """One answer of a choice."""

    value: str
    label: str
    chosen: bool = False
    letter: str = ""
    """The key that picks it, where one key is enough."""


class Ask(Struct, frozen=True):
    """One question beside a field, or about the whole form, and how it is answered."""

    key: str
    """What the form sends back to accept it; it names the values, so it holds for these alone."""
    sentence: str
    words: str
    """What accepting means here, for example "Yes, as typed" or "As found"."""
    letter: str = "y"
    accepted: bool = False


class Says(Struct, frozen=True):
    """What the program says beside one field: asked for anew while somebody types elsewhere."""

    code: str
    refused: str = ""
    asks: tuple[Ask, ...] = ()
    echo: str = ""
    """How the text was read, where that differs from what was typed ("0.4 is 40 %")."""
    note: str = ""
    """A soft remark from a cross-check, an order or a tagged use; blocks nothing."""
    open: bool = False
    """Whether it holds the form up: refused, or asked and not answered."""


class FieldInput(Struct, frozen=True):
    """One field of the form with everything that stands around it."""

    code: str
    label: str
    shape: str
    """For example "number", "choice", "text", "date" or "moment"."""
    unit: str
    typed: str
    required: bool
    says: Says
    options: tuple[Option, ...] = ()
    last: str = ""
    """For example "12, 23:30": the last value and its time, never a value by itself."""
    last_value: str = ""
    """What "keep" would confirm; empty where nothing may be confirmed."""
    seen: str = ""
    """The same as it is sent back, so that nobody confirms a value that was not shown."""
    kept: bool = False
    reasons: tuple[Option, ...] = ()
    """Why it was not measured; empty where that makes no sense."""
    help: str = ""
    asked: bool = False
    """Whether the walk with Enter stops here this time."""
    asked_with: str = ""
    """Codes of fields; the walk stops here once one of them holds something."""
    usual_low: str = ""
    usual_high: str = ""
    """Between these a bare number is neither refused nor asked; empty at an open end."""
    usual: bool = False
    """Whether any bare number may be passed without waiting for what the program says."""
    inputmode: str = ""


class FieldGroup(Struct, frozen=True):
    """Fields read in one place at the bed."""

    heading: str
    note: str
    fields: tuple[FieldInput, ...]
    folded: bool = False
    """True for a group that is rarely filled: it opens by itself when something is in it."""
    open: bool = False


class Complaint(Struct, frozen=True):
    """One line of the summary over the form, leading to its field."""

    code: str
    """The field's code; empty for what concerns the whole form."""
    label: str
    words: str
    ask: Ask | None = None
    """A question that belongs to no field, so that it can be answered here."""


class LiveIndices(Struct, frozen=True):
    """What the typed numbers mean so far; the fragment the form asks for while somebody types."""

    numbers: tuple[Shown, ...]


class ObservedInput(Struct, frozen=True):
    """When it was seen, on the unit's wall clock."""

    label: str
    value: str
    """Local date and time as the input wants it: "2026-11-26T03:28"."""
    zone: str
    error: str = ""
    late: str = ""
    """For example "a late entry, 2 h 10 after"; empty for what was seen just now."""
    choices: tuple[Option, ...] = ()
    """The moments that this wall time may mean, on a night when the clock changes."""


class Bound(Struct, frozen=True):
    """What a blood gas is bound to: support and oxygen in force when the sample was taken."""

    words: tuple[str, ...]
    units: tuple[Option, ...]
    """In which unit the slip's pressures are, where none is written behind them."""


class PaperInput(Struct, frozen=True):
    """Whose paper a check comes from, as typed so far."""

    by: str
    error: str = ""


class AssessPage(Struct, frozen=True):
    """The form for one assessment of one kind."""

    frame: Frame
    banner: Banner
    heading: str
    kind: str
    action: str
    live_href: str
    back_href: str
    observed: ObservedInput
    family: FieldInput
    groups: tuple[FieldGroup, ...]
    complaints: tuple[Complaint, ...]
    live: LiveIndices
    save_key: str
    """Makes saving idempotent: one key, one row."""
    focus: str = ""
    """Where the form begins: a field's code, "identity", "observed_at", or "form" for a question
    about the whole of it. Empty where it begins at its first field."""
    identity: IdentityQuestion | None = None
    cover: CoverQuestion | None = None
    """Whose chart it is, asked in the form's own first field; None once it was answered."""
    bound: Bound | None = None
    draft_href: str = ""
    """Where the form is kept while somebody types."""
    draft: KeptDraft | None = None
    """Since when it stands as this person left it; nothing for a form that was just opened."""
    already_saved: str = ""
    """Why this key cannot be saved again, with the row that it made."""
    already_saved_href: str = ""
    not_saved: str = ""
    """A plain "not saved" with the reason when the record cannot be written."""
    opened: str = ""
    """How far the record had come when the form was opened: what came since is held against it."""
    choices: tuple[tuple[str, str], ...] = ()
    """What was decided already where the chart says otherwise: the difference's key, and whose."""
    paper: PaperInput | None = None
    """Who wrote it on paper, on a form for what was; nothing on any other."""
    draft_words: str = ""
    """For a student: that what is saved here is a draft. Empty for who charts facts."""

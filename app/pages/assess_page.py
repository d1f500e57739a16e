"""The check form as its template reads it: fields in bedside order, typed text, questions."""

from dataclasses import dataclass

from app.pages.frame import Banner, Frame
from app.pages.shown import Shown


@dataclass(frozen=True, slots=True)
class Option:
    """One answer of a choice."""

    value: str
    label: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class FieldInput:
    """One field of the form with everything that stands around it."""

    code: str
    label: str
    shape: str
    """For example "number", "choice", "text", "date" or "moment"."""
    unit: str
    typed: str
    required: bool
    options: tuple[Option, ...] = ()
    last: str = ""
    """For example "12, 23:30": the last value and its time, never a value by itself."""
    last_value: str = ""
    """What "keep" would confirm; empty where nothing may be confirmed."""
    kept: bool = False
    reasons: tuple[Option, ...] = ()
    """Why it was not measured; empty where that makes no sense."""
    error: str = ""
    question: str = ""
    question_code: str = ""
    question_accepted: bool = False
    note: str = ""
    """A soft remark from a cross-check or a tagged use; blocks nothing."""
    echo: str = ""
    """How the program read it, where that differs from what was typed ("40 %", "90 mmHg")."""
    help: str = ""


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """Fields read in one place at the bed."""

    heading: str
    note: str
    fields: tuple[FieldInput, ...]
    folded: bool = False
    """True for a group that is rarely filled: it opens by itself when something is in it."""


@dataclass(frozen=True, slots=True)
class Complaint:
    """One line of the summary over the form, leading to its field."""

    code: str
    """The field's code; empty for what concerns the whole form."""
    label: str
    words: str
    question_code: str = ""
    """The key of a question that belongs to no field, so that it can be answered here."""
    question_accepted: bool = False


@dataclass(frozen=True, slots=True)
class LiveIndices:
    """What the typed numbers mean so far; the fragment the form asks for while somebody types."""

    numbers: tuple[Shown, ...]


@dataclass(frozen=True, slots=True)
class AssessPage:
    """The form for one assessment of one kind."""

    frame: Frame
    banner: Banner
    heading: str
    kind: str
    action: str
    live_href: str
    back_href: str
    observed_at: str
    """Local date and time as the input wants it: "2026-11-26T03:28"."""
    observed_at_error: str
    zone: str
    family: FieldInput
    groups: tuple[FieldGroup, ...]
    complaints: tuple[Complaint, ...]
    live: LiveIndices
    save_key: str
    """Makes saving idempotent: one key, one row."""
    already_saved: str = ""
    """Why this key cannot be saved again, with the row that it made."""
    already_saved_href: str = ""
    not_saved: str = ""
    """A plain "not saved" with the reason when the record cannot be written."""

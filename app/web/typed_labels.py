"""What a form's field is called, and says, when it is shown back outside the form."""

from datetime import datetime

from app.charting.field import Field
from app.charting.fields import FIELDS
from app.charting.fields.episodes import ASKED_OF_EPISODES
from app.charting.fields.intake import ASKED_ONCE
from app.pages.act_words import ACT_WORDS, event_choice_words
from app.pages.calculator_cylinder import WANTED
from app.pages.calculator_inputs import UNIT
from app.pages.handoff import SECTIONS
from app.web.forms import Form

Typed = tuple[tuple[str, str], ...]
"""Label and text of what somebody typed, as they saw both."""

_OF_A_CYLINDER = {one.name: one.label for one in WANTED}
_CALLED = {"act": "What", "kind": "What happened"}


def typed_in(form: Form, *, but: frozenset[str] = frozenset()) -> Typed:
    """All that was typed into a form, save some names, for where the form is not shown again."""
    return tuple(
        (label_of(name), text_of(name, text)) for name, text in form.typed() if name not in but
    )


def label_of(name: str) -> str:
    """The field's label on screen; for a name that is no field of any form, the name in words."""
    if name.startswith(UNIT):
        return f"{label_of(name.removeprefix(UNIT))}: unit"
    field = _field(name)
    if field is not None:
        return field.label
    called = _CALLED.get(name) or _OF_A_CYLINDER.get(name)
    return called or name.replace("_", " ").capitalize()


def text_of(name: str, text: str) -> str:
    """What stands in the field, as a reader of the page saw it: the words of an act or a choice,
    and a time as it is written."""
    if name == "act":
        return ACT_WORDS.get(text, text)
    if name == "kind":
        return event_choice_words(text)
    if name == "heading":
        return SECTIONS.get(text, text)
    field = _field(name)
    if field is not None and field.choices:
        return field.label_of(text)
    return _time(text) if name.endswith("_at") else text


def _field(name: str) -> Field | None:
    return FIELDS.get(name) or ASKED_ONCE.get(name) or ASKED_OF_EPISODES.get(name)


def _time(text: str) -> str:
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return text
    return f"{at.day} {at:%b %Y, %H:%M}"

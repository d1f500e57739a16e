"""What a form's field is called when its text is shown back outside the form."""

from app.charting.fields import FIELDS
from app.charting.fields.episodes import ASKED_OF_EPISODES
from app.charting.fields.intake import ASKED_ONCE
from app.pages.calculator_cylinder import WANTED
from app.pages.calculator_inputs import UNIT

_OF_A_CYLINDER = {one.name: one.label for one in WANTED}


def label_of(name: str) -> str:
    """The field's label on screen; for a name that is no field of any form, the name in words."""
    if name.startswith(UNIT):
        return f"{label_of(name.removeprefix(UNIT))}: unit"
    field = FIELDS.get(name) or ASKED_ONCE.get(name) or ASKED_OF_EPISODES.get(name)
    if field is not None:
        return field.label
    return _OF_A_CYLINDER.get(name, name.replace("_", " ").capitalize())

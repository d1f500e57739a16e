"""What a form's field is called when its text is shown back outside the form."""

from app.charting.fields import FIELDS


def label_of(name: str) -> str:
    """The field's label on screen; for a name that is no charted field, the name in words."""
    field = FIELDS.get(name)
    return field.label if field is not None else name.replace("_", " ").capitalize()

"""What a form sends of an oxygen cylinder, by the calculator's own names."""

from app.pages.calculator_cylinder import LETTER, WANTED
from app.pages.calculator_inputs import UNIT
from app.web.calculator_address import LONGEST
from app.web.forms import Form

NAMES = (
    *(one.name for one in WANTED),
    *(f"{UNIT}{one.name}" for one in WANTED),
    LETTER,
)


def cylinder_typed_in(form: Form) -> dict[str, str]:
    """Texts by name; nothing where no number and no letter was said: units come by themselves."""
    typed = {name: form.one(name, LONGEST) for name in dict.fromkeys(NAMES)}
    said = any(text.strip() for name, text in typed.items() if not name.startswith(UNIT))
    return {name: text for name, text in typed.items() if text.strip()} if said else {}

"""What changed and to what, in the words of a page."""

from app.charting.airways import REMOVED
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.shown import signed
from app.pages.site_words import LIMITS_OF_CARE, PLAIN, SiteWords
from app.rules.changes import AIRWAY, HEIGHT, LIMITS, MODE_FAMILY

NAMED = {MODE_FAMILY: "Mode", AIRWAY: "Airway", HEIGHT: "Height, cm"}


def what_changed(key: str, words: SiteWords = PLAIN) -> str:
    """The reader's name for what a step is about, with its unit."""
    if key in NAMED:
        return NAMED[key]
    if key == LIMITS:
        return words.name(LIMITS_OF_CARE).capitalize()
    field = words.fields[key]
    return f"{field.name}, {field.unit}" if field.unit else field.name


def value_words(key: str, value: object, words: SiteWords = PLAIN) -> str:
    """A value of a step as it is written: a mode by its label, an airway with its size."""
    if key == MODE_FAMILY:
        return family_of(str(value)).label
    if key == LIMITS:
        return str(value)
    if key == AIRWAY and value == REMOVED:
        return "removed"
    if key == AIRWAY:
        category, _, size = str(value).partition(" ")
        return f"{FIELDS['airway_category'].label_of(category)} {size}".strip()
    if isinstance(value, str):
        return FIELDS[key].label_of(value)
    return signed(words.text(key, f"{value:f}"))

"""What changed and to what, in the words of a page."""

from app.charting.airways import REMOVED
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.shown import signed
from app.pages.flag_words import label_of, with_site_unit
from app.pages.site_words import LIMITS_OF_CARE, PLAIN, SiteWords
from app.rules.changes import AIRWAY, HEIGHT, LIMITS, MODE_FAMILY, OF_THE_UNIT, OWN_RANGE

NAMED = {MODE_FAMILY: "Mode", AIRWAY: "Airway", HEIGHT: "Height, cm"}


def what_changed(key: str, words: SiteWords = PLAIN) -> str:
    """The reader's name for what a step is about, with its unit."""
    if key in NAMED:
        return NAMED[key]
    if key == LIMITS:
        return words.name(LIMITS_OF_CARE).capitalize()
    if key.startswith(OWN_RANGE):
        return f"Own range: {label_of(key.removeprefix(OWN_RANGE))}"
    field = words.fields[key]
    return f"{field.name}, {field.unit}" if field.unit else field.name


def value_words(key: str, value: object, words: SiteWords = PLAIN) -> str:
    """A value of a step as it is written: a mode by its label, an airway with its size."""
    if key == MODE_FAMILY:
        return family_of(str(value)).label
    if key == LIMITS:
        return str(value)
    if key.startswith(OWN_RANGE):
        return _ends(key.removeprefix(OWN_RANGE), str(value), words)
    if key == AIRWAY and value == REMOVED:
        return "removed"
    if key == AIRWAY:
        category, _, size = str(value).partition(" ")
        return f"{FIELDS['airway_category'].label_of(category)} {size}".strip()
    if isinstance(value, str):
        return FIELDS[key].label_of(value)
    return signed(words.text(key, f"{value:f}"))


def _ends(limit: str, told: str, words: SiteWords) -> str:
    """The ends of a range as the site writes them: "over 0.75"."""
    if told == OF_THE_UNIT:
        return told
    ends = (end.split() for end in told.split(" or "))
    return " or ".join(f"{side} {with_site_unit(limit, end, words)}" for side, end in ends)

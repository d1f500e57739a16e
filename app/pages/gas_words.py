"""A blood gas in words: from which sample, on which oxygen, on which support.

A PaO2 of 42 from a vein is no lack of oxygen; a gas says nothing without what was given when it was
drawn. Common practice; the specimen is asked, never assumed (decision 25).
"""

from msgspec.structs import replace

from app.charting.facts import Assessment
from app.charting.field import Group, Shape
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.moment import Moment
from app.pages.shown import Shown
from app.pages.site_words import SiteWords
from app.pages.values import reading_text

ARTERIAL = "arterial"


def specimen_of(row: Assessment) -> str:
    """The specimen's word in small letters; empty where nobody knows it."""
    reading = row.readings.get("gas_specimen")
    if reading is None or reading.word in ("", "unknown"):
        return ""
    return FIELDS["gas_specimen"].label_of(reading.word).lower()


def specimen_words(row: Assessment) -> str:
    """What must stand beside a number of the gas; nothing where the sample is arterial."""
    specimen = specimen_of(row)
    if specimen == ARTERIAL:
        return ""
    return f"{specimen} sample" if specimen else "specimen not stated"


def of_its_sample(shown: Shown, row: Assessment) -> Shown:
    """A charted number of the gas with where it is from, unless that is an artery."""
    known = FIELDS.get(shown.key)
    if known is None or known.group is not Group.GAS or known.shape is not Shape.NUMBER:
        return shown
    return replace(shown, word=", ".join(filter(None, (specimen_words(row), shown.word))))


def sample_words(moment: Moment, words: SiteWords) -> str:
    """ "arterial on 50 %, Pressure support": the sample, the oxygen and the support at its time."""
    specimen = specimen_of(moment.row) or "specimen not stated"
    oxygen = moment.oxygen
    if oxygen is None or not oxygen.has_value:
        drawn = f"{specimen}, FiO2 not known"
    else:
        field = words.fields[oxygen.field]
        drawn = f"{specimen} on {reading_text(field, oxygen)} {field.unit}".rstrip()
    mode = family_of(moment.family).label if moment.family else "mode not known"
    return f"{drawn}, {mode}"

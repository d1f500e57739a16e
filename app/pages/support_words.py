"""What a patient is supported by, in words, also where nobody has charted it since a tube moved."""

from app.charting.airways import TUBES
from app.charting.mode_families import family_of
from app.rules.bed_summary import BedSummary


def support_words(summary: BedSummary) -> str:
    """The mode family's label; without one, whether a tube that came or went has ended the last."""
    if summary.family:
        return family_of(summary.family).label
    if summary.family_since is None:
        return "Mode not charted"
    has_tube = summary.airway is not None and summary.airway.category in TUBES
    return f"{'New tube' if has_tube else 'Tube out'}: support not charted"

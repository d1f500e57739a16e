"""What a page says of a value that stands on a corrected one."""

from collections.abc import Mapping

from msgspec.structs import replace

from app.charting.corrected import as_first_worked_out, stands_on_a_correction
from app.charting.facts import Assessment, BodySize, CourseFacts
from app.charting.fields import FIELDS
from app.charting.shown import shown
from app.charting.site_figures import SiteInTime
from app.charting.terms import WorkedOut
from app.pages.shown import Shown
from app.pages.worries import BASED_ON_CORRECTED
from app.physiology.answer import Value

OF_A_HEIGHT = "vt_per_pbw"
"""The index that everybody reads, and that a corrected height moves."""

Was = Mapping[str, str]
"""By row: "was 6.8 with 170 cm"."""


def was_with_the_old_height(facts: CourseFacts, site: SiteInTime) -> dict[str, str]:
    """What each row showed per kg before the height was corrected, in words."""
    then = as_first_worked_out(facts, OF_A_HEIGHT, site)
    return {
        row_id: f"was {worked.answer.shown} with {body_words(body)}"
        for row_id, (worked, body) in then.items()
        if isinstance(worked.answer, Value)
    }


def body_words(body: BodySize) -> str:
    """The height that stood in the weight formula."""
    return f"{shown(FIELDS['height_cm'], body.height_cm)} cm" if body.height_cm else "no height"


def based(cell: Shown, row: Assessment, worked: WorkedOut, was: Was) -> Shown:
    """An index with the word that it stands on a corrected value, or what it was before."""
    if not cell.text or not stands_on_a_correction(row, worked):
        return cell
    old = was.get(row.id, "") if cell.key == OF_A_HEIGHT else ""
    words = ", ".join(filter(None, (cell.word, old or BASED_ON_CORRECTED)))
    return replace(cell, corrected=True, word=words)

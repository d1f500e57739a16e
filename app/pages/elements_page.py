"""The page that shows every element in every state, as its template reads it."""

from collections.abc import Mapping

from msgspec import Struct

from app.pages.assess_page import FieldInput
from app.pages.bed_page import GridColumn, GridGroup
from app.pages.fill_page import Blank
from app.pages.frame import Banner, Frame
from app.pages.help_page import DrawnState
from app.pages.shown import Count, Due, Worry
from app.pages.trends_page import Trend


class Lines(Struct, frozen=True):
    """One kind of thing as it is, and with the longest words that it has to bear."""

    worries: tuple[Worry, ...]
    dues: tuple[Due, ...]
    counts: tuple[Count, ...]


class ElementsPage(Struct, frozen=True):
    """Drawn with the pages' own parts, so that it cannot show what they do not."""

    frame: Frame
    banner: Banner
    banner_worst: Banner
    states: tuple[DrawnState, ...]
    lines: Lines
    fields: tuple[FieldInput, ...]
    blanks: tuple[Blank, ...]
    columns: tuple[GridColumn, ...]
    groups: tuple[GridGroup, ...]
    row_trends: Mapping[str, Trend]
    row_words: str = "look closer"
    more: tuple[GridGroup, ...] = ()
    earlier_words: str = ""
    focus: str = ""
    """Nothing here takes the focus by itself."""

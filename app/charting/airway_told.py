"""What is told of an airway by whoever places, changes or reads it: declared once for all three."""

from datetime import date
from decimal import Decimal

from msgspec import Struct


class AirwayTold(Struct, frozen=True):
    """Its category and, where known, size, depth and how hard it was; empty where nobody said."""

    category: str = ""
    size_mm: Decimal | None = None
    depth_cm: Decimal | None = None
    depth_reference: str = ""
    side: str = ""
    difficult: str = ""
    words: str = ""
    tube_type: str = ""
    confirmed_by: str = ""
    confirmed_how: str = ""
    """Codes of the ways in which its place was confirmed, separated by spaces."""
    stoma_on: date | None = None
    inner_cannula: str = ""
    spare_same: str = ""
    spare_smaller: str = ""
    may_change: str = ""
    """Who may change a tracheostomy tube, in words."""

"""A tube as a form sends it."""

from app.charting.airway_told import AirwayTold
from app.charting.typed_sheet import SheetRead
from app.pages.fill import TICKS


def airway_typed(typed: SheetRead) -> AirwayTold:
    """The tube as it was typed."""
    ways = [code.removeprefix("confirmed_") for code in sorted(TICKS) if typed.word(code) == "yes"]
    return AirwayTold(
        category=typed.word("airway_category"),
        size_mm=typed.number("airway_size_mm"),
        depth_cm=typed.number("airway_depth_cm"),
        depth_reference=typed.word("airway_depth_reference"),
        side=typed.word("airway_side"),
        words=typed.word("airway_words"),
        difficult=typed.word("difficult_airway"),
        tube_type=typed.word("tube_type"),
        confirmed_by=typed.word("confirmed_by"),
        confirmed_how=" ".join(ways),
        stoma_on=typed.day("stoma_on"),
        inner_cannula=typed.word("inner_cannula"),
        spare_same=typed.word("spare_same"),
        spare_smaller=typed.word("spare_smaller"),
        may_change=typed.word("may_change"),
    )

"""Build the calculator: any index by hand, and three sheets for what is worked out most often."""

from collections.abc import Mapping, Sequence

from app.pages.assess_page import Option
from app.pages.calculator_answers import answer_of
from app.pages.calculator_cylinder import cylinder_sheet
from app.pages.calculator_inputs import Sheet, options, read_case
from app.pages.calculator_page import CalcInput, CalculatorPage, IndexSheet
from app.pages.calculator_units import unit_sheet
from app.pages.calculator_volume import volume_sheet
from app.pages.frame import Frame
from app.pages.index_groups import INDEX_GROUPS
from app.physiology.catalogue import CATALOGUE, Input
from app.rules.policy import Policy

SHEETS = ("index", "volume", "cylinder", "units")
FIRST = "driving_pressure"

LEFT_OUT = frozenset({"size"})
"""Inputs that change no answer."""

IN_SIGHT = frozenset(
    {"passive", "sample", "family", "sex", "height", "peep_total", "flow", "factor"}
)
"""Optional inputs that an answer often hangs on."""


def calculator_page(
    frame: Frame, policy: Policy, sheet: str = "", typed: Mapping[str, str] | None = None
) -> CalculatorPage:
    """The four sheets; `typed` belongs to the one that was sent, the others stand empty."""
    given = typed or {}

    def of(place: str) -> Sheet:
        return Sheet(place, given if place == sheet else {})

    return CalculatorPage(
        frame=frame,
        index=index_sheet(of("index"), policy),
        volume=volume_sheet(of("volume")),
        cylinder=cylinder_sheet(of("cylinder"), policy.cylinders),
        units=unit_sheet(of("units")),
    )


def index_sheet(sheet: Sheet, policy: Policy) -> IndexSheet:
    """One index with its inputs; an unknown key shows the first of the list."""
    index = CATALOGUE.get(sheet.text("index")) or CATALOGUE[FIRST]
    wanted = [one for one in index.inputs if one.name not in LEFT_OUT]
    sent = _with_site_pressure(sheet, policy)
    case = read_case(sent, wanted)
    shown = [sent.input(one, case.errors.get(one.name, "")) for one in wanted]
    folded = [one for one in shown if not _in_sight(one)]
    return IndexSheet(
        choices=_choices(index.key),
        label=index.label,
        formula=index.formula,
        valid_when=index.valid_when,
        source=str(index.source),
        catalogue_href=f"/help/indices#{index.key}",
        inputs=tuple(one for one in shown if _in_sight(one)),
        more=tuple(folded),
        more_open=any(one.typed or one.error for one in folded if one.name != "pb"),
        answer=answer_of(index, case) if _is_sent(sheet, wanted) else None,
    )


def _in_sight(one: CalcInput) -> bool:
    return one.needed or one.name in IN_SIGHT


def _is_sent(sheet: Sheet, wanted: Sequence[Input]) -> bool:
    return any(sheet.text(one.name) for one in wanted)


def _with_site_pressure(sheet: Sheet, policy: Policy) -> Sheet:
    """The site's own barometric pressure stands in its field until somebody types another."""
    if "pb" in sheet.typed:
        return sheet
    return Sheet(sheet.place, {**sheet.typed, "pb": f"{policy.barometric_mmhg.normalize():f}"})


def _choices(chosen: str) -> tuple[tuple[str, tuple[Option, ...]], ...]:
    return tuple(
        (heading, options(((index.key, index.label) for index in indices), chosen))
        for heading, indices in INDEX_GROUPS
    )

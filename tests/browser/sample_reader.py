"""Help, the catalogue, the calculator and the demo's stories, each by its own builder."""

from app.commands.demo import demo_stories
from app.pages.calculator import calculator_page
from app.pages.calculator_page import CalculatorPage
from app.pages.catalogue_page import CataloguePage, catalogue_page
from app.pages.elements import elements_page
from app.pages.elements_page import ElementsPage
from app.pages.guide_page import GUIDE, GuidePage
from app.pages.help_page import HelpPage, help_page
from app.pages.stories_page import StoriesPage, stories_page
from app.pages.watch_help import WatchHelp, watch_help
from app.rules.measured import measured
from app.rules.policy import starting_policy
from app.rules.unit_clock import UnitClock
from tests.browser.sample_frame import frame


def help_of_a_unit() -> HelpPage:
    return help_page(frame("Help"), starting_policy(), UnitClock("America/New_York"))


def catalogue() -> CataloguePage:
    return catalogue_page(frame("Index catalogue"))


def rules() -> WatchHelp:
    return watch_help(frame("Rules"), starting_policy(), measured())


def calculator() -> CalculatorPage:
    return calculator_page(frame("Calculator"), starting_policy())


def calculator_refused() -> CalculatorPage:
    """Two slips, one of them in a folded input, and a long text."""
    typed = {
        "index": "compliance_static",
        "vt": "4x " + "much too long for a number " * 3,
        "driving_pressure": "12",
        "pplat": "260",
    }
    return calculator_page(frame("Calculator"), starting_policy(), "index", typed)


def calculator_cylinder() -> CalculatorPage:
    typed = {
        "pressure": "150",
        "residual": "20",
        "contents": "680",
        "full_pressure": "200",
        "flow": "4",
        "ve": "8",
        "fio2": "60",
        "bias_flow": "2",
    }
    return calculator_page(frame("Calculator"), starting_policy(), "cylinder", typed)


def calculator_volumes() -> CalculatorPage:
    typed = {"sex": "F", "height": "160"}
    return calculator_page(frame("Calculator"), starting_policy(), "volume", typed)


def elements() -> ElementsPage:
    return elements_page(frame("Elements"))


def stories() -> StoriesPage:
    return stories_page(frame("Stories"), demo_stories())


def guide() -> GuidePage:
    return GuidePage(frame("Guide"), GUIDE)

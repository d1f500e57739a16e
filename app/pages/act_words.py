"""What each act of a form is called where the form is told outside itself: one table of words."""

from collections.abc import Mapping
from types import MappingProxyType

from app.charting.airways import AIRWAY_ACTS
from app.charting.episodes import EPISODE_ACTS
from app.charting.events import EVENT_KINDS
from app.pages import liberation, place, quiet, treatments
from app.pages.event_page import ENDS

_OF_A_QUIET_VIEW = {quiet.BEGIN: "Mute limits and due times", quiet.END: "Limits count again"}
_OF_A_TREATMENT = {
    treatments.ORDER: "Order an inhaled treatment",
    treatments.GIVE: "Given, or not given",
    treatments.STOP: "Stop an inhaled treatment",
}
_OF_A_PLACE = {act.code: act.label for act in (*place.PLACE_ACTS.values(), place.TAKEN_BACK)}

TABLES: tuple[Mapping[str, str], ...] = (
    {act.code: act.label for act in EPISODE_ACTS.values()},
    {act.code: f"Airway: {act.label.lower()}" for act in AIRWAY_ACTS.values()},
    liberation.LABELS,
    _OF_A_PLACE,
    _OF_A_QUIET_VIEW,
    _OF_A_TREATMENT,
)
"""By page: what its field `act` may hold. No code stands in two of them."""

ACT_WORDS: Mapping[str, str] = MappingProxyType(
    {code: words for table in TABLES for code, words in table.items()}
)


def event_choice_words(code: str) -> str:
    """What was picked in the list of events; the code itself where no kind goes by it."""
    kind = EVENT_KINDS.get(code.removeprefix(ENDS))
    if kind is None:
        return code
    return kind.ends if code.startswith(ENDS) else kind.label

"""Read a few typed fields that are no check: each by itself, with what holds them up."""

from collections.abc import Collection, Iterator, Mapping
from datetime import date
from decimal import Decimal

from msgspec import Struct, field

from app.charting.entry import Asked, Outcome, Read, Refused, read_typed
from app.charting.field import Field
from app.charting.fields import FIELDS
from app.charting.fields.episodes import ASKED_OF_EPISODES
from app.charting.fields.intake import ASKED_ONCE
from app.charting.typed_check import Objection


class SheetRead(Struct, frozen=True):
    """What the texts became. Blank fields are in neither; a value is there only once it stands."""

    values: Mapping[str, Read] = field(default_factory=dict)
    objections: tuple[Objection, ...] = ()

    def number(self, code: str) -> Decimal | None:
        """The number of a field; None where nothing was typed."""
        return self.values[code].number if code in self.values else None

    def word(self, code: str) -> str:
        """The word of a choice or a text; empty where nothing was typed."""
        return self.values[code].word if code in self.values else ""

    def day(self, code: str) -> date | None:
        """The calendar day of a field; None where nothing was typed."""
        return date.fromisoformat(self.word(code)) if self.word(code) else None


class SheetHeldUp(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: what was typed holds refusals or open questions."""

    def __init__(self, objections: tuple[Objection, ...]) -> None:
        super().__init__("the sheet holds refusals or open questions")
        self.objections = objections


def declared(code: str) -> Field:
    """The declaration of a field, of a check, of an intake or of an episode."""
    beside = ASKED_ONCE.get(code) or ASKED_OF_EPISODES.get(code)
    return beside if beside is not None else FIELDS[code]


def read_sheet(texts: Mapping[str, str], accepted: Collection[str] = ()) -> SheetRead:
    """Each text by its field's declaration; `accepted` are the keys of answered questions."""
    outcomes = {
        code: read_typed(declared(code), text, answers=accepted) for code, text in texts.items()
    }
    values = {code: read for code, read in outcomes.items() if isinstance(read, Read)}
    found = tuple(o for code, read in outcomes.items() for o in _objections(code, read))
    return SheetRead(values, found)


def standing_sheet(texts: Mapping[str, str], accepted: Collection[str] = ()) -> SheetRead:
    """The same once nothing holds it up. Raises SheetHeldUp."""
    read = read_sheet(texts, accepted)
    if read.objections:
        raise SheetHeldUp(read.objections)
    return read


def _objections(code: str, outcome: Outcome | None) -> Iterator[Objection]:
    if isinstance(outcome, Refused):
        yield Objection(code, "refused", outcome.sentence)
    elif isinstance(outcome, Asked):
        yield from (Objection(code, "asked", q.sentence, q.key) for q in outcome.questions)

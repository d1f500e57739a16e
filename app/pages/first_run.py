"""What a new site still lacks, in words, each with the command that brings it."""

from msgspec import Struct

from app.record.set_up import SetUp


class Missing(Struct, frozen=True):
    """One thing without which nobody can work here."""

    words: str
    command: str


NOT_MIGRATED = Missing("The record is empty or of another version.", "leeboard migrate")
NO_UNIT_YET = Missing(
    "This site has no unit yet.",
    'leeboard unit add larch --name "Unit Larch" --zone America/New_York --beds "L1 L2 L3"',
)
NO_PERSON_YET = Missing(
    "Nobody can sign in yet.",
    "leeboard user add cedar --name Cedar --role lead",
)


def missing_of(found: SetUp) -> tuple[Missing, ...]:
    """Everything that is missing, the unit first; names in the commands are examples."""
    lacks = ((found.has_unit, NO_UNIT_YET), (found.has_person, NO_PERSON_YET))
    return tuple(missing for there, missing in lacks if not there)

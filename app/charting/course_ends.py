"""How a course of support ends, in words; the list is common practice.

A course that ended stays readable and nothing falls due in it any more.
"""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

LONGEST_WORDS = 140


class EndKind(Struct, frozen=True):
    """One way in which a course ends. `asks` is what its words have to say; empty for none."""

    code: str
    label: str
    asks: str = ""


_KINDS = (
    EndKind("support_ended", "Support ended"),
    EndKind("left", "Left the unit"),
    EndKind("died", "Died", "Write who pronounced the death."),
    EndKind("other", "Ended otherwise", "Write how the course ended."),
)

END_KINDS: Mapping[str, EndKind] = MappingProxyType({kind.code: kind for kind in _KINDS})
"""Code to kind, the commonest first."""


def end_words(kind: str, words: str = "") -> str:
    """How it ended with a person's words behind it; a kind of an older list reads as it stands."""
    known = END_KINDS.get(kind)
    label = known.label if known is not None else kind.replace("_", " ").capitalize() or "Ended"
    return f"{label}: {words}" if words else label

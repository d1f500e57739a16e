"""What the catalogue holds: an index and its inputs, in words that a page can show."""

from msgspec import Struct

from app.physiology.sources import SOURCES, Source
from app.physiology.vocabulary import TERMS
from app.physiology.working import WorkOut


class Input(Struct, frozen=True):
    """One input of an index. `unit` is the one it is computed in.

    `required` marks what a result cannot do without; of names that stand for one thing (`vte`,
    `vt`, `vt_set`), or of a value and what it could be computed from, only the usual one is marked.
    """

    name: str
    label: str
    unit: str
    required: bool


class Index(Struct, frozen=True):
    """One index: what it is called, how it is worked out, when it holds, and who says so."""

    key: str
    label: str
    short_label: str
    formula: str
    valid_when: str
    source: Source
    inputs: tuple[Input, ...]
    work_out: WorkOut

    @property
    def unit(self) -> str:
        """The unit of its value; empty for a pure number and for a class."""
        return self.work_out.unit

    @property
    def places(self) -> int:
        """Decimals shown; limits are tested at these (decision 3)."""
        return self.work_out.places


def needs(*names: str) -> tuple[Input, ...]:
    """Inputs without which there is no result."""
    return tuple(_input(name, required=True) for name in names)


def may(*names: str) -> tuple[Input, ...]:
    """Inputs that are read where they are there."""
    return tuple(_input(name, required=False) for name in names)


def in_bar(*names: str) -> tuple[Input, ...]:
    """Required pressures that are computed in bar instead of psi."""
    return tuple(Input(name, TERMS[name].label, "bar", required=True) for name in names)


def from_source(key: str) -> Source:
    """The citation behind a key; an index without one cannot be built."""
    return SOURCES[key]


def _input(name: str, *, required: bool) -> Input:
    term = TERMS[name]
    return Input(name, term.label, term.unit, required)

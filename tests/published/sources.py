"""Reads the published cases and says what each one is checked against."""

import json
from pathlib import Path

from msgspec import Struct

CASES = Path(__file__).with_name("physiology_cases.json")


class PublishedCase(Struct, frozen=True):
    """One case with what its source, or arithmetic from it, says the answer is."""

    id: str
    index: str
    inputs: dict[str, object]
    units: dict[str, str]
    expected: float | str | None
    tol: float | None
    state: str
    shown: str | None
    source: str
    note: str = ""

    def __str__(self) -> str:
        return f"{self.id}[{self.source}]"

    def as_asked(self) -> dict[str, object]:
        """The case as a file would hold it: nothing of what is expected."""
        return {"id": self.id, "index": self.index, "inputs": self.inputs, "units": self.units}


def published_cases() -> list[PublishedCase]:
    """Every case of the file, in its order."""
    return [PublishedCase(**case) for case in json.loads(CASES.read_text(encoding="utf-8"))]

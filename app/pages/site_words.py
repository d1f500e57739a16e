"""How this site writes oxygen and gas pressures, and what it calls things (decision 34).

What is stored stays canonical: percent and mmHg. A field as the site writes it carries another unit
and the factor to it, so whatever writes a number through its field writes it the site's way.
"""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from functools import cached_property

from msgspec import Struct, field
from msgspec.structs import replace

from app.charting.field import Field
from app.charting.fields import FIELDS
from app.charting.questions import FRACTIONS
from app.charting.shown import shown, signed
from app.physiology.units import convert
from app.rules.policy import Limit

GAS_PRESSURES = frozenset({"paco2", "pao2"})
"""End-tidal CO2 is not among them: it is read at a monitor, which has a unit of its own."""

MMHG, KPA = "mmHg", "kPa"

LIMITS_OF_CARE, RECORD_NUMBER = "LIMITS_OF_CARE", "RECORD_NUMBER"
USUAL_WORDS: Mapping[str, str] = {
    LIMITS_OF_CARE: "treatment limits",
    RECORD_NUMBER: "record number",
}


class SiteWords(Struct, frozen=True, dict=True):
    """The site's own way to write what it has a choice of."""

    oxygen_as_fraction: bool = False
    gas_in_kpa: bool = False
    called: Mapping[str, str] = field(default_factory=dict)
    """The site's words, by what they name: "THERAPIST", "RECORD_NUMBER"."""

    @cached_property
    def fields(self) -> Mapping[str, Field]:
        """Every field as this site writes it; never for reading what somebody typed."""
        return {code: self._as_written(known) for code, known in FIELDS.items()}

    @property
    def gas_unit(self) -> str:
        """The unit in which a blood gas is typed unless its slip says otherwise."""
        return KPA if self.gas_in_kpa else MMHG

    def text(self, key: str, stored: str) -> str:
        """A stored number's text in the site's writing; any other text as it is."""
        written = self.fields.get(key)
        if written is None or written.per == 1 or not stored:
            return stored
        try:
            return shown(written, Decimal(stored.replace("−", "-")))
        except InvalidOperation:  # words, or what somebody sent in the place of a number
            return stored

    def end(self, key: str, number: Decimal) -> str:
        """One end of a limit, or a value of a step, as it stands in a sentence."""
        return signed(self.text(key, f"{number:f}"))

    def limit(self, limit: Limit) -> Limit:
        """A limit in the site's writing, to be held against what is displayed (decision 3)."""

        def told(end: Decimal | None) -> Decimal | None:
            return None if end is None else Decimal(self.text(limit.key, f"{end:f}"))

        return replace(limit, under=told(limit.under), over=told(limit.over))

    def name(self, what: str, otherwise: str = "") -> str:
        """What this site calls something."""
        return self.called.get(what) or otherwise or USUAL_WORDS[what]

    def _as_written(self, known: Field) -> Field:
        if known.code in FRACTIONS and self.oxygen_as_fraction:
            return replace(known, unit="", places=2, trim=False, per=Decimal("0.01"))
        if known.code in GAS_PRESSURES and self.gas_in_kpa:
            per = convert(Decimal(1), MMHG, KPA)
            return replace(known, unit=KPA, places=1, trim=False, per=per)
        return known


PLAIN = SiteWords()
"""Percent, mmHg and the shipped words."""

"""What each mode family means for the numbers: who sizes a breath, and whether a hold means much.

The codes are the charted ones. What may be charted in a family, and its ranges, is charting's;
here stands only what decides whether an index holds. The table follows textbook practice (Hess and
Kacmarek; Cairo: from memory), and "no mechanics in two-level pressure, mask and high-flow support"
is decision 5.
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Literal

from msgspec import Struct

Inflation = Literal["volume", "pressure", "none"]
Sharing = Literal["mandatory", "mixed", "two_level", "spontaneous", "none"]


class Family(Struct, frozen=True):
    """One family of modes.

    `inflation` is what the machine-sized breath controls; `sharing` says which breaths there are:
    all machine-sized (the patient may still trigger them), machine-sized and the patient's own,
    two pressure levels, the patient's own only, or nothing that this room can judge.
    """

    code: str
    label: str
    inflation: Inflation = "none"
    sharing: Sharing = "none"
    tube: bool = True
    high_flow: bool = False

    @property
    def controlled(self) -> bool:
        """All breaths are machine-sized: tidal volume and pressure are the machine's doing."""
        return self.sharing == "mandatory"

    @property
    def spontaneous(self) -> bool:
        """All breaths are the patient's own, with or without support, through a tube."""
        return self.sharing == "spontaneous" and self.tube

    @property
    def hold_means_something(self) -> bool:
        """An end-inspiratory hold can give driving pressure, if the breath was passive."""
        return self.tube and self.sharing in ("mandatory", "mixed")

    @property
    def may_trigger(self) -> bool:
        """The patient can start a machine-sized breath, so "passive?" is asked (decision 5)."""
        return self.hold_means_something

    @property
    def one_stream(self) -> bool:
        """One volume times one rate is the minute volume; mixed breaths need both streams."""
        return self.sharing not in ("mixed", "two_level")


_ALL = (
    Family("ac_vc", "Volume control, assist/control", "volume", "mandatory"),
    Family("ac_pc", "Pressure control, assist/control", "pressure", "mandatory"),
    Family("ac_vtpc", "Volume-targeted pressure control", "pressure", "mandatory"),
    Family("simv_vc", "Synchronized mandatory, volume control", "volume", "mixed"),
    Family("simv_pc", "Synchronized mandatory, pressure control", "pressure", "mixed"),
    Family("simv_vtpc", "Synchronized mandatory, volume-targeted", "pressure", "mixed"),
    Family("csv_ps", "Pressure support", sharing="spontaneous"),
    Family("csv_vtps", "Volume-targeted support", sharing="spontaneous"),
    Family("csv_prop", "Effort-proportional support", sharing="spontaneous"),
    Family("cpap", "CPAP", sharing="spontaneous"),
    Family("bilevel", "Two pressure levels", "pressure", "two_level"),
    Family("aprv", "Two pressure levels, long high phase", "pressure", "two_level"),
    Family("niv", "Mask ventilation", "pressure", "spontaneous", tube=False),
    Family("hfnc", "High-flow nasal oxygen", sharing="spontaneous", tube=False, high_flow=True),
    Family("o2_mask", "T-piece, tracheostomy or other oxygen mask", sharing="spontaneous"),
    Family("unassisted", "Room air or low-flow oxygen", sharing="spontaneous", tube=False),
    Family("hfov", "High-frequency oscillation"),
    Family("manual", "Hand ventilation"),
    Family("standby", "Standby"),
    Family("other", "Other mode"),
    # Not charted: what a file of cases says when it names no mode more closely.
    Family("spontaneous", "Spontaneous breathing", sharing="spontaneous"),
)
FAMILIES: Mapping[str, Family] = MappingProxyType({family.code: family for family in _ALL})
UNKNOWN = FAMILIES["other"]

_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "a/c-vc": "ac_vc",
        "ac-vc": "ac_vc",
        "vc": "ac_vc",
        "volume control": "ac_vc",
        "a/c-pc": "ac_pc",
        "ac-pc": "ac_pc",
        "pc": "ac_pc",
        "pressure control": "ac_pc",
        "a/c-vtpc": "ac_vtpc",
        "ac-vtpc": "ac_vtpc",
        "simv": "simv_vc",
        "simv-vc": "simv_vc",
        "simv-pc": "simv_pc",
        "simv-vtpc": "simv_vtpc",
        "ps": "csv_ps",
        "psv": "csv_ps",
        "csv-ps": "csv_ps",
        "pressure support": "csv_ps",
        "csv-vtps": "csv_vtps",
        "cpap": "cpap",
        "aprv/bilevel": "aprv",
        "bilevel": "bilevel",
        "niv mask": "niv",
        "mask": "niv",
        "high flow": "hfnc",
        "high-flow": "hfnc",
        "t-piece": "o2_mask",
        "trach mask": "o2_mask",
        "off": "standby",
    }
)
_LEVEL = re.compile(r"(?P<word>.*?[a-z])\s*(?P<support>\d{1,2}(?:\.\d)?)(?:/\d{1,2}(?:\.\d)?)?")


class Mode(Struct, frozen=True):
    """What a word on a file or screen says about the mode: the family, and what it adds."""

    family: Family
    triggering: bool = False
    support: Decimal | None = None


def read_mode(word: str) -> Mode:
    """The family that a mode word stands for: "A/C-VC, triggering", "PS 10/8", "csv_ps".

    A word that nobody here knows is `UNKNOWN`, which allows no mechanics: a wrong guess would
    put a driving pressure under an assisted breath.
    """
    plain = word.strip().casefold().partition(",")[0]
    plain = plain.removesuffix(" triggering").partition("+")[0].strip()
    triggering = "trigger" in word.casefold()
    level = _LEVEL.fullmatch(plain)
    code = _code(plain) or (_code(level["word"]) if level else None)
    family = FAMILIES[code] if code else UNKNOWN
    supported = level is not None and family.code.startswith("csv")
    return Mode(family, triggering, Decimal(level["support"]) if level and supported else None)


def _code(word: str) -> str | None:
    if word in FAMILIES:
        return word
    return _WORDS.get(word)

"""The rows of CLIF tables as typed facts; nothing is judged here."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Stay:
    """One hospital stay of one person: sex as M, F or unknown, age in years at admission."""

    stay: str
    patient: str
    sex: str
    age_y: int | None


@dataclass(frozen=True, slots=True)
class SupportRow:
    """One row of respiratory support; an empty word or an absent number was blank."""

    stay: str
    at: datetime
    device: str
    mode: str
    tracheostomy: bool
    values: Mapping[str, Decimal]


@dataclass(frozen=True, slots=True)
class Finding:
    """One value of a long table (a vital sign, a laboratory value); its unit where one stands."""

    stay: str
    at: datetime
    category: str
    value: Decimal
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a stay was from a moment on ("icu"), or how the body lay ("prone")."""

    stay: str
    at: datetime
    category: str

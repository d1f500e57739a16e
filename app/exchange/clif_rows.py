"""The rows of CLIF tables as typed facts; nothing is judged here."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from msgspec import Struct


class Stay(Struct, frozen=True):
    """One hospital stay of one person: sex as M, F or unknown, age in years at admission."""

    stay: str
    patient: str
    sex: str
    age_y: int | None


class SupportRow(Struct, frozen=True):
    """One row of respiratory support; an empty word or an absent number was blank."""

    stay: str
    at: datetime
    device: str
    mode: str
    tracheostomy: bool
    values: Mapping[str, Decimal]


class Finding(Struct, frozen=True):
    """One value of a long table (a vital sign, a laboratory value); its unit where one stands."""

    stay: str
    at: datetime
    category: str
    value: Decimal
    unit: str = ""


class Place(Struct, frozen=True):
    """Where a stay was from a moment on ("icu"), or how the body lay ("prone")."""

    stay: str
    at: datetime
    category: str

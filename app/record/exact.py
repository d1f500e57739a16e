"""Decimals that come back exactly as they were written, places included, on both engines."""

from decimal import Decimal
from typing import Any

from sqlalchemy import Dialect, Numeric, Text
from sqlalchemy.types import TypeDecorator, TypeEngine


def plain(number: Decimal) -> str:
    """The number as digits without an exponent: 7.50 stays 7.50, 1E+3 is 1000, -0 is 0.

    Both engines give this form back, so a row's hash is the same before and after storage.
    Raises ValueError for NaN and the infinities: none of them is a reading.
    """
    if not number.is_finite():
        raise ValueError(f"{number} is not a number that can be stored")
    return format(number.copy_abs() if number.is_zero() else number, "f")


class ExactDecimal(TypeDecorator[Decimal]):
    """NUMERIC without limits on PostgreSQL, TEXT on SQLite (its NUMERIC is a binary float).

    Text does not sort as numbers do: numbers are compared in Python, never in a query.
    """

    impl = Text
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """The column's type on one engine."""
        kind: TypeEngine[Any] = Numeric() if dialect.name == "postgresql" else Text()
        return dialect.type_descriptor(kind)

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> Decimal | str | None:
        """Text for SQLite, a decimal without an exponent for PostgreSQL."""
        if value is None:
            return None
        digits = plain(value)
        return Decimal(digits) if dialect.name == "postgresql" else digits

    def process_result_value(
        self,
        value: Decimal | str | None,
        dialect: Dialect,  # noqa: ARG002
    ) -> Decimal | None:
        """The decimal as written."""
        return None if value is None else Decimal(value)

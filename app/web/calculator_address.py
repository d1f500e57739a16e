"""What an address tells the calculator. Anything may stand in it, so nothing in it is trusted."""

from starlette.datastructures import QueryParams

from app.pages.calculator import SHEETS

LONGEST = 100
"""Characters that are kept of one text: more than any number with its unit has."""


def sheet_in(query: QueryParams) -> str:
    """The sheet that was sent; the first for an address that names none."""
    sheet = query.get("sheet", "")
    return sheet if sheet in SHEETS else SHEETS[0]


def typed_in(query: QueryParams) -> dict[str, str]:
    """Texts by name, the last where one was sent twice; signs that nobody can see become spaces."""
    return {name: _plain(text[:LONGEST]) for name, text in query.multi_items()}


def _plain(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)

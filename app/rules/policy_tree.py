"""A policy's file as a tree of tables: read, written, laid flat, and held against another.

`policy` makes numbers to judge by of it; here it stays what somebody wrote, so that a page can show
each entry with its place, an editor can change one, and two versions can be told apart.
"""

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache
from typing import Any

from msgspec import Struct

from app.rules.figures import STARTING_POLICY_FILE
from app.rules.policy_error import PolicyError

Tree = Mapping[str, Any]
Entry = str | bool | int | Decimal | list[str]

_BARE = re.compile(r"[A-Za-z0-9_-]+")


class Change(Struct, frozen=True):
    """One entry that differs: its place, what stood there and what does now; None for nothing."""

    where: str
    before: Entry | None
    after: Entry | None


def tree_of(text: str) -> dict[str, Any]:
    """The file's tables. Raises PolicyError where it is no TOML."""
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        raise PolicyError("file", f"cannot be read as TOML: {error}") from error


@cache
def shipped_tree() -> Tree:
    """The policy that ships, as a tree; nobody may change it."""
    return tree_of(STARTING_POLICY_FILE.read_text(encoding="utf-8"))


def flat(tree: Tree) -> dict[str, Entry]:
    """Every entry by its place, such as "limits.plateau_pressure_obs.over", in the file's order."""
    return dict(_flat(tree, ""))


def _flat(tree: Tree, above: str) -> Iterator[tuple[str, Entry]]:
    for name, value in tree.items():
        where = f"{above}.{name}" if above else name
        if isinstance(value, dict):
            yield from _flat(value, where)
        else:
            yield where, value


def table_at(tree: Tree, where: str) -> dict[str, Any]:
    """The table of that place, such as "limits.ph"; empty where there is none."""
    found: Any = tree
    for name in where.split("."):
        found = found.get(name) if isinstance(found, dict) else None
    return found if isinstance(found, dict) else {}


def tables_of(tree: Tree) -> tuple[str, ...]:
    """The places of the tables that hold entries, in the file's order."""
    return tuple(dict.fromkeys(where.rpartition(".")[0] for where in flat(tree) if "." in where))


def with_table(tree: Tree, where: str, table: Mapping[str, Any]) -> dict[str, Any]:
    """The tree with another table in that place."""
    name, _, rest = where.partition(".")
    inner = dict(table) if not rest else with_table(tree.get(name, {}), rest, table)
    return {**tree, name: inner}


def completed(tree: Tree) -> dict[str, Any]:
    """The tree with what ships for every table and entry that a newer program asks for.

    Limits, noise bands and cylinders are the unit's own choice: none is added to those.
    """
    whole = dict(tree)
    for name, shipped in shipped_tree().items():
        if name == "rules":
            own = whole.get("rules", {})
            rules = {key: {**table, **own.get(key, {})} for key, table in shipped.items()}
            whole["rules"] = {**own, **rules}
        elif isinstance(shipped, dict) and name not in CHOSEN_BY_THE_UNIT:
            whole[name] = {**shipped, **whole.get(name, {})}
    return whole


CHOSEN_BY_THE_UNIT = frozenset({"limits", "noise", "cylinders"})
"""Tables whose entries a unit adds and leaves out as it likes."""


def differences(before: Tree, after: Tree) -> tuple[Change, ...]:
    """What differs, in the order of the newer file; then what it has no more."""
    old, new = flat(before), flat(after)
    places = dict.fromkeys([*new, *old])
    return tuple(
        Change(where, old.get(where), new.get(where))
        for where in places
        if old.get(where) != new.get(where)
    )


def to_toml(tree: Tree) -> str:
    """The tree in its file form, entries of a table together; reading it gives the tree again."""
    lines: list[str] = []
    _write(tree, "", lines)
    return "\n".join(lines).strip() + "\n"


def _write(tree: Tree, above: str, lines: list[str]) -> None:
    entries = {name: value for name, value in tree.items() if not isinstance(value, dict)}
    if above and (entries or not tree):
        lines += ["", f"[{above}]"]
    lines += [f"{_key(name)} = {_value(value)}" for name, value in entries.items()]
    for name, value in tree.items():
        if isinstance(value, dict):
            _write(value, f"{above}.{_key(name)}" if above else _key(name), lines)


def _key(name: str) -> str:
    return name if _BARE.fullmatch(name) else _quoted(name)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Decimal):
        return f"{value:f}" if value.is_finite() else str(value).lower().replace("inity", "")
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return _quoted(value) if isinstance(value, str) else str(value)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")

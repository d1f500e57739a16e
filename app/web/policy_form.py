"""The entries of a policy's table as a form sends them, read into the table again."""

import re
from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal
from typing import Any

from msgspec import Struct

from app.charting.digits import plain
from app.pages.policy_change import NEW_KEY, NEW_NUMBER
from app.rules.policy import GROUPS
from app.rules.policy_check import problems
from app.rules.policy_fields import LONGEST_WORDS, Shape, bands_to_add, entries_of, entry_rule
from app.rules.policy_tree import Entry, Tree, completed, table_at, tree_of, with_table
from app.rules.shares import LEAST, Share, as_written, share_of
from app.web.errors import BadForm
from app.web.forms import Form

LONGEST_TOML = 20_000
_NUMBER = re.compile(r"[+-]?\d{1,9}(\.\d{1,9})?", re.ASCII)


class TypedTable(Struct, frozen=True):
    """A table as it was typed: the tree with it, and what is wrong, by the entry's place."""

    table: str
    typed: Mapping[str, str]
    tree: Tree
    bad: Mapping[str, str]


def proposal_of(form: Form, in_force: Tree) -> tuple[Tree, str]:
    """What was changed so far in this sitting, as a tree and as text; else what is in force."""
    text = form.one("toml", LONGEST_TOML)
    return (completed(tree_of(text)) if text else completed(in_force)), text


def base_of(form: Form) -> int:
    """The version from which a proposal was made. Raises BadForm for what no page sends."""
    text = form.one("base", 9)
    if not text.isascii() or not text.isdigit():
        raise BadForm("it does not say from which version it was made")
    return int(text)


def typed_table(form: Form, tree: Tree, table: str) -> TypedTable:
    """Every entry of the table read; those that cannot be read stay as they were."""
    held, bad, typed = dict(table_at(tree, table)), dict[str, str](), dict[str, str]()
    for where in entries_of(tree, table):
        name = where.rpartition(".")[2]
        typed[where] = form.one(f"e.{where}", 2 * LONGEST_WORDS)
        try:
            value = _read(where, typed[where], held.get(name))
        except ValueError as error:
            bad[where] = str(error)
            continue
        if value is not None:
            held[name] = value
        else:
            held.pop(name, None)
    if table == "noise":
        typed |= {name: form.one(name, 80) for name in (NEW_KEY, NEW_NUMBER)}
        bad |= dict(_one_more(tree, typed[NEW_KEY], typed[NEW_NUMBER], held))
    changed = with_table(tree, table, held)
    bad |= {each.where: each.what for each in problems(changed) if each.where not in bad}
    return TypedTable(table, typed, changed, bad)


def _one_more(tree: Tree, key: str, number: str, held: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Take a band for one more field into the table; what is wrong with it, by the form's name."""
    if not key and not number:
        return
    if key not in bands_to_add(tree):
        yield NEW_KEY, "is none of the list" if key else "is not chosen"
        return
    try:
        held[key] = _number(number, None)
    except ValueError as error:
        yield NEW_NUMBER, str(error)


def _read(where: str, text: str, before: Entry | None) -> Entry | None:
    """The entry that a text means; None where it is left out. Raises ValueError with a sentence."""
    rule, share = entry_rule(where), share_of(where)
    if not text:
        if rule.may_go:
            return None
        raise ValueError("is missing")
    if share is not None:
        return _share(share, text, before)
    match rule.shape:
        case Shape.WORDS:
            return " ".join(text.split())
        case Shape.CAUSE:
            return _one_of(text, GROUPS)
        case Shape.YES_NO:
            yes = _one_of(text, ("yes", "no")) == "yes"
            # A rule that is in use says nothing of it, unless it did before.
            return None if yes and before is None and where.endswith(".on") else yes
        case Shape.TIMES:
            return text.replace(",", " ").split()
    return _number(text, before)


def _one_of(text: str, offered: Collection[str]) -> str:
    if text not in offered:
        raise BadForm("it holds a choice that no page offers")
    return text


def _share(share: Share, text: str, before: Entry | None) -> Decimal | int:
    """Percent as what the file keeps; the very number of before where it is written the same."""
    percent = Decimal(_number(text.rstrip().removesuffix("%").rstrip(), None))
    if isinstance(before, int | Decimal) and share.percent(before) == percent:
        return before
    if not LEAST <= percent <= share.most:
        raise ValueError(f"must lie between {LEAST} and {share.most} percent")
    return share.kept(percent)


def is_number(text: str) -> bool:
    """Whether a text is one plain number."""
    return _NUMBER.fullmatch(plain(text).replace(",", ".")) is not None


def _number(text: str, before: Entry | None) -> Decimal | int:
    """As it was written before where it is the same number."""
    bare = plain(text).replace(",", ".")
    if not _NUMBER.fullmatch(bare):
        raise ValueError("is no number; write digits, with a point before decimals")
    number = Decimal(bare)
    if isinstance(before, int | Decimal) and not isinstance(before, bool) and number == before:
        return before
    return int(number) if "." not in bare else number


def texts_of(tree: Tree, table: str) -> dict[str, str]:
    """What a fresh form shows, by the entry's place."""
    return dict(_texts(table_at(tree, table), tree, table))


def _texts(held: Mapping[str, Any], tree: Tree, table: str) -> Iterator[tuple[str, str]]:
    for where in entries_of(tree, table):
        value, rule = held.get(where.rpartition(".")[2]), entry_rule(where)
        value = as_written(where, value)
        if rule.shape is Shape.YES_NO:
            yes = value is True or (value is None and where.endswith(".on"))
            yield where, "yes" if yes else "no"
        elif isinstance(value, list):
            yield where, ", ".join(map(str, value))
        else:
            told = f"{value:f}" if isinstance(value, Decimal) else str(value)
            yield where, "" if value is None else told

"""Build the page of a unit's policy: every number with its source and who set it, and versions."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from app.pages.frame import Frame, NavLink
from app.pages.policy_page import (
    ChangeLine,
    EntryLine,
    PolicyPage,
    PolicySection,
    TableEntry,
    VersionLine,
)
from app.pages.policy_words import (
    entry_value,
    entry_words,
    place_words,
    sections_of,
    table_heading,
    unit_beside,
    value_words,
)
from app.pages.times import full_time
from app.record.policies import PolicyVersion
from app.rules.policy_fields import STRUCTURE, entries_of, source_place
from app.rules.policy_tree import (
    Change,
    Tree,
    completed,
    differences,
    flat,
    shipped_tree,
    table_at,
    tree_of,
)
from app.rules.unit_clock import UnitClock

NOBODY = "ships with the program"
SHIPS = "Ships with the program"


class History(Struct, frozen=True):
    """The versions of a unit's policy with their trees, oldest first."""

    versions: tuple[PolicyVersion, ...]
    trees: tuple[Tree, ...]

    @property
    def newest(self) -> int:
        """The number of the version in force; 0 before anybody set one."""
        return self.versions[-1].version if self.versions else 0

    def tree(self, version: int) -> Tree:
        """What that version says; what ships before the first."""
        numbers = [each.version for each in self.versions]
        return self.trees[numbers.index(version)] if version in numbers else shipped_tree()

    def before(self, version: int) -> Tree | None:
        """What the version before it says; None for the first."""
        earlier = [each.version for each in self.versions if each.version < version]
        return self.tree(earlier[-1]) if earlier else None


def history_of(versions: Sequence[PolicyVersion]) -> History:
    """Every version read."""
    return History(tuple(versions), tuple(tree_of(each.toml) for each in versions))


def policy_page(
    frame: Frame, history: History, version: int, clock: UnitClock, *, may_change: bool
) -> PolicyPage:
    """One version whole; only the one in force can be changed."""
    in_force = version == history.newest
    offers = may_change and in_force
    # What the policy does not say itself is judged by what ships with the program.
    tree = completed(history.tree(version))
    told = _set_by(history, version, clock)
    return PolicyPage(
        frame=frame,
        heading="The unit's policy" if in_force else f"The unit's policy, version {version}",
        lead=_lead(history, version, clock),
        sections=tuple(_sections(tree, told, offers=offers)),
        versions=tuple(_versions(history, clock)),
        toml_href=f"/policy/versions/{version}/toml",
        ways=_WAYS if offers else (),
    )


_WAYS = (
    NavLink("Add a limit", "/policy/add"),
    NavLink("Paste or send a policy as TOML", "/policy/paste"),
)


def _lead(history: History, version: int, clock: UnitClock) -> str:
    title = value_words(history.tree(version).get("title"))
    held = next((each for each in history.versions if each.version == version), None)
    if held is None:
        return f"{title}: {NOBODY}, and nobody has set another."
    since = full_time(held.in_force_from, clock).text
    words = f"{title}, version {version}, by {held.author or NOBODY}: {held.reason}"
    if version == history.newest:
        return f"{words} In force since {since}."
    later = [each.in_force_from for each in history.versions if each.version > version]
    return f"{words} In force from {since} until {full_time(later[0], clock).text}."


def _sections(tree: Tree, told: Mapping[str, str], *, offers: bool) -> Iterator[PolicySection]:
    for anchor, heading, tables in sections_of(tree):
        entries = tuple(_table(tree, table, told, offers=offers) for table in tables)
        yield PolicySection(heading, f"of-{anchor}", entries)


def _table(tree: Tree, table: str, told: Mapping[str, str], *, offers: bool) -> TableEntry:
    lines = tuple(_lines(tree, table, told))
    source, set_by = (_usual([getattr(x, name) for x in lines]) for name in ("source", "set_by"))
    return TableEntry(
        heading=table_heading(table),
        anchor=table.replace(".", "-"),
        lines=tuple(_unlike(line, source, set_by) for line in lines),
        change_href=f"/policy/change/{table}" if offers else "",
        notes=tuple(filter(None, (source, set_by))),
    )


def _usual(said: Sequence[str]) -> str:
    """What most entries of a table share, said once under all of them; nothing for few."""
    words, count = Counter(said).most_common(1)[0] if said else ("", 0)
    return words if count > 1 or len(said) == 1 else ""


def _unlike(line: EntryLine, source: str, set_by: str) -> EntryLine:
    """The entry with what is not as usual in its table."""
    return replace(
        line,
        source="" if line.source == source else line.source,
        set_by="" if line.set_by == set_by else line.set_by,
    )


def _lines(tree: Tree, table: str, told: Mapping[str, str]) -> Iterator[EntryLine]:
    held = table_at(tree, table)
    if held.get("band") == "patient":
        source, by = str(held.get("source", "")), told.get(f"{table}.band", SHIPS)
        yield EntryLine("Band", "ordered for each patient", "", source, by)
    for where in entries_of(tree, table):
        name = where.rpartition(".")[2]
        if name not in held or name in STRUCTURE or name.endswith("source"):
            continue
        label, unit = entry_words(where)
        source = held.get(source_place(tree, where).rpartition(".")[2], "")
        by = told.get(where, SHIPS)
        value = entry_value(where, held[name])
        yield EntryLine(label, value, unit_beside(value, unit), str(source), by)


def _set_by(history: History, version: int, clock: UnitClock) -> dict[str, str]:
    """By which version each entry came to be what it is, its author, time and reason."""
    told: dict[str, str] = {}
    before: dict[str, object] = {}
    for held, tree in zip(history.versions, history.trees, strict=True):
        if held.version > version:
            break
        entries = flat(tree)
        since = full_time(held.in_force_from, clock).text
        by = f"Set in version {held.version}"
        if before:  # the first version is every entry's beginning: its own line says the rest once
            by += f", {held.author or NOBODY}, {since}: {held.reason}"
        told |= {where: by for where in entries if entries[where] != before.get(where)}
        before = dict(entries)
    return told


def _versions(history: History, clock: UnitClock) -> Iterator[VersionLine]:
    for held, tree in reversed(list(zip(history.versions, history.trees, strict=True))):
        before = history.before(held.version)
        changes = differences(before, tree) if before is not None else ()
        yield VersionLine(
            name=f"Version {held.version}",
            anchor=f"version-{held.version}",
            href=f"/policy/versions/{held.version}",
            toml_href=f"/policy/versions/{held.version}/toml",
            since=full_time(held.in_force_from, clock),
            author=held.author or NOBODY,
            reason=held.reason,
            changes=change_lines(changes),
            first=before is None,
            holds=held.version == history.newest,
        )


def change_lines(changes: Sequence[Change]) -> tuple[ChangeLine, ...]:
    """Each change in words; the reason of a version is told beside it, not as a change."""
    return tuple(_change_line(change) for change in changes if change.where != "reason")


def _change_line(change: Change) -> ChangeLine:
    after = entry_value(change.where, change.after)
    return ChangeLine(
        place_words(change.where),
        entry_value(change.where, change.before),
        after,
        unit_beside(after, entry_words(change.where)[1]),
    )

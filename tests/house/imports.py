"""The rooms of the house as their files say it: who imports what, and what reads clock or world."""

import ast
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

ROOT = Path(__file__).resolve().parents[2]
APP = ROOT / "app"


class Import(Struct, frozen=True):
    """One imported module, the name taken from it (empty for all of it), and where."""

    module: str
    name: str
    place: str

    @property
    def package(self) -> str:
        """The outermost part of the module."""
        return self.module.partition(".")[0]

    @property
    def room(self) -> str:
        """The room of ours that it leads into; empty for a module of somebody else's."""
        parts = self.module.split(".")
        if parts[0] != "app":
            return ""
        return parts[1] if len(parts) > 1 else self.name


def source_files() -> list[Path]:
    """Every Python file of the app."""
    return sorted(APP.rglob("*.py"))


def room_of(file: Path) -> str:
    """The room that a file stands in; a file beside the rooms is a room of its own."""
    return file.relative_to(APP).parts[0].removesuffix(".py")


def imports_of(file: Path) -> Iterator[Import]:
    """Every import, those inside functions and for type checkers included."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        place = f"{file.relative_to(ROOT)}:{getattr(node, 'lineno', 0)}"
        if isinstance(node, ast.Import):
            yield from (Import(alias.name, "", place) for alias in node.names)
        if isinstance(node, ast.ImportFrom):
            assert not node.level, f"{place}: say the whole name of what is imported"
            yield from (Import(node.module or "", alias.name, place) for alias in node.names)


def dotted(node: ast.expr) -> str:
    """The text of a name such as `datetime.now`; empty for anything else."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute) and (before := dotted(node.value)):
        return f"{before}.{node.attr}"
    return ""


def names_used(file: Path) -> Iterator[tuple[str, str]]:
    """Every dotted name with its place."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Attribute) and (name := dotted(node)):
            yield name, f"{file.relative_to(ROOT)}:{node.lineno}"

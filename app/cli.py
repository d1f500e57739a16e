"""The `leeboard` command: a list of what an operator can type, each read in when it is typed.

`leeboard calculate` works on a file and must start fast and without a database, so no command may
bring in what only another one needs.
"""

from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING, cast

import typer
from typer.core import TyperGroup
from typer.main import get_command

if TYPE_CHECKING:
    from typer.core import TyperCommand

COMMANDS: Mapping[str, str] = MappingProxyType(
    {
        "demo": "app.commands.demo",
        "serve": "app.commands.serve",
        "migrate": "app.commands.migrate",
        "unit": "app.commands.units",
        "user": "app.commands.people",
        "verify": "app.commands.verify",
        "backup": "app.commands.backup",
        "restore": "app.commands.restore",
        "outage": "app.commands.outage",
        "calculate": "app.commands.calculate",
        "replay": "app.commands.replay",
        "import": "app.commands.import_files",
        "export": "app.commands.export_files",
    }
)
"""Each command with the module whose `app` is its Typer application."""


class Listed(TyperGroup):
    """A group of the commands in `COMMANDS`, imported one by one."""

    def list_commands(self, ctx: object) -> list[str]:  # noqa: ARG002
        """The names, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: object, cmd_name: str) -> "TyperCommand | TyperGroup | None":  # noqa: ARG002
        """The command of that name; None when there is none."""
        if cmd_name not in COMMANDS:
            return None
        typed = get_command(import_module(COMMANDS[cmd_name]).app)
        typed.name = cmd_name
        return cast("TyperCommand | TyperGroup", typed)


main = typer.Typer(
    cls=Listed,
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Leeboard: shift handoff of ventilated patients.",
)


@main.callback()
def _every_command() -> None:
    """Leeboard: shift handoff of ventilated patients."""

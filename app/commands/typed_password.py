"""A password from whoever sits at the keyboard, or from a file for a script; never in an argument.

Arguments of a command stand in the list of processes and in the shell's history.
"""

import sys
from pathlib import Path
from typing import Annotated

import typer

from app.commands.opened import refuse

PasswordFile = Annotated[
    Path | None,
    typer.Option(help="File whose one line is the password; - is standard input. Asked for else."),
]


def password_from(file: Path | None) -> str:
    """The password; asked for twice, unless there is a file. Refuses a file of another shape."""
    if file is None:
        typed: str = typer.prompt("Password", hide_input=True, confirmation_prompt=True)
        return typed
    try:
        text = sys.stdin.read() if str(file) == "-" else file.read_text(encoding="utf-8")
    except OSError as error:
        refuse(f"The password cannot be read from {file}: {error.strerror}.")
    except UnicodeDecodeError:
        refuse(f"The password cannot be read from {file}: it is not UTF-8.")
    lines = text.splitlines()
    if len(lines) != 1:
        refuse(f"{file} holds {len(lines)} lines; the password is exactly one.")
    return lines[0]

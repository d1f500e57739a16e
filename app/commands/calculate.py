"""`leeboard calculate FILE`: indices of typed cases, without a patient, a page or a database."""

import sys
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(add_completion=False)


@app.command("calculate")
def calculate(
    file: Annotated[Path, typer.Argument(help="JSON list of cases; - reads standard input.")],
) -> None:
    """Print the answer to each case as a JSON array, and nothing else."""
    from app.physiology.calculate import answer_text
    from app.physiology.errors import CasesError

    try:
        content = sys.stdin.buffer.read() if str(file) == "-" else file.read_bytes()
        answers = answer_text(content.decode("utf-8"))
    except OSError as error:
        raise typer.BadParameter(f"{file}: {error.strerror}", param_hint="FILE") from None
    except UnicodeDecodeError:
        raise typer.BadParameter(f"{file} is not UTF-8", param_hint="FILE") from None
    except CasesError as error:
        raise typer.BadParameter(f"{file}: {error}", param_hint="FILE") from None
    typer.echo(answers.encode("utf-8"), nl=False)

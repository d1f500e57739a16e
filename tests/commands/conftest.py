"""The command line on a record of the test's own."""

from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from app.cli import main
from tests.site import SECRET


@pytest.fixture
def leeboard(tmp_path: Path) -> Callable[..., Result]:
    """Type a command; variables that are given as None are not set."""

    def typed(*words: str, **variables: str | None) -> Result:
        environment = {
            "LEEBOARD_DATA_DIR": str(tmp_path),
            "LEEBOARD_SECRET": SECRET,
            "LEEBOARD_DATABASE_URL": None,
            **variables,
        }
        return CliRunner().invoke(main, words, env=environment)

    return typed

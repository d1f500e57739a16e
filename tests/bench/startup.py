"""From an empty process to an app that can answer, against importing what it stands on."""

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator

from tests.bench.figures import Figure
from tests.bench.timing import in_turns, say

FLOOR = "import fastapi, sqlmodel, jinja2"
SITE = """
import sys
from app.main import create_app
from app.record.database import Database
from app.settings import Settings
url = f"sqlite:///{sys.argv[1]}/record.sqlite3"
create_app(Settings(database_url=url, demo=True, cookie_secure=False), Database(url))
"""


def startup_figures() -> Iterator[Figure]:
    """One figure; each start is a process of its own."""
    say("start-up")
    with tempfile.TemporaryDirectory(prefix="leeboard-bench-") as folder:
        times = in_turns(lambda: _run(FLOOR, folder), lambda: _run(SITE, folder), rounds=7, each=1)
    yield Figure("start-up, against fastapi + sqlmodel + jinja2", *times, at_most=1.3)


def _run(program: str, folder: str) -> None:
    """As on a site, which keeps what its modules were compiled to."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run([sys.executable, "-c", program, folder], check=True, env=environment)

"""Processes of a test's own, forked from a server that has read the whole program in already.

To start Python and import the program takes two seconds of a core. The server does so once and then
only forks: a process has memory, environment and connections of its own, as one begun afresh has.
"""

import os
import sys
from multiprocessing import get_context
from multiprocessing.process import BaseProcess
from pathlib import Path

from app.cli import COMMANDS, main

ROOT = Path(__file__).parents[1]

FORKED = get_context("forkserver")
FORKED.set_forkserver_preload(
    [__name__, "app.main", *COMMANDS.values(), "tests.actions.hammer", "tests.record.writers"]
)

READS = os.O_RDONLY
WRITES = os.O_WRONLY | os.O_CREAT | os.O_APPEND


def leeboard(
    words: tuple[str, ...], environment: dict[str, str], typed: Path, said: Path, complained: Path
) -> BaseProcess:
    """The command, not yet started: it reads one file, and adds to two others."""
    ways = ((typed, READS), (said, WRITES), (complained, WRITES))
    return FORKED.Process(target=_become, args=(words, environment, ways))


def _become(
    words: tuple[str, ...], environment: dict[str, str], ways: tuple[tuple[Path, int], ...]
) -> None:
    os.environ.clear()
    os.environ.update(environment)
    os.chdir(ROOT)
    for number, (path, how) in enumerate(ways):  # a program's input, output and errors
        opened = os.open(path, how, 0o600)
        os.dup2(opened, number)
        os.close(opened)
    sys.stdin = os.fdopen(0, encoding="utf-8", closefd=False)
    sys.argv = ["leeboard", *words]
    main()

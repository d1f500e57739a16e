"""The whole demo unit is copied, read in on each engine and found whole, in a few seconds."""

from functools import partial
from time import perf_counter

import pytest

from app.commands.checked import _cells
from app.record.backup import make_backup
from app.record.backup_file import open_backup
from app.record.restore import restore
from app.record.verify import verify
from tests.record.whole_record import everything
from tests.seed_demo.larch import Larch

pytestmark = pytest.mark.xdist_group("larch")

MOST_S = 10
"""For a copy or its way back, on two cores; some eleven thousand rows."""


def test_the_demo_is_copied_and_read_in_value_by_value(larch: Larch, database, tmp_path):
    started = perf_counter()
    made = make_backup(larch.database, tmp_path, larch.now)
    copied = perf_counter()
    with open_backup(made.path) as file:
        restore(database, file)
    read_in = perf_counter()
    assert (copied - started < MOST_S, read_in - copied < MOST_S) == (True, True)
    assert made.manifest.rows > 5000
    assert everything(database) == everything(larch.database)
    with database.reading() as session:
        assert verify(session, partial(_cells, session)) == []

"""The report: counts in words for a terminal, and every odd value as a line of a CSV file."""

import csv
from collections import Counter
from pathlib import Path

from app.exchange.import_report import COLUMNS, ImportReport, Line, counts, in_words, write_csv
from tests.exchange.clif_folder import at

REFUSED = Line("S1:2", at("08:00"), "tidal_volume_obs", "585573", "over 3000 mL")
LEFT = Line("S1:2", at("09:00"), "peep_set", "10", "another came first")
ASKED = Line("S1:2", at("10:00"), "peep_set", "26", "unusual, is it right?")


def report() -> ImportReport:
    return ImportReport(
        rows_read={"vitals": 7},
        tables_absent=("adt",),
        rows=Counter({"invasive, device named": 3}),
        began=Counter({"icu": 1}),
        courses_made=1,
        checks=2,
        gases=1,
        values_taken=20,
        values_inferred=2,
        refused=[REFUSED],
        conflicts=[LEFT],
        unconfirmed=[ASKED],
    )


def test_checks_and_gases_are_assessments():
    assert report().assessments == 3


def test_every_kind_of_value_is_counted():
    told = dict(counts(report()))
    assert told["rows read, vitals"] == 7
    assert told["rows of support, invasive, device named"] == 3
    assert told["courses in the tables, begun in icu"] == 1
    assert (told["values taken"], told["values taken, unconfirmed"]) == (20, 1)
    assert (told["values refused"], told["values taken, inferred"]) == (1, 2)


def test_the_terminal_sees_what_was_refused_and_why_but_no_stay():
    told = "\n".join(in_words(report()))
    assert "tidal_volume_obs “585573”: over 3000 mL" in told
    assert "No table adt." in told
    assert "S1" not in told


def test_the_file_holds_the_counts_and_then_a_line_for_each_odd_value(tmp_path: Path):
    write_csv(report(), tmp_path / "report.csv")
    with (tmp_path / "report.csv").open(encoding="utf-8", newline="") as file:
        header, *rows = list(csv.reader(file))
    assert tuple(header) == COLUMNS
    assert rows[0] == ["rows read, vitals", "7", "", "", "", "", ""]
    assert [row[0] for row in rows[-3:]] == ["refused", "left in conflict", "unconfirmed"]
    assert rows[-3][2:] == [
        "S1:2",
        "2125-01-02T08:00:00+00:00",
        "tidal_volume_obs",
        "585573",
        "over 3000 mL",
    ]

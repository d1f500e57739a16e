"""`replay`: a wide CSV in, one row for each flag out."""

import csv
import io
from datetime import datetime, timedelta

import pytest

from app.exchange.replay import HEADER, ReplayError, replay
from app.rules.policy import starting_policy

START = datetime.fromisoformat("2026-03-09T07:00:00-04:00")
NORMAL = {
    "mode_family": "ac_vc",
    "fio2_set": "40",
    "peep_set": "10",
    "tidal_volume_set": "400",
    "resp_rate_set": "20",
    "resp_rate_obs": "20",
    "tidal_volume_obs": "395",
    "peak_inspiratory_pressure_obs": "32",
    "plateau_pressure_obs": "22",
    "hold_passive": "yes",
    "spo2": "93",
    "height_cm": "170",
    "pbw_sex": "M",
    "spo2_target_low": "88",
}


def line(course: str = "c1", hours: float = 0, **values: str) -> dict[str, str]:
    at = (START + timedelta(hours=hours)).isoformat()
    return {"course": course, "observed_at": at, **NORMAL, **values}


def replayed(*lines: dict[str, str], drop: tuple[str, ...] = ()) -> list[dict[str, str]]:
    names = [name for name in dict.fromkeys(n for row in lines for n in row) if name not in drop]
    chart = io.StringIO()
    writer = csv.DictWriter(chart, names, extrasaction="ignore", restval="")
    writer.writeheader()
    writer.writerows(lines)
    chart.seek(0)
    out = io.StringIO()
    replay(chart, starting_policy(), out)
    return list(csv.DictReader(io.StringIO(out.getvalue())))


def rules(found: list[dict[str, str]]) -> set[str]:
    return {row["rule"] for row in found}


def high(*hours: float, **values: str) -> list[dict[str, str]]:
    return [line(hours=h, plateau_pressure_obs="26", **values) for h in hours]


def test_a_flag_is_one_row_with_its_times_and_values():
    assert replayed(*high(0, 4)) == [
        {
            "course": "c1",
            "group": "mechanics",
            "rule": "driving_pressure_over",
            "raised_at": "2026-03-09T15:00:00+00:00",
            "cleared_at": "",
            "values": "driving_pressure 16 at 2026-03-09T11:00:00+00:00; "
            "16 at 2026-03-09T15:00:00+00:00 (limit 15)",
        }
    ]


def test_the_header_stands_even_without_a_flag():
    out = io.StringIO()
    replay(io.StringIO("course,observed_at\n"), starting_policy(), out)
    assert out.getvalue() == ",".join(HEADER) + "\n"


def test_outside_once_is_not_written():
    assert replayed(*high(0)) == []


def test_a_cleared_flag_says_when():
    found = replayed(*high(0, 4), line(hours=8), line(hours=12))
    assert [row["cleared_at"] for row in found] == ["2026-03-09T23:00:00+00:00"]


def test_the_order_of_lines_and_other_courses_between_them_do_not_matter():
    lines = [*high(0, 4), *(line("c2", h, spo2="80") for h in (0, 4))]
    key = str
    assert sorted(map(key, replayed(*lines))) == sorted(map(key, replayed(*reversed(lines))))


def test_without_a_band_spo2_raises_nothing():
    lines = [line(hours=h, spo2="80", spo2_target_low="") for h in (0, 4)]
    assert "spo2_under" not in rules(replayed(*lines))


@pytest.mark.parametrize(("age", "raised"), [("", True), ("18", True), ("17", False)])
def test_adult_where_the_age_is_absent_and_off_for_a_child(age, raised):
    assert bool(replayed(*high(0, 4, age_y=age))) is raised


@pytest.mark.parametrize("plateau", ["", "999", "abc", "not done: effort", "nan", "-3"])
def test_a_cell_that_is_no_value_is_not_within_and_not_outside(plateau):
    found = replayed(line(plateau_pressure_obs=plateau), *high(4), *high(8))
    assert [row["raised_at"] for row in found] == ["2026-03-09T19:00:00+00:00"]


@pytest.mark.parametrize(("passive", "raised"), [("yes", True), ("no", False), ("", False)])
def test_an_unanswered_hold_is_not_passive(passive, raised):
    assert bool(replayed(*high(0, 4, hold_passive=passive))) is raised


@pytest.mark.parametrize(("rate", "raised"), [("20", True), ("21", True), ("22", False)])
def test_a_file_that_never_asked_is_read_as_an_import_is(rate, raised):
    lines = high(0, 4, resp_rate_obs=rate)
    assert bool(replayed(*lines, drop=("hold_passive",))) is raised


def test_oxygen_may_stand_as_a_fraction():
    lines = [line(hours=h, fio2_set="0.7") for h in (0, 4)]
    assert "fio2_over" in rules(replayed(*lines))


def test_a_gas_belongs_to_its_rows_time():
    found = replayed(line(), line(hours=1, ph="7.15", pao2="80", gas_specimen="arterial"))
    assert [(row["group"], row["raised_at"]) for row in found] == [
        ("acid-base", "2026-03-09T12:00:00+00:00")
    ]


@pytest.mark.parametrize(
    ("text", "line_number", "what"),
    [
        ("observed_at,spo2\n", 1, "course"),
        ("course,observed_at,spo2,spo2\n", 1, "stand twice: spo2"),
        ("course,observed_at\nc1,yesterday\n", 2, "not a time"),
        ("course,observed_at\nc1,2026-03-09T07:00:00\n", 2, "no offset"),
        ("course,observed_at\nc1\n", 2, "1 cells, the header 2"),
        ("", 1, "course and observed_at"),
    ],
)
def test_a_file_that_cannot_be_read_names_the_line(text, line_number, what):
    with pytest.raises(ReplayError, match=what) as refused:
        replay(io.StringIO(text), starting_policy(), io.StringIO())
    assert refused.value.line == line_number

"""`leeboard replay`: a file in, a file out, and nothing else needed."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from app.cli import main
from app.rules.policy import STARTING_POLICY_FILE

HEADER = "course,observed_at,mode_family,fio2_set,resp_rate_obs"
LINES = ("c1,2026-03-09T07:00:00+00:00,ac_vc,70,20", "c1,2026-03-09T11:00:00+00:00,ac_vc,70,20")


@pytest.fixture
def chart(tmp_path: Path) -> Path:
    file = tmp_path / "chart.csv"
    file.write_text("\n".join([HEADER, *LINES]) + "\n", encoding="utf-8")
    return file


def run(*words: object):
    return CliRunner().invoke(main, ["replay", *map(str, words)])


def test_a_chart_becomes_flags(chart):
    out = chart.with_name("flags.csv")
    done = run(chart, "--out", out)
    assert done.output == "2 rows of 1 courses, 1 flags written.\n"
    assert "oxygenation,fio2_over,2026-03-09T11:00:00+00:00,," in out.read_text(encoding="utf-8")


def test_another_policy_judges_otherwise(chart):
    policy, out = chart.with_name("own.toml"), chart.with_name("flags.csv")
    text = STARTING_POLICY_FILE.read_text(encoding="utf-8")
    policy.write_text(text.replace("over = 60", "over = 80"), encoding="utf-8")
    assert run(chart, "--policy", policy, "--out", out).output.endswith("0 flags written.\n")


def test_a_wrong_policy_is_named_and_nothing_is_written(chart):
    policy, out = chart.with_name("own.toml"), chart.with_name("flags.csv")
    policy.write_text("[rules.nothing]\nx = 1\n", encoding="utf-8")
    done = run(chart, "--policy", policy, "--out", out)
    assert done.exit_code == 2
    assert not out.exists()


@pytest.mark.parametrize("text", ["", "course\n", f"{HEADER}\nc1,yesterday,ac_vc,70,20\n"])
def test_a_file_that_cannot_be_read_is_refused(chart, text):
    chart.write_text(text, encoding="utf-8")
    out = chart.with_name("flags.csv")
    assert run(chart, "--out", out).exit_code == 2
    assert not out.exists()

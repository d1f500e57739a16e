"""`leeboard calculate`: answers on standard output, and nothing that another command needs."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

CASES = [
    {"id": "a", "index": "pbw", "inputs": {"sex": "M", "height": 170}, "units": {"height": "cm"}},
    {"id": "é", "index": "no_such_index", "inputs": {}, "units": {}},
]
HEAVY = ("fastapi", "starlette", "sqlmodel", "sqlalchemy", "pyarrow", "jinja2", "alembic")


@pytest.fixture
def cases(tmp_path: Path) -> Path:
    file = tmp_path / "cases.json"
    file.write_text(json.dumps(CASES), encoding="utf-8")
    return file


def test_a_json_array_and_nothing_else_is_printed(leeboard, cases: Path):
    result = leeboard("calculate", str(cases))
    answers = json.loads(result.stdout)
    assert result.exit_code == 0
    assert [(answer["id"], answer["state"]) for answer in answers] == [
        ("a", "value"),
        ("é", "unknown_index"),
    ]


def test_it_reads_standard_input_in_any_locale(cases: Path):
    answer = subprocess.run(
        [sys.executable, "-m", "app", "calculate", "-"],
        input=cases.read_bytes(),
        capture_output=True,
        check=True,
        cwd=Path(__file__).parents[2],
        env={"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    )
    assert json.loads(answer.stdout.decode("utf-8"))[1]["id"] == "é"


def test_neither_the_web_nor_a_database_is_imported_or_opened(cases: Path, tmp_path: Path):
    program = (
        "import sys\nfrom app.cli import main\n"
        "try:\n    main()\nexcept SystemExit as end:\n"
        f"    sys.exit(end.code or ' '.join(m for m in {HEAVY} if m in sys.modules) or 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, "calculate", str(cases)],
        capture_output=True,
        check=False,
        cwd=tmp_path,
        env={"PYTHONPATH": str(Path(__file__).parents[2])},
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert [path.name for path in tmp_path.iterdir()] == ["cases.json"]


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"{", "not JSON"), (b"{}", "a list of cases is expected"), (b"\xff", "not UTF-8")],
)
def test_a_file_that_holds_no_cases_is_refused(leeboard, tmp_path, content: bytes, words: str):
    file = tmp_path / "cases.json"
    file.write_bytes(content)
    result = leeboard("calculate", str(file), TERMINAL_WIDTH="300", COLUMNS="300")
    assert (result.exit_code, result.stdout) == (2, "")
    assert words in result.stderr


def test_a_file_that_is_not_there_is_refused(leeboard, tmp_path: Path):
    result = leeboard("calculate", str(tmp_path / "none.json"))
    assert (result.exit_code, result.stdout) == (2, "")

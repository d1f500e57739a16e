"""The environment is read once, and what is wrong is refused by name, all of it at once."""

from pathlib import Path

import pytest

from app.settings import MEANINGS, Settings, SettingsError

SECRET = "0123456789abcdef0123456789abcdef"


def problems(**environ: str) -> tuple[str, ...]:
    with pytest.raises(SettingsError) as refused:
        Settings.from_environment(environ)
    return refused.value.problems


def test_an_empty_environment_is_a_real_site_on_a_file_in_the_data_folder():
    settings = Settings.from_environment({})
    assert settings.database_url == f"sqlite:///{Path('.data/leeboard.sqlite3').absolute()}"
    assert (settings.demo, settings.cookie_secure, settings.secret) == (False, True, "")
    assert (settings.idle_minutes, settings.session_hours) == (15, 13)
    assert (settings.oxygen_as_fraction, settings.gas_in_kpa, settings.words) == (False, False, {})


def test_two_of_the_record_number_are_asked_for_unless_the_site_says_otherwise():
    assert Settings.from_environment({}).identity_digits == 2
    assert Settings.from_environment({"LEEBOARD_IDENTITY_DIGITS": "0"}).identity_digits == 0


def test_the_file_stands_in_the_data_folder_that_was_given(tmp_path):
    settings = Settings.from_environment({"LEEBOARD_DATA_DIR": str(tmp_path)})
    assert settings.database_url == f"sqlite:///{tmp_path / 'leeboard.sqlite3'}"


@pytest.mark.parametrize(
    ("given", "used"),
    [
        ("postgresql://a:b@c/d", "postgresql+psycopg://a:b@c/d"),
        ("postgres://c/d", "postgresql+psycopg://c/d"),
        ("postgresql+psycopg://c/d", "postgresql+psycopg://c/d"),
        ("sqlite:////srv/l.sqlite3", "sqlite:////srv/l.sqlite3"),
    ],
)
def test_a_url_is_used_with_its_driver_spelled_out(given, used):
    assert Settings.from_environment({"LEEBOARD_DATABASE_URL": given}).database_url == used


@pytest.mark.parametrize("url", ["mysql://a/b", "sqlite://", "sqlite:///:memory:", "nonsense"])
def test_any_other_url_is_refused(url):
    (problem,) = problems(LEEBOARD_DATABASE_URL=url)
    assert problem.startswith("LEEBOARD_DATABASE_URL is not usable")


def test_a_refused_url_is_not_quoted_because_it_may_hold_a_password():
    assert "hunter2" not in problems(LEEBOARD_DATABASE_URL="mysql://me:hunter2@h/d")[0]


def test_the_demo_needs_no_https():
    assert not Settings.from_environment({"LEEBOARD_DEMO": "yes"}).cookie_secure
    both = {"LEEBOARD_DEMO": "1", "LEEBOARD_COOKIE_SECURE": "true"}
    assert Settings.from_environment(both).cookie_secure


@pytest.mark.parametrize(
    ("name", "low", "high", "under", "over"),
    [
        ("LEEBOARD_IDLE_MINUTES", "1", "120", "0", "121"),
        ("LEEBOARD_SESSION_HOURS", "1", "24", "0", "25"),
        ("LEEBOARD_IDENTITY_DIGITS", "0", "4", "-1", "5"),
    ],
)
def test_a_number_has_to_lie_in_its_range(name, low, high, under, over):
    for good in (low, high):
        Settings.from_environment({name: good})
    for bad in (under, over, "many", "NaN"):
        assert problems(**{name: bad})[0].startswith(f"{name} is not usable")


@pytest.mark.parametrize(("given", "used"), [("fraction", True), ("Percent", False), ("", False)])
def test_a_site_writes_oxygen_as_percent_or_as_a_fraction(given: str, used: bool):
    settings = Settings.from_environment({"LEEBOARD_OXYGEN_AS": given})
    assert settings.oxygen_as_fraction is used


@pytest.mark.parametrize(("given", "used"), [("kPa", True), ("kpa", True), ("mmHg", False)])
def test_a_site_writes_gas_pressures_in_one_of_two_units(given: str, used: bool):
    assert Settings.from_environment({"LEEBOARD_GAS_UNIT": given}).gas_in_kpa is used


def test_any_other_way_to_write_them_is_refused():
    told = problems(LEEBOARD_OXYGEN_AS="0.4", LEEBOARD_GAS_UNIT="torr")
    assert [problem.split()[0] for problem in told] == ["LEEBOARD_GAS_UNIT", "LEEBOARD_OXYGEN_AS"]


def test_a_site_names_things_in_its_own_words():
    given = {"LEEBOARD_WORDS_THERAPIST": "Atmungstherapeutin", "LEEBOARD_WORDS_LEAD": " "}
    assert Settings.from_environment(given).words == {"THERAPIST": "Atmungstherapeutin"}


@pytest.mark.parametrize(
    ("word", "is_taken"), [("x" * 40, True), ("x" * 41, False), ("a\tb", False)]
)
def test_a_word_is_one_short_line(word: str, is_taken: bool):
    environ = {"LEEBOARD_WORDS_RECORD_NUMBER": word}
    if is_taken:
        assert Settings.from_environment(environ).words == {"RECORD_NUMBER": word}
    else:
        assert problems(**environ)[0].startswith("LEEBOARD_WORDS_RECORD_NUMBER is not usable")


def test_an_empty_variable_counts_as_absent():
    assert Settings.from_environment({"LEEBOARD_IDLE_MINUTES": " "}).idle_minutes == 15


def test_a_typing_mistake_is_told_with_what_was_meant():
    assert problems(LEEBOARD_DATABSE_URL="x") == (
        "LEEBOARD_DATABSE_URL is unknown: did you mean LEEBOARD_DATABASE_URL?",
    )


def test_everything_wrong_is_told_at_once():
    told = problems(LEEBOARD_DEMO="perhaps", LEEBOARD_SECRET="short", LEEBOARD_XYZZY="1")
    assert [problem.split()[0] for problem in told] == [
        "LEEBOARD_DEMO",
        "LEEBOARD_SECRET",
        "LEEBOARD_XYZZY",
    ]


def test_other_programs_variables_are_left_alone():
    Settings.from_environment({"PATH": "/bin", "DATABASE_URL": "nonsense"})


def test_only_who_serves_pages_needs_the_secret():
    with pytest.raises(SettingsError, match="LEEBOARD_SECRET is missing"):
        Settings.from_environment({}).required_secret()
    assert Settings.from_environment({"LEEBOARD_SECRET": SECRET}).required_secret() == SECRET


@pytest.mark.parametrize("secret", [SECRET[:-1], "a" * 64])
def test_a_secret_that_can_be_guessed_is_refused(secret):
    assert "LEEBOARD_SECRET" in problems(LEEBOARD_SECRET=secret)[0]


def test_secrets_never_show_in_a_repr():
    settings = Settings.from_environment(
        {"LEEBOARD_SECRET": SECRET, "LEEBOARD_DATABASE_URL": "postgresql://me:pass@h/d"}
    )
    assert SECRET not in repr(settings)
    assert "pass" not in repr(settings)


def test_every_variable_has_a_meaning_that_a_person_can_read():
    assert all(len(meaning) > 20 for meaning in MEANINGS.values())

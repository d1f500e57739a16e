"""Every environment variable, read once; what is wrong is refused by name, all of it at once."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import TypeVar

PREFIX = "LEEBOARD_"
WORDS = f"{PREFIX}WORDS_"
SHORTEST_SECRET = 32
"""Characters; 32 hex digits are 128 random bits."""

LONGEST_WORD = 40

T = TypeVar("T")

MEANINGS: Mapping[str, str] = {
    "LEEBOARD_DATABASE_URL": "where the record is: sqlite:///path or postgresql://...",
    "LEEBOARD_DATA_DIR": "folder for the SQLite file and for copies; .data unless given",
    "LEEBOARD_SECRET": "at least 32 characters that nobody else knows; demanded by serve",
    "LEEBOARD_DEMO": "yes or no: a simulated unit instead of a real one; no unless given",
    "LEEBOARD_COOKIE_SECURE": "yes or no: cookies over HTTPS only; yes unless this is the demo",
    "LEEBOARD_IDLE_MINUTES": "minutes without a touch until the page locks, 1-120; 15 unless given",
    "LEEBOARD_SESSION_HOURS": "hours until a sign-in ends in any case, 1-24; 13 unless given",
    "LEEBOARD_IDENTITY_DIGITS": (
        "how much of a record number's end is asked for before the first save on a patient, 0-4;"
        " 2 unless given, 0 asks nothing"
    ),
    "LEEBOARD_OXYGEN_AS": "percent or fraction: FiO2 as 40 % or as 0.40; percent unless given",
    "LEEBOARD_GAS_UNIT": "mmHg or kPa: pressures of blood gases; mmHg unless given",
    "LEEBOARD_OUTAGE_DIR": "folder for the hourly files; outage in the data folder unless given",
    "LEEBOARD_OUTAGE_KEEP_HOURS": "hours that such files are kept, 2-168; 24 unless given",
    "LEEBOARD_WORDS_LIMITS_OF_CARE": "name of the limits of care; treatment limits unless given",
    "LEEBOARD_WORDS_RECORD_NUMBER": "what the record number is called; record number unless given",
    "LEEBOARD_WORDS_THERAPIST": "what a therapist is called; respiratory therapist unless given",
    "LEEBOARD_WORDS_LEAD": "what the unit's lead is called; lead unless given",
    "LEEBOARD_WORDS_READER": "what somebody is called who only reads; reader unless given",
    "LEEBOARD_WORDS_STUDENT": "what a student is called; student unless given",
    "LEEBOARD_WORDS_AUDITOR": "what somebody is called who reads the audit; auditor unless given",
}
"""Every variable the app knows, with what it means."""


class SettingsError(Exception):
    """The environment cannot be used; `problems` names each variable and what is wrong with it."""

    def __init__(self, problems: tuple[str, ...]) -> None:
        super().__init__("\n".join(problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Settings:
    """How this installation runs. What may hold a password never shows in its repr."""

    database_url: str = field(repr=False)
    data_dir: Path = Path(".data")
    secret: str = field(default="", repr=False)
    demo: bool = False
    cookie_secure: bool = True
    idle_minutes: int = 15
    session_hours: int = 13
    identity_digits: int = 2
    oxygen_as_fraction: bool = False
    gas_in_kpa: bool = False
    outage_dir: Path | None = None
    outage_keep_hours: int = 24
    words: Mapping[str, str] = field(default_factory=dict)
    """What this site calls things, by the end of the variable's name: "THERAPIST"."""

    @classmethod
    def from_environment(cls, environ: Mapping[str, str]) -> "Settings":
        """Read the variables. Raises SettingsError with everything that is wrong or unknown."""
        given = _Given(environ)
        data_dir = given.read("LEEBOARD_DATA_DIR", Path(".data"), Path)
        demo = given.read("LEEBOARD_DEMO", default=False, parse=_yes_or_no)
        settings = cls(
            database_url=given.read("LEEBOARD_DATABASE_URL", _beside(data_dir), _database_url),
            data_dir=data_dir,
            secret=given.read("LEEBOARD_SECRET", "", _secret),
            demo=demo,
            cookie_secure=given.read("LEEBOARD_COOKIE_SECURE", not demo, _yes_or_no),
            idle_minutes=given.read("LEEBOARD_IDLE_MINUTES", 15, _whole(1, 120)),
            session_hours=given.read("LEEBOARD_SESSION_HOURS", 13, _whole(1, 24)),
            identity_digits=given.read("LEEBOARD_IDENTITY_DIGITS", 2, _whole(0, 4)),
            oxygen_as_fraction=given.read(
                "LEEBOARD_OXYGEN_AS", default=False, parse=_second("percent", "fraction")
            ),
            gas_in_kpa=given.read("LEEBOARD_GAS_UNIT", default=False, parse=_second("mmHg", "kPa")),
            outage_dir=given.read("LEEBOARD_OUTAGE_DIR", None, Path),
            outage_keep_hours=given.read("LEEBOARD_OUTAGE_KEEP_HOURS", 24, _whole(2, 168)),
            words=given.words(),
        )
        given.refuse_if_wrong()
        return settings

    @property
    def outage_folder(self) -> Path:
        """Where the files for hours without the program lie."""
        return self.outage_dir or self.data_dir / "outage"

    @classmethod
    def from_process(cls) -> "Settings":
        """The same from this process's environment."""
        return cls.from_environment(os.environ)

    def required_secret(self) -> str:
        """The secret, for whoever serves pages. Raises SettingsError when there is none."""
        if not self.secret:
            raise SettingsError((f"LEEBOARD_SECRET is missing: {MEANINGS['LEEBOARD_SECRET']}",))
        return self.secret


class _Given:
    """The variables that were given, and what was wrong with them so far."""

    def __init__(self, environ: Mapping[str, str]) -> None:
        self._values = {k: v.strip() for k, v in environ.items() if k.startswith(PREFIX)}
        self._problems = [_unknown(name) for name in self._values if name not in MEANINGS]

    def read(self, name: str, default: T, parse: Callable[[str], T]) -> T:
        """The variable's value; the default when it is absent, empty or wrong."""
        text = self._values.get(name, "")
        if not text:
            return default
        try:
            return parse(text)
        except ValueError:
            self._problems.append(f"{name} is not usable: {MEANINGS[name]}")
            return default

    def words(self) -> dict[str, str]:
        """What this site calls things, by the end of the variable's name."""
        named = {name.removeprefix(WORDS): name for name in MEANINGS if name.startswith(WORDS)}
        return {end: word for end, name in named.items() if (word := self.read(name, "", _word))}

    def refuse_if_wrong(self) -> None:
        if self._problems:
            raise SettingsError(tuple(sorted(self._problems)))


def _unknown(name: str) -> str:
    near = get_close_matches(name, MEANINGS, n=1)
    return f"{name} is unknown" + (f": did you mean {near[0]}?" if near else "")


def _beside(data_dir: Path) -> str:
    return f"sqlite:///{(data_dir / 'leeboard.sqlite3').absolute()}"


def _database_url(text: str) -> str:
    """The URL with its driver spelled out. Raises ValueError for any other engine."""
    scheme, separator, rest = text.partition("://")
    driver = {
        "sqlite": "sqlite",
        "postgres": "postgresql+psycopg",
        "postgresql": "postgresql+psycopg",
        "postgresql+psycopg": "postgresql+psycopg",
    }.get(scheme)
    in_memory = driver == "sqlite" and rest in ("", "/", "/:memory:")
    if not separator or driver is None or in_memory:
        raise ValueError(scheme)
    return f"{driver}://{rest}"


def _secret(text: str) -> str:
    if len(text) < SHORTEST_SECRET or len(set(text)) < SHORTEST_SECRET // 4:
        raise ValueError("too short, or too few different characters")
    return text


def _yes_or_no(text: str) -> bool:
    answers = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}
    if text.lower() not in answers:
        raise ValueError(text)
    return answers[text.lower()]


def _second(first: str, second: str) -> Callable[[str], bool]:
    """Whether the second of two answers was given."""

    def parse(text: str) -> bool:
        answers = {first.casefold(): False, second.casefold(): True}
        if text.casefold() not in answers:
            raise ValueError(text)
        return answers[text.casefold()]

    return parse


def _word(text: str) -> str:
    """A name on a page: one short line."""
    if len(text) > LONGEST_WORD or not text.isprintable():
        raise ValueError(text)
    return text


def _whole(low: int, high: int) -> Callable[[str], int]:
    def parse(text: str) -> int:
        number = int(text)
        if not low <= number <= high:
            raise ValueError(text)
        return number

    return parse

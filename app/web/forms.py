"""What a form sent: one value per name, several where that is meant, nothing endless."""

import re
from collections.abc import Mapping
from email.message import MIMEPart
from email.parser import BytesParser
from email.policy import HTTP
from itertools import islice
from urllib.parse import parse_qsl

from msgspec import Struct, field
from starlette.datastructures import Headers
from starlette.requests import Request

from app.web.errors import BadForm, NotAForm

MOST_FIELDS = 1000
MOST_PARTS = 20
MOST_CHARACTERS = 20_000
"""Of one text; a note of ten thousand words is not a handoff."""

CANNOT_BE_KEPT = "\x00"
"""PostgreSQL takes no text with it, so nothing on the way to a database may hold it."""

TIME = ".time"
"""What a form adds to the name of a day for the box of its time: the two are one text."""

_CLOCK = re.compile(r"([01]?\d|2[0-3])[:.]?([0-5]\d)", re.ASCII)

NOT_SHOWN_BACK = frozenset(
    {"csrf", "password", "new_password", "save_key", "next", "theme", "course", "identity", "seen"}
) | {"version", "part", "task", "line", "treatment", "rules", "raised"}
"""What is never repeated on a page that keeps the typed text in sight: secrets, and keys that say
nothing to a reader."""


class Form(Struct, frozen=True):
    """The names and texts of one form, in the order in which they were sent."""

    values: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def one(self, name: str, most: int = MOST_CHARACTERS) -> str:
        """The text under a name without outer blanks; empty when it was not sent.

        Raises BadForm when it was sent twice or is longer than `most` characters.
        """
        sent = self.values.get(name, ())
        if len(sent) > 1:
            raise BadForm(f"{name} was sent {len(sent)} times")
        text = sent[0].strip() if sent else ""
        if len(text) > most:
            raise BadForm(f"{name} is longer than {most} characters")
        return text

    def exact(self, name: str, most: int) -> str:
        """The same with its blanks: a password may begin with one."""
        sent = self.values.get(name, ())
        if len(sent) > 1 or any(len(text) > most for text in sent):
            raise BadForm(f"{name} cannot be read")
        return sent[0] if sent else ""

    def several(self, name: str) -> tuple[str, ...]:
        """Every text under a name that a form may repeat, such as ticks."""
        return self.values.get(name, ())

    def typed(self) -> tuple[tuple[str, str], ...]:
        """Name and text of all that a person typed, for showing it back."""
        return tuple(
            (name, text)
            for name, texts in self.values.items()
            if name not in NOT_SHOWN_BACK
            for text in texts
            if text.strip()
        )


NO_FORM = Form()

TAKE_A_FILE = frozenset({"/policy/upload"})
"""The addresses whose form carries a file of text; every other one refuses a form like that."""


async def form_of(request: Request) -> Form:
    """The request's form, read once. Raises NotAForm or BadForm for what no page of ours sends."""
    kept: Form | None = getattr(request.state, "form", None)
    if kept is None:
        body, headers = await request.body(), Headers(scope=request.scope)
        takes_a_file = request.url.path in TAKE_A_FILE
        kept = (form_with_a_file if takes_a_file else parse_form)(body, headers)
        request.state.form = kept
    return kept


def parse_form(body: bytes, headers: Headers) -> Form:
    """The form in a body. An empty body is an empty form, whatever its kind."""
    if not body:
        return NO_FORM
    kind = headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != "application/x-www-form-urlencoded":
        raise NotAForm
    try:
        pairs = parse_qsl(
            body.decode("ascii"),
            keep_blank_values=True,
            errors="strict",
            max_num_fields=MOST_FIELDS,
        )
    except (UnicodeError, ValueError):
        raise BadForm("it is not text, or it has too many fields") from None
    return Form(_with_times(_grouped(pairs)))


def form_with_a_file(body: bytes, headers: Headers) -> Form:
    """The same from a form in parts, a file among them as the text in it.

    Only text in UTF-8 is taken. Raises NotAForm for another kind of body, BadForm for one that
    cannot be read.
    """
    kind = headers.get("content-type", "")
    if kind.partition(";")[0].strip().lower() != "multipart/form-data":
        return parse_form(body, headers)
    head = f"Content-Type: {kind}\r\n\r\n".encode("latin-1", "replace")
    parts = BytesParser(policy=HTTP).parsebytes(head + body).iter_parts()
    pairs = [pair for part in islice(parts, MOST_PARTS) if (pair := _pair(part)) is not None]
    return Form(_grouped(pairs))


def _pair(part: MIMEPart) -> tuple[str, str] | None:
    name = part.get_param("name", header="content-disposition")
    if not isinstance(name, str):
        return None
    sent = part.get_payload(decode=True)
    try:
        return name, sent.decode("utf-8-sig") if isinstance(sent, bytes) else ""
    except UnicodeDecodeError:
        raise BadForm("the file is not text in UTF-8") from None


def _grouped(pairs: list[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    values: dict[str, tuple[str, ...]] = {}
    for name, text in pairs:
        if CANNOT_BE_KEPT in text or CANNOT_BE_KEPT in name:
            raise BadForm("it holds a character that cannot be kept")
        values[name] = (*values.get(name, ()), text.replace("\r\n", "\n"))
    return values


def _with_times(values: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """Each day with the time of its second box, as one text under the day's name."""
    whole = {name: texts for name, texts in values.items() if not name.endswith(TIME)}
    for name, texts in values.items():
        day = whole.get(name.removesuffix(TIME), ())
        if name.endswith(TIME) and len(texts) == len(day) == 1:
            whole[name.removesuffix(TIME)] = (day_and_time(day[0], texts[0]),)
    return whole


def day_and_time(day: str, clock: str) -> str:
    """Both boxes as one text: "2026-11-26T04:15", also for a time typed as 0415, 415 or 4.15.

    A time that is none stays as it was typed, for whoever reads the text to refuse. A text that
    holds a time already is left alone.
    """
    day, clock = day.strip(), clock.strip()
    if "T" in day or not (day or clock):
        return day
    read = _CLOCK.fullmatch(clock)
    return f"{day}T{int(read[1]):02}:{read[2]}" if read else f"{day}T{clock}"

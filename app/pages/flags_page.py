"""The page of one cause's flags as its template reads it."""

from msgspec import Struct

from app.pages.frame import Banner, Frame
from app.pages.shown import Tone, When


class FlagLine(Struct, frozen=True):
    """One flag that stands open, opened: rule, values, limit and source, what would clear it."""

    words: str
    tone: Tone
    sentence: str
    values: str
    since: When
    against: str
    """The limit, or the level before for a drift, in words."""
    source: str
    policy_words: str
    would_clear: str
    notes: tuple[str, ...] = ()


class HistoryLine(Struct, frozen=True):
    """One thing that happened to the flags of the cause."""

    when: When
    words: str
    by: str = ""


class AnswerForm(Struct, frozen=True):
    """How somebody answers what stands open; `rules` and `raised` say what they had seen."""

    action: str
    save_key: str
    rules: str
    raised: str
    owner: str
    may_mute: bool
    is_muted: bool
    longest: int


class FlagsPage(Struct, frozen=True):
    """The flags of one cause: open ones explained, what was said of them, their history."""

    frame: Frame
    banner: Banner
    heading: str
    open: tuple[FlagLine, ...]
    quiet_words: str
    said: tuple[str, ...]
    history: tuple[HistoryLine, ...]
    form: AnswerForm | None
    caution: str
    back_href: str
    error: str = ""
    """Why an answer was not kept; there may be no form left to say it beside."""

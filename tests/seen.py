"""An HTML answer as a strict reader sees it: what is wrong with it, and what its forms hold."""

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from html import unescape
from urllib.parse import urlsplit

VOID = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "wbr")
)
TYPED_IN = frozenset(("input", "select", "textarea"))
NEEDS_NO_LABEL = frozenset(("hidden", "submit", "button"))
POINTERS = frozenset(
    ("for", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details")
)

MARK = re.compile(
    r"""<(?: !--.*?-->                                # a comment
          | !doctype[^>]*>
          | (/?) ([a-z][^\s/>]*)                      # a tag, its end or its beginning
            ( (?: \s+ [^\s=/>"'<]+ (?: = (?: "[^"]*" | '[^']*' ) )? )* )
            \s* (/?) > )""",
    re.DOTALL | re.IGNORECASE | re.VERBOSE,
)
"""What stands between two texts. The standard library's parser forgives more and takes thrice as
long; a mark that this house does not write is an angle bracket left in a text, and a complaint."""
ATTRIBUTE = re.compile(r"""\s+ ([^\s=/>"'<]+) (?: = (?: "([^"]*)" | '([^']*)' ) )?""", re.VERBOSE)


@lru_cache(8192)
def attributes_of(written: str) -> dict[str, str]:
    """What a tag says of itself; most tags of a page say what another one has said before."""
    return {
        name.lower(): unescape(double or single)
        for name, double, single in ATTRIBUTE.findall(written)
    }


class Element:
    """A tag with its attributes, its children, and the text between them.

    A page keeps all its tags in one list, in the order in which they were opened; what is inside
    one of them stands right behind it, up to `end`.
    """

    __slots__ = ("attributes", "end", "inside_it", "page", "parent", "start", "tag")

    def __init__(
        self,
        tag: str,
        attributes: dict[str, str],
        parent: "Element | None",
        page: "list[Element]",
    ) -> None:
        self.tag = tag
        self.attributes = attributes
        self.parent = parent
        self.inside_it: list[Element | str] = []
        self.page = page
        self.start = len(page)
        self.end: int | None = None
        page.append(self)

    @property
    def children(self) -> "list[Element]":
        """The tags directly inside."""
        return [part for part in self.inside_it if isinstance(part, Element)]

    @property
    def own_text(self) -> str:
        """The text directly inside, as it was written."""
        return "".join(part for part in self.inside_it if isinstance(part, str))

    def __getitem__(self, name: str) -> str:
        return self.attributes.get(name, "")

    def all(self, *tags: str) -> Iterator["Element"]:
        """Everything inside with one of the tags; everything without any."""
        for element in self.page[self.start + 1 : self.end]:
            if not tags or element.tag in tags:
                yield element

    @property
    def text(self) -> str:
        """The text in here, in one line."""
        words: list[str] = []
        self._say(words)
        return " ".join("".join(words).split())

    def _say(self, words: list[str]) -> None:
        for part in self.inside_it:
            if isinstance(part, str):
                words.append(part)
            else:
                part._say(words)

    def inside(self, tag: str) -> bool:
        """Whether one of the tags around this one is such a tag."""
        above = self.parent
        while above is not None and above.tag != tag:
            above = above.parent
        return above is not None


class Page:
    """A parsed answer; `complaints()` says what a browser, or its user, would stumble on."""

    def __init__(self, html: str) -> None:
        self.html = html
        self.elements: list[Element] = []
        self.root = Element("", {}, None, self.elements)
        self._open = self.root
        self.unclosed: list[str] = []
        read = 0
        for mark in MARK.finditer(html):
            self._take_text(html[read : mark.start()])
            read = mark.end()
            if mark[2]:
                self._take_tag(mark[2].lower(), mark)
        self._take_text(html[read:])
        if self._open is not self.root:
            self.unclosed.append(self._open.tag)

    def _take_tag(self, tag: str, mark: re.Match[str]) -> None:
        ends, _, written, ends_itself = mark.groups()
        if not ends:
            self._begin(tag, attributes_of(written))
        if ends or (ends_itself and tag not in VOID):
            self._end(tag)

    def _begin(self, tag: str, attributes: dict[str, str]) -> None:
        element = Element(tag, attributes, self._open, self.elements)
        self._open.inside_it.append(element)
        if tag in VOID:
            element.end = len(self.elements)
        else:
            self._open = element

    def _end(self, tag: str) -> None:
        if self._open.tag != tag:
            self.unclosed.append(f"{self._open.tag} before /{tag}")
        elif self._open.parent is not None:
            self._open.end = len(self.elements)
            self._open = self._open.parent

    def _take_text(self, text: str) -> None:
        if not text:
            return
        if "<" in text:
            self.unclosed.append(f"an angle bracket in {text[text.index('<') :][:60]!r}")
        self._open.inside_it.append(unescape(text))

    @property
    def text(self) -> str:
        """All text on the page."""
        return self.root.text

    @property
    def title(self) -> str:
        """The text of the title."""
        return next((title.text for title in self.root.all("title")), "")

    @property
    def heading(self) -> str:
        """The text of the first h1."""
        return next((heading.text for heading in self.root.all("h1")), "")

    def form(self, action: str) -> Element:
        """The form that is sent to that address."""
        for form in self.root.all("form"):
            if form["action"] == action:
                return form
        actions = [form["action"] for form in self.root.all("form")]
        raise AssertionError(f"no form for {action} on the page {self.title!r}, only {actions}")

    def complaints(self, identifiers: frozenset[str] = frozenset()) -> list[str]:
        """Everything that is wrong; `identifiers` are texts that name a patient."""
        is_whole = any(True for _ in self.root.all("html"))
        return [
            *(self._whole(identifiers) if is_whole else ()),
            *(f"not closed: {tag}" for tag in self.unclosed),
            *self._ids(),
            *self._labels(),
            *self._forms(),
            *self._foreign(),
        ]

    def _whole(self, identifiers: frozenset[str]) -> Iterator[str]:
        headings = [heading.text for heading in self.root.all("h1")]
        if len(headings) != 1 or not headings[0]:
            yield f"one heading of the first level is wanted, here are {headings}"
        if not self.title:
            yield "no title"
        yield from (f"the title names {word}" for word in identifiers if word in self.title)
        if not next(self.root.all("html"))["lang"]:
            yield "no language"

    def _ids(self) -> Iterator[str]:
        ids = [element["id"] for element in self.root.all() if element["id"]]
        known = Counter(ids)
        yield from (f"id {name} stands twice" for name, times in known.items() if times > 1)
        for element in self.root.all():
            for pointer in POINTERS & element.attributes.keys():
                lost = [name for name in element[pointer].split() if name not in known]
                yield from (f"{element.tag} {pointer} points at no {name}" for name in lost)

    def _labels(self) -> Iterator[str]:
        labelled = {label["for"] for label in self.root.all("label") if label.text}
        for element in self.root.all(*TYPED_IN):
            has_label = element["id"] in labelled or element.inside("label") or _named(element)
            if element["type"] not in NEEDS_NO_LABEL and not has_label:
                yield f"{element.tag} {element['name']} has no label"
        for element in self.root.all("a", "button"):
            if not element.text and not _named(element):
                yield f"{element.tag} {element['href']} says nothing"

    def _forms(self) -> Iterator[str]:
        for form in self.root.all("form"):
            action, method = form["action"], form["method"]
            if not _is_local(action):
                yield f"the form action {action!r} is not a path of this site"
            if method not in ("get", "post"):
                yield f"the form {action} has no method"
            tokens = [field["value"] for field in form.all("input") if field["name"] == "csrf"]
            if method == "post" and (len(tokens) != 1 or not tokens[0]):
                yield f"the form {action} has no token"

    def _foreign(self) -> Iterator[str]:
        for element in self.root.all():
            if element.tag == "style" or "style" in element.attributes:
                yield f"style inside {element.tag}"
            # Data is not run by any browser; whatever is run comes as a file.
            data = element["type"] == "application/json"
            if element.tag == "script" and not element["src"] and not data:
                yield "a script inside the page"
            yield from (
                f"{name} inside {element.tag}" for name in element.attributes if name[:2] == "on"
            )
            for name in ("src", "href"):
                if name in element.attributes and not _is_own(element[name]):
                    yield f"{element.tag} {name} leads to {element[name]!r}"


def _named(element: Element) -> bool:
    return bool(element["aria-label"] or element["aria-labelledby"])


def _is_local(address: str) -> bool:
    return address.startswith("/") and not address.startswith("//") and "\\" not in address


def _is_own(address: str) -> bool:
    parts = urlsplit(address)
    return not parts.scheme and not parts.netloc

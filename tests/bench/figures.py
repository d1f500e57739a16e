"""One measured thing beside its floor, and the table of them all."""

from collections.abc import Iterable
from statistics import median

from msgspec import Struct


class Figure(Struct, frozen=True):
    """Two medians and the ratio that is wanted between them.

    `at_most` bounds measured / floor; `at_least` bounds floor / measured, which for two times is
    the measured rate as a part of the floor's. With neither the figure is only shown.
    """

    what: str
    floor_s: float
    measured_s: float
    at_most: float | None = None
    at_least: float | None = None

    @property
    def ratio(self) -> float:
        """The figure as it is wanted: of times, or of rates where a least rate is asked."""
        times = self.measured_s / self.floor_s
        return 1 / times if self.at_least is not None else times

    @property
    def wanted(self) -> str:
        """The bound in words."""
        if self.at_most is not None:
            return f"≤ {self.at_most:g}"
        return f"≥ {self.at_least:g}" if self.at_least is not None else "shown"

    @property
    def verdict(self) -> str:
        """Whether the bound holds."""
        if self.at_most is not None:
            return "ok" if self.ratio <= self.at_most else "over"
        if self.at_least is not None:
            return "ok" if self.ratio >= self.at_least else "under"
        return ""


HEAD = ("what", "floor", "measured", "ratio", "wanted", "")


def table(figures: Iterable[Figure]) -> str:
    """The figures as a Markdown table, each column as wide as its widest entry."""
    rows = [HEAD, *(_row(figure) for figure in figures)]
    widths = [max(len(row[place]) for row in rows) for place in range(len(HEAD))]
    lines = [_line(row, widths) for row in rows]
    return "\n".join([lines[0], _line(tuple("-" * width for width in widths), widths), *lines[1:]])


def milliseconds(seconds: float) -> str:
    """Three digits that say something."""
    return f"{seconds * 1000:.3g} ms" if seconds < 10 else f"{seconds:.3g} s"


def median_of(times: Iterable[float]) -> float:
    """The median; a mean would follow whatever else the machine did meanwhile."""
    return median(times)


def _row(figure: Figure) -> tuple[str, ...]:
    ratio = f"{figure.ratio:.3g}"
    times = (milliseconds(figure.floor_s), milliseconds(figure.measured_s))
    return (figure.what, *times, ratio, figure.wanted, figure.verdict)


def _line(cells: tuple[str, ...], widths: list[int]) -> str:
    padded = (cell.ljust(width) for cell, width in zip(cells, widths, strict=True))
    return f"| {' | '.join(padded)} |"

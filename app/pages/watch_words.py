"""A rule's numbers in words: when it raises under the policy in force."""

import math

from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Bounds, Rule
from app.rules.watch.step import Change, Fall, Slide, Step


def raising_words(rule: Rule, bounds: Bounds) -> str:
    """ "2 of the last 3 values over 15, or one more than 5 past that"."""
    told, own = _of_the_test(rule, bounds), bounds.figures.get("own_noise")
    if own:
        told += f", and at least {own:g} times the scatter of this patient's own values"
    return f"{told}; one value more where the peaks do not share it" if rule.beside else told


def _of_the_test(rule: Rule, bounds: Bounds) -> str:
    test = rule.test
    if isinstance(test, Beyond):
        return _of_a_limit(test, bounds)
    if isinstance(test, Step):
        return _of_a_step(test, bounds)
    if isinstance(test, Fall):
        return _of_a_fall(test, bounds)
    if isinstance(test, Slide):
        return _of_a_slide(test, bounds)
    return f"none for more than {bounds.figures['hours']:g} h"


def _of_a_limit(test: Beyond, bounds: Bounds) -> str:
    figures = bounds.figures
    count, of = figures.count("count"), figures.count("of")
    many = "one value" if of == 1 else f"{count} values in a row" if of == count else ""
    told = f"{many or f'{count} of the last {of} values'} {_ends(test, bounds)}"
    once = figures.get("at_once_by")
    return told if once is None else f"{told}, or one more than {once:g} past that"


def _ends(test: Beyond, bounds: Bounds) -> str:
    if bounds.limit is not None and bounds.limit.of_patient:
        return "outside the band ordered for this patient"
    ends = []
    for side in test.sides:
        end = test.end(side, bounds)
        if end is not None:
            ends.append(f"{end:g} or more" if test.inclusive else f"{side} {end:g}")
    return " or ".join(ends)


def _by(change: Change, by: float) -> str:
    """A difference in the series' own unit, or a share where falls are measured as ratios."""
    if not change.ratio:
        return f"{by:g}"
    return f"{100 * (math.exp(by) - 1 if change.rising else 1 - math.exp(-by)):.0f} %"


def _way(change: Change) -> str:
    return "above" if change.rising else "below"


def _of_a_step(test: Step, bounds: Bounds) -> str:
    figures, change = bounds.figures, test.change
    count, twice = figures.count("count"), _by(change, figures["twice"])
    each, once = figures.get("each"), figures.get("once")
    against = f"{_way(change)} the median of {figures['window_h']:g} h"
    if each is None:
        told = f"{count} values in a row at least {twice} {against}"
    else:
        told = (
            f"{count} values in a row on average at least {twice} {against}, "
            f"each at least {_by(change, each)}"
        )
    return told if once is None else f"{told}, or one at least {_by(change, once)}"


def _of_a_fall(test: Fall, bounds: Bounds) -> str:
    figures, change = bounds.figures, test.change
    return (
        f"the median of the last {figures.count('count')} values at least "
        f"{_by(change, figures['by'])} {_way(change)} that of values "
        f"{figures['from_h']:g} to {figures['window_h']:g} h old"
    )


def _of_a_slide(test: Slide, bounds: Bounds) -> str:
    figures, change = bounds.figures, test.change
    return (
        f"{figures.count('count')} values in a row at least {_by(change, figures['by'])} "
        f"{_way(change)} the best day of the last three"
    )

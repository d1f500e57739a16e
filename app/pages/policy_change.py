"""Build the pages on which a lead changes the policy: a form, a pasted file, and the preview."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct, field

from app.charting.fields import FIELDS
from app.pages.assess_page import Option
from app.pages.flag_words import GROUP_WORDS, label_of
from app.pages.frame import Frame, NavLink
from app.pages.policy import change_lines
from app.pages.policy_page import (
    AddPage,
    ChangeForm,
    ChangeLine,
    EntryBlank,
    PasteForm,
    PreviewPage,
    TriedLine,
    TriedPage,
)
from app.pages.policy_words import entry_words, place_words, table_heading
from app.rules.flagged import RULES_OF
from app.rules.policy_check import Problem
from app.rules.policy_fields import (
    EntryRule,
    Shape,
    bands_to_add,
    entries_of,
    entry_rule,
    limits_to_add,
)
from app.rules.policy_tree import Tree, differences, table_at, tables_of
from app.rules.shares import LEAST, share_of
from app.rules.tried import Tried
from app.rules.watch.overdue import RULE as OVERDUE
from app.rules.watch.rules import RULES

DAYS = (7, 14, 30)
"""How many past days a policy can be tried on."""

_SENTENCES = {rule.key: rule.sentence for rule in (*RULES, OVERDUE)}
_SHAPES: Mapping[Shape, str] = {
    Shape.NUMBER: "number",
    Shape.WHOLE: "number",
    Shape.YES_NO: "yes_no",
    Shape.WORDS: "text",
    Shape.TIMES: "text",
    Shape.CAUSE: "choice",
}
NEW_KEY, NEW_NUMBER = "new.key", "new.number"
"""What the form of a table calls an entry that the table does not have yet."""


class Sitting(Struct, frozen=True):
    """What a lead has changed so far: the tree, its text, and from which version it was made."""

    tree: Tree
    toml: str
    base: int


class Sent(Struct, frozen=True):
    """What came back with a preview: the reason, what is wrong, and the key of the form."""

    save_key: str
    reason: str = ""
    errors: tuple[str, ...] = ()
    longest_reason: int = 0


class Trial(Struct, frozen=True):
    """The proposed policy on the past: counts by course, and in which bed each course lies."""

    tried: Tried
    beds: Mapping[str, str] = field(default_factory=dict)
    days: int = 7


def change_form(
    frame: Frame,
    table: str,
    sitting: Sitting,
    typed: Mapping[str, str],
    bad: Mapping[str, str] | None = None,
) -> ChangeForm:
    """The entries of one table, with what was typed and what is wrong beside each."""
    wrong = bad or {}
    places = entries_of(sitting.tree, table)
    here = (*places, NEW_KEY, NEW_NUMBER)
    elsewhere = [(where, what) for where, what in wrong.items() if where not in here]
    return ChangeForm(
        frame=frame,
        heading="Change the policy",
        lead=table_heading(table),
        action=f"/policy/change/{table}",
        blanks=tuple(_blank(where, typed.get(where, ""), wrong.get(where, "")) for where in places),
        base=sitting.base,
        toml=sitting.toml,
        errors=tuple(f"{place_words(where)} {what}." for where, what in elsewhere),
        more=tuple(_one_more(sitting.tree, typed, wrong)) if table == "noise" else (),
    )


def _one_more(
    tree: Tree, typed: Mapping[str, str], wrong: Mapping[str, str]
) -> Iterator[EntryBlank]:
    """A field whose small steps are to be left out as well."""
    key = typed.get(NEW_KEY, "")
    yield EntryBlank(
        NEW_KEY,
        "One more",
        "choice",
        key,
        bad=_said(wrong, NEW_KEY),
        options=tuple(Option(code, FIELDS[code].label, code == key) for code in bands_to_add(tree)),
    )
    yield EntryBlank(
        NEW_NUMBER,
        "Steps up to",
        "number",
        typed.get(NEW_NUMBER, ""),
        hint="in the field's own unit",
        bad=_said(wrong, NEW_NUMBER),
    )


def _said(wrong: Mapping[str, str], name: str) -> str:
    return f"It {wrong[name]}." if name in wrong else ""


def add_page(frame: Frame, tree: Tree, key: str = "") -> AddPage:
    """Everything that has numbers and no limit."""
    options = ((code, label_of(code)) for code in limits_to_add(tree))
    by_label = sorted(options, key=lambda option: option[1].lower())
    bad = "Choose one of the list: it has no limit yet." if key else ""
    return AddPage(frame, "/policy/add", tuple(Option(*option) for option in by_label), bad)


def _blank(where: str, typed: str, bad: str) -> EntryBlank:
    rule, (label, unit) = entry_rule(where), entry_words(where)
    return EntryBlank(
        name=f"e.{where}",
        label=label,
        shape=_SHAPES[rule.shape],
        typed=typed,
        unit=unit,
        hint=_hint(where, rule),
        bad=f"It {bad}." if bad else "",
        options=_causes(typed) if rule.shape is Shape.CAUSE else (),
    )


def _causes(typed: str) -> tuple[Option, ...]:
    return tuple(Option(group, words, group == typed) for group, words in GROUP_WORDS.items())


def _hint(where: str, rule: EntryRule) -> str:
    """Between which numbers; the widest bound of all says nothing."""
    share = share_of(where)
    if share is not None:
        return f"{LEAST} to {share.most}"
    if rule.shape is Shape.TIMES:
        return "Such as 03:30, 07:30"
    if rule.shape not in (Shape.NUMBER, Shape.WHOLE):
        return ""
    between = f"{rule.low:f} to {rule.high:f}" if rule.high < EntryRule(rule.shape).high else ""
    whole = "whole number" if rule.shape is Shape.WHOLE else ""
    empty = "empty for none" if rule.may_go else ""
    return ", ".join(filter(None, (whole, between, empty)))


def paste_form(
    frame: Frame, text: str, base: int, problems: Sequence[Problem], longest: int
) -> PasteForm:
    """A whole policy as text, with every entry that cannot stand."""
    errors = tuple(ChangeLine(each.where, "", each.what) for each in problems)
    return PasteForm(frame, text, base, errors, longest)


def preview_page(
    frame: Frame, in_force: Tree, sitting: Sitting, trial: Trial | None, sent: Sent
) -> PreviewPage:
    """What would change and what it would have raised."""
    days = trial.days if trial is not None else 0
    return PreviewPage(
        frame=frame,
        heading="Look before you adopt",
        changes=change_lines(differences(in_force, sitting.tree)),
        tried=_tried(trial, sitting.tree) if trial is not None else None,
        toml=sitting.toml,
        base=sitting.base,
        save_key=sent.save_key,
        days=tuple(NavLink(f"{n} days", str(n), current=n == days) for n in DAYS),
        tables=tuple(
            NavLink(table_heading(table), f"/policy/change/{table}")
            for table in tables_of(sitting.tree)
        ),
        reason=sent.reason,
        errors=sent.errors,
        longest_reason=sent.longest_reason,
    )


def _tried(trial: Trial, tree: Tree) -> TriedPage:
    tried = trial.tried
    before: Counter[str] = sum((each.in_force for each in tried.courses), Counter())
    after: Counter[str] = sum((each.proposed for each in tried.courses), Counter())
    return TriedPage(
        words=f"Flags raised in the last {trial.days} days, by the version in force and by this "
        "one, each as if it had held all the time",
        lines=tuple(_lines(trial)),
        in_force=before.total(),
        proposed=after.total(),
        rules=tuple(_by_rule(before, after)),
        notes=tuple(_notes(trial, tree)),
    )


def _lines(trial: Trial) -> Iterator[TriedLine]:
    for each in trial.tried.courses:
        rules = _by_rule(each.in_force, each.proposed)
        yield TriedLine(
            bed=trial.beds.get(each.course_id, "no bed now"),
            href=f"/courses/{each.course_id}",
            checks=each.rows,
            in_force=each.in_force.total(),
            proposed=each.proposed.total(),
            rules=tuple(f"{line.words} {line.before} → {line.after}" for line in rules),
        )


def _by_rule(before: Counter[str], after: Counter[str]) -> Iterator[ChangeLine]:
    for rule in dict.fromkeys([*_SENTENCES, *before, *after]):
        if before[rule] != after[rule]:
            yield ChangeLine(_SENTENCES.get(rule, rule), str(before[rule]), str(after[rule]))


def _notes(trial: Trial, tree: Tree) -> Iterator[str]:
    yield (
        "It says what would have been flagged, not what anybody would have done then. What is "
        "told as information and what lay outside once are not counted."
    )
    if trial.tried.left_out:
        left = len(trial.tried.left_out)
        yield f"{left} more courses hold too many checks to be tried as well."
    plain = [key for key in table_at(tree, "limits") if key not in RULES_OF]
    if plain:
        names = ", ".join(table_heading(f"limits.{key}").removeprefix("Limit: ") for key in plain)
        yield f"Limits that no rule confirms are not tried: {names}."

"""Renders every template from invented pages, so that a browser can look at them without the app.

`python -m tests.browser.gallery FOLDER` writes the gallery there.
"""

import shutil
import sys
from collections.abc import Callable
from pathlib import Path

from app.web.templating import Pages
from tests.browser import (
    sample_assignments,
    sample_bed,
    sample_board,
    sample_check,
    sample_corrections,
    sample_event,
    sample_fill,
    sample_find,
    sample_flags,
    sample_handing,
    sample_handoff,
    sample_identity,
    sample_intake,
    sample_mine,
    sample_number,
    sample_one_event,
    sample_plain,
    sample_policy,
    sample_print,
    sample_reader,
    sample_scan,
    sample_then,
    sample_timeline,
    sample_trends,
    sample_unsigned,
)

ROOT = Path(__file__).resolve().parents[2]

SAMPLES: dict[str, tuple[str, Callable[[], object]]] = {
    "assignments": ("assignments", sample_assignments.assignments),
    "assignments-read": ("assignments", sample_assignments.read_only),
    "assignments-none": ("assignments", sample_assignments.nothing_planned),
    "board": ("board", sample_board.board),
    "board-empty": ("board", sample_board.empty_board),
    "board-worst": ("board", sample_board.worst_board),
    "bed": ("bed", sample_bed.bed),
    "bed-new": ("bed", sample_bed.new_bed),
    "check": ("assess", sample_check.check),
    "check-kept": ("assess", sample_check.kept),
    "check-half": ("assess", sample_check.half_typed),
    "check-not-saved": ("assess", sample_check.not_saved),
    "check-gas": ("assess", sample_check.gas),
    "event": ("event", sample_event.event),
    "event-refused": ("event", sample_event.event_refused),
    "one-event": ("one_event", sample_one_event.one_event),
    "one-event-struck": ("one_event", sample_one_event.struck_event),
    "fill": ("fill", sample_fill.fill),
    "fill-refused": ("fill", sample_fill.fill_refused),
    "fill-cylinder": ("fill", sample_fill.fill_cylinder),
    "fill-read": ("fill", sample_fill.fill_read),
    "fill-one-press": ("fill", sample_fill.one_press),
    "flags": ("flags", sample_flags.flags),
    "flags-none": ("flags", sample_flags.flags_none),
    "flags-refused": ("flags", sample_flags.flags_refused),
    "handoff": ("handoff", sample_handoff.handoff),
    "handoff-heavy": ("handoff", sample_handoff.heavy_handoff),
    "handoff-empty": ("handoff", sample_handoff.empty_handoff),
    "identity": ("identity", sample_identity.identity),
    "identity-bed": ("identity", sample_identity.identity_and_bed),
    "whose-bed": ("identity", sample_identity.whose_bed),
    "intake": ("intake", sample_intake.intake),
    "intake-refused": ("intake", sample_intake.intake_refused),
    "identity-mistaken": ("identity", sample_identity.identity_mistaken),
    "handoff-offered": ("handoff", sample_handing.receiving),
    "handoff-folded": ("handoff", sample_handing.giving),
    "handoff-kept": ("kept_handoff", sample_handing.kept),
    "round": ("handoff_round", sample_handing.round_of),
    "round-empty": ("handoff_round", sample_handing.no_round),
    "unsigned": ("unsigned", sample_unsigned.unsigned),
    "unsigned-none": ("unsigned", sample_unsigned.none_unsigned),
    "draft": ("draft", sample_unsigned.draft),
    "draft-own": ("draft", sample_unsigned.own_draft),
    "mine": ("mine", sample_mine.mine),
    "mine-none": ("mine", sample_mine.mine_none),
    "number": ("explained", sample_number.number),
    "number-missing": ("explained", sample_number.number_missing),
    "number-field": ("explained", sample_number.field),
    "number-weight": ("explained", sample_number.weight_missing),
    "elements": ("elements", sample_reader.elements),
    "policy": ("policy", sample_policy.policy),
    "policy-earlier": ("policy", sample_policy.policy_earlier),
    "policy-change": ("policy_change", sample_policy.policy_change),
    "policy-noise": ("policy_change", sample_policy.policy_noise),
    "policy-new-limit": ("policy_change", sample_policy.policy_new_limit),
    "policy-add": ("policy_add", sample_policy.policy_add),
    "policy-paste": ("policy_paste", sample_policy.policy_paste),
    "policy-preview": ("policy_preview", sample_policy.policy_preview),
    "help": ("help", sample_reader.help_of_a_unit),
    "guide": ("guide", sample_reader.guide),
    "indices": ("indices", sample_reader.catalogue),
    "rules": ("help_watch", sample_reader.rules),
    "calculator": ("calculator", sample_reader.calculator),
    "calculator-refused": ("calculator", sample_reader.calculator_refused),
    "calculator-cylinder": ("calculator", sample_reader.calculator_cylinder),
    "calculator-volumes": ("calculator", sample_reader.calculator_volumes),
    "stories": ("stories", sample_reader.stories),
    "row": ("row", sample_corrections.row),
    "row-struck": ("row", sample_corrections.struck_row),
    "again": ("again", sample_corrections.again),
    "height": ("height", sample_corrections.height),
    "height-first": ("height", sample_corrections.first_height),
    "meeting": ("meeting", sample_corrections.meeting),
    "then": ("then", sample_then.then),
    "then-twice": ("then", sample_then.then_twice),
    "find": ("find", sample_find.found),
    "find-nothing": ("find", sample_find.nothing),
    "scan": ("scan", sample_scan.scan),
    "scan-corridor": ("scan", sample_scan.corridor),
    "scan-none": ("scan", sample_scan.no_beds),
    "scan-full": ("scan", sample_scan.full_unit),
    "timeline": ("timeline", sample_timeline.timeline),
    "timeline-new": ("timeline", sample_timeline.new_timeline),
    "trends": ("trends", sample_trends.trends),
    "trends-none": ("trends", sample_trends.no_trends),
    "print": ("print", sample_print.printing),
    "print-first": ("print", sample_print.nothing_kept),
    "sign-in": ("sign_in", sample_plain.sign_in),
    "sign-in-first-run": ("sign_in", sample_plain.sign_in_first_run),
    "sign-in-refused": ("sign_in", sample_plain.sign_in_refused),
    "courses": ("courses", sample_plain.courses),
    "courses-none": ("courses", sample_plain.no_courses),
    "not-found": ("trouble", sample_plain.not_found),
    "not-saved": ("trouble", sample_plain.not_saved),
}
"""Each page of the gallery: its template and what builds the sample."""


def render(name: str) -> str:
    template, build = SAMPLES[name]
    return Pages().text(f"pages/{template}.html", build())


def write(folder: Path) -> None:
    """The gallery as files, with the project's own static folder beside it."""
    shutil.copytree(ROOT / "static", folder / "static", dirs_exist_ok=True)
    for name in SAMPLES:
        (folder / f"{name}.html").write_text(render(name), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]))

"""The unit's policy: read by everybody, changed by a lead after a look at what it would do."""

from fastapi import APIRouter, Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

from app.actions.adopt_policy import LONGEST_REASON, AdoptionRefused, Proposal, adopt_policy
from app.actions.permissions import Act, may
from app.pages.frame import Frame
from app.pages.policy import History, history_of, policy_page
from app.pages.policy_change import (
    DAYS,
    Sent,
    Sitting,
    add_page,
    change_form,
    paste_form,
    preview_page,
)
from app.record.errors import KeyReused, NotFound
from app.record.policies import policy_history
from app.rules.policy_check import PolicyRefused, Problem, read_strictly
from app.rules.policy_error import PolicyError
from app.rules.policy_fields import limits_to_add
from app.rules.policy_tree import Tree, completed, tables_of, to_toml, tree_of
from app.web.check_form import LONGEST_KEY, new_save_key
from app.web.dependencies import FormDep, LeadOnly, SignedIn, VersionInAddress
from app.web.errors import BadForm
from app.web.fill_form import SENT_BEFORE
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.policy_form import LONGEST_TOML, base_of, proposal_of, texts_of, typed_table
from app.web.policy_trial import trial_of
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.get("/policy")
def read(request: Request, visit: SignedIn) -> Response:
    """The version in force: every number with its source and who set it, and all versions."""
    return _whole(request, visit, history_in(visit).newest)


@router.get("/policy/versions/{version}")
def version(request: Request, visit: SignedIn, version: VersionInAddress) -> Response:
    """One version as it was."""
    return _whole(request, visit, version)


@router.get("/policy/versions/{version}/toml")
def as_toml(visit: SignedIn, version: VersionInAddress) -> Response:
    """One version in its file form."""
    history = history_in(visit)
    kept = [each.toml for each in history.versions if each.version == version]
    if not kept and version != history.newest:
        raise NotFound("policy", str(version))
    name = f"policy-{visit.unit.code}-{version}".encode("ascii", "ignore").decode()
    safe = "".join(each for each in name if each.isalnum() or each == "-")
    headers = {"Content-Disposition": f'attachment; filename="{safe}.toml"'}
    text = kept[0] if kept else to_toml(history.tree(version))
    return PlainTextResponse(text, media_type="application/toml", headers=headers)


@router.get("/policy/add")
def add(request: Request, visit: LeadOnly, key: str = "") -> Response:
    """What could be limited and is not, or the way to the form of the one that was chosen."""
    history = history_in(visit)
    tree = history.tree(history.newest)
    if key in limits_to_add(tree):
        return RedirectResponse(f"/policy/change/limits.{key}", status_code=303)
    page = add_page(_frame(request, visit), tree, key)
    return show(request, "pages/policy_add.html", page, 422 if key else 200)


@router.get("/policy/change/{table}")
def open_table(request: Request, visit: LeadOnly, table: str) -> Response:
    """The entries of one table, to be set anew."""
    history = history_in(visit)
    sitting = Sitting(completed(history.tree(history.newest)), "", history.newest)
    return _form(request, visit, table, sitting)


@router.post("/policy/change/{table}")
def change(request: Request, visit: LeadOnly, form: FormDep, table: str) -> Response:
    """Read the table and show what would change, or the form again with what is wrong."""
    history = history_in(visit)
    tree, text = _proposed(form, history)
    sitting = Sitting(tree, text, base_of(form))
    if form.one("open", 10):
        return _form(request, visit, table, sitting)
    _known(table, sitting)
    typed = typed_table(form, tree, table)
    if typed.bad:
        page = change_form(_frame(request, visit), table, sitting, typed.typed, typed.bad)
        return show(request, "pages/policy_change.html", page, 422)
    return _preview(request, visit, history, to_toml(typed.tree), base_of(form), form)


@router.get("/policy/paste")
def paste(request: Request, visit: LeadOnly) -> Response:
    """The whole policy as text, to be changed or replaced."""
    history = history_in(visit)
    text = to_toml(history.tree(history.newest))
    page = paste_form(_frame(request, visit), text, history.newest, (), LONGEST_TOML)
    return show(request, "pages/policy_paste.html", page)


@router.post("/policy/preview")
def preview(request: Request, visit: LeadOnly, form: FormDep) -> Response:
    """What a pasted policy would change and raise, or what is wrong with it."""
    text, base = form.one("toml", LONGEST_TOML), base_of(form)
    return _preview(request, visit, history_in(visit), text, base, form)


@router.post("/policy/upload")
def upload(request: Request, visit: LeadOnly, form: FormDep) -> Response:
    """The same for a policy in a file."""
    return preview(request, visit, form)


@router.post("/policy/adopt")
def adopt(request: Request, visit: LeadOnly, form: FormDep) -> Response:
    """Put the proposed policy in force from now on."""
    text, reason = form.one("toml", LONGEST_TOML), form.one("reason", 2000)
    proposal = Proposal(text, base_of(form), reason)
    key, error = form.one("save_key", LONGEST_KEY), ""
    try:
        with visit.writing() as writing:
            adopt_policy(writing, visit.unit.id, proposal, save_key=key)
    except AdoptionRefused as refused:
        error = str(refused)
    except KeyReused:
        error = SENT_BEFORE
    except PolicyRefused as refused:
        return _pasted(request, visit, text, proposal.base, refused.problems)
    else:
        return RedirectResponse("/policy", status_code=303)
    history = history_in(visit)
    return _preview(request, visit, history, text, history.newest, form, error)


def history_in(visit: Visit) -> History:
    """Every version of the unit's policy."""
    with visit.reading() as session:
        return history_of(policy_history(session, visit.unit.id))


def _whole(request: Request, visit: Visit, number: int) -> Response:
    history = history_in(visit)
    if number != history.newest and number not in {each.version for each in history.versions}:
        raise NotFound("policy", str(number))
    may_change = may(visit.person.role, Act.SET_POLICY)
    frame = _frame(request, visit)
    page = policy_page(frame, history, number, visit.clock, may_change=may_change)
    return show(request, "pages/policy.html", page)


def _frame(request: Request, visit: Visit) -> Frame:
    return frame_for(request, "Policy", links_for(request, visit))


def _proposed(form: Form, history: History) -> tuple[Tree, str]:
    try:
        return proposal_of(form, history.tree(history.newest))
    except PolicyError:
        raise BadForm("it holds a policy that no page sent") from None


def _known(table: str, sitting: Sitting) -> None:
    """Raises NotFound for what is neither a table of the policy nor a limit that could be set."""
    added = table.startswith("limits.") and table[len("limits.") :] in limits_to_add(sitting.tree)
    if table not in tables_of(sitting.tree) and not added:
        raise NotFound("table", table)


def _form(request: Request, visit: Visit, table: str, sitting: Sitting) -> Response:
    _known(table, sitting)
    page = change_form(_frame(request, visit), table, sitting, texts_of(sitting.tree, table))
    return show(request, "pages/policy_change.html", page)


def _preview(
    request: Request,
    visit: Visit,
    history: History,
    text: str,
    base: int,
    form: Form,
    error: str = "",
) -> Response:
    try:
        proposed = read_strictly(text)
    except PolicyRefused as refused:
        return _pasted(request, visit, text, base, refused.problems)
    days = form.one("days", 3)
    trial = trial_of(visit, proposed, int(days) if days in map(str, DAYS) else DAYS[-1])
    sent = Sent(
        new_save_key(), form.one("reason", 2000), tuple(filter(None, [error])), LONGEST_REASON
    )
    sitting = Sitting(tree_of(text), text, base)
    in_force = history.tree(history.newest)
    page = preview_page(_frame(request, visit), in_force, sitting, trial, sent)
    return show(request, "pages/policy_preview.html", page, 422 if error else 200)


def _pasted(
    request: Request, visit: Visit, text: str, base: int, problems: tuple[Problem, ...]
) -> Response:
    page = paste_form(_frame(request, visit), text, base, problems, LONGEST_TOML)
    return show(request, "pages/policy_paste.html", page, 422)

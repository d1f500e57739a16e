"""Templates write values out and decide nothing: checked on their syntax trees and their text."""

import re
from pathlib import Path
from statistics import median

import pytest
from jinja2 import nodes

from app.web.templating import template_environment
from tests.browser.gallery import ROOT, SAMPLES

TEMPLATES = ROOT / "templates"
FILES = sorted(path.relative_to(TEMPLATES).as_posix() for path in TEMPLATES.rglob("*.html"))
ARITHMETIC = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div, nodes.FloorDiv, nodes.Mod, nodes.Pow)
CLOCKS = {"now", "today", "utcnow", "time", "datetime"}


def text(name: str) -> str:
    return (TEMPLATES / name).read_text(encoding="utf-8")


def tree(name: str) -> nodes.Template:
    return template_environment().parse(text(name))


def is_count(expression: nodes.Expr) -> bool:
    """A loop's own counter or the length of a list: layout, not a judgement of a value."""
    if isinstance(expression, nodes.Filter):
        return expression.name in ("length", "count")
    in_loop = isinstance(expression, nodes.Getattr) and isinstance(expression.node, nodes.Name)
    return in_loop and expression.node.name == "loop"


def judges_a_number(comparison: nodes.Compare) -> bool:
    sides = [comparison.expr, *(operand.expr for operand in comparison.ops)]
    ordered = any(operand.op in ("lt", "lteq", "gt", "gteq") for operand in comparison.ops)
    numeric = any(
        isinstance(side, nodes.Const) and isinstance(side.value, int | float) for side in sides
    )
    return (ordered or numeric) and not any(is_count(side) for side in sides)


@pytest.mark.parametrize("name", FILES)
def test_a_template_compiles(name: str) -> None:
    template_environment().get_template(name)


@pytest.mark.parametrize("name", FILES)
def test_a_template_does_no_arithmetic(name: str) -> None:
    assert not [type(node).__name__ for node in tree(name).find_all(ARITHMETIC)]


@pytest.mark.parametrize("name", FILES)
def test_a_template_judges_no_number(name: str) -> None:
    assert not [node.lineno for node in tree(name).find_all(nodes.Compare) if judges_a_number(node)]


@pytest.mark.parametrize("name", FILES)
def test_a_template_reads_no_clock(name: str) -> None:
    called = [call.node for call in tree(name).find_all(nodes.Call)]
    assert not [node for node in called if isinstance(node, nodes.Name) and node.name in CLOCKS]


@pytest.mark.parametrize("name", FILES)
def test_a_template_carries_no_style_script_or_handler(name: str) -> None:
    source = text(name)
    assert not re.search(r"<style|\sstyle=", source)
    # A block of data is not run by any browser; whatever else stands in a page comes as a file.
    assert not re.search(r"<script(?![^>]*\ssrc=)(?! type=\"application/json\")", source)
    assert not re.search(r"\son[a-z]+=|hx-on|javascript:|\sjs:", source)
    assert "| safe" not in source
    assert "|safe" not in source


def test_templates_are_short() -> None:
    lines = [text(name).count("\n") for name in FILES]
    assert median(lines) <= 40
    assert max(lines) <= 150


def test_every_template_is_used() -> None:
    # Extended, included, imported, or drawn by a filter that is given its name.
    named = {str(const.value) for name in FILES for const in tree(name).find_all(nodes.Const)}
    sources = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "app").rglob("*.py"))
    assert not [name for name in FILES if name not in named and f'"{name}"' not in sources]


def test_every_page_has_a_sample_that_a_browser_looks_at() -> None:
    pages = {Path(name).stem for name in FILES if name.startswith("pages/")}
    assert pages == {template for template, _ in SAMPLES.values()}

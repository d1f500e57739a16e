"""A check form to be filled in by hand: the same fields in the same order as on the screen."""

from collections.abc import Iterator

from msgspec import Struct

from app.charting.facts import Kind
from app.charting.field import Field, Shape, Use
from app.charting.mode_families import MODE_FAMILIES
from app.charting.uses import fields_for, use_of
from app.pages.assess_fields import NOT_IN_THE_GROUPS
from app.pages.frame import CAUTIONS
from app.pages.group_names import GROUP_NAMES
from app.pages.sheets import Made
from app.pages.shown import When
from app.pages.site_words import PLAIN, RECORD_NUMBER, SiteWords

MOST_CHOICES = 4
"""Choices that are printed to be ringed; where there are more, a line is left to write on."""


class BlankField(Struct, frozen=True):
    """One line to be filled in: choices to ring, or room to write and the unit."""

    label: str
    unit: str
    choices: tuple[str, ...]
    required: bool


class BlankGroup(Struct, frozen=True):
    """Fields of one place of the round."""

    heading: str
    fields: tuple[BlankField, ...]


class BlankLeaf(Struct, frozen=True):
    """One form for one family of modes, or for a blood gas."""

    key: str
    family: str
    groups: tuple[BlankGroup, ...]


class BlankPage(Struct, frozen=True):
    """Blank forms, made at one moment: they hold nothing of anybody."""

    title: str
    unit_name: str
    made: When
    leaves: tuple[BlankLeaf, ...]
    styles: tuple[str, ...]
    number_name: str
    cautions: str = CAUTIONS
    back_href: str = ""


def blank_page(made: Made, families: tuple[str, ...] = (), words: SiteWords = PLAIN) -> BlankPage:
    """The forms of these families, every one unless named, and the one of a blood gas."""
    chosen = [code for code in MODE_FAMILIES if not families or code in families]
    leaves = [_leaf(code, MODE_FAMILIES[code].label, Kind.FULL, words) for code in chosen]
    gas = [] if families else [_leaf("", "Blood gas", Kind.GAS, words)]
    return BlankPage(
        title="Blank forms · Leeboard",
        unit_name=made.unit_name,
        made=made.moment,
        leaves=(*leaves, *gas),
        styles=made.styles,
        number_name=words.name(RECORD_NUMBER),
        back_href=made.back_href,
    )


def _leaf(family: str, label: str, kind: Kind, words: SiteWords) -> BlankLeaf:
    return BlankLeaf(family or kind.value, label, tuple(_groups(family, kind, words)))


def _groups(family: str, kind: Kind, words: SiteWords) -> Iterator[BlankGroup]:
    shown = [f for f in fields_for(family, kind) if f.code not in NOT_IN_THE_GROUPS]
    for group, heading in GROUP_NAMES.items():
        fields = tuple(_field(f, family, kind, words) for f in shown if f.group is group)
        if fields:
            yield BlankGroup(heading, fields)


def _field(field: Field, family: str, kind: Kind, words: SiteWords) -> BlankField:
    few = field.shape is Shape.CHOICE and len(field.choices) <= MOST_CHOICES
    return BlankField(
        label=field.label,
        unit=words.fields[field.code].unit,
        choices=tuple(choice.label for choice in field.choices) if few else (),
        required=use_of(family, field.code, kind) is Use.REQUIRED,
    )

"""Two people, one bed: what stands side by side, what is asked, and that nothing is lost."""

from collections.abc import Mapping
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.charting.check import TypedCheck, read_check
from app.charting.derive import work_out_course
from app.charting.facts import Assessment, CourseFacts, Kind
from app.charting.meeting import HOLD, SAME_ROUND, Choice, Difference, Subject, meet, settle
from app.charting.said import of_new, of_reading, same
from tests.charting.rows import AT, airway, course, later, row

BEFORE = row(at=later(hours=-4), peep_set=8, fio2_set=40, position="supine")
OPENED = later(minutes=-2)


def by(author: str, assessment: Assessment) -> Assessment:
    """The same row as written by somebody."""
    readings = {
        code: replace(reading, author=author, id=f"{author}:{reading.id}")
        for code, reading in assessment.readings.items()
    }
    return replace(assessment, id=f"{author}:{assessment.id}", author=author, readings=readings)


def form(mode: str = "ac_vc", at=AT, **typed: str) -> TypedCheck:
    return TypedCheck(Kind.FULL, at, mode, typed=typed)


def met(check: TypedCheck, *theirs: Assessment, before=BEFORE, opened=OPENED):
    now = course(before, *theirs)
    return meet(course(before), now, check, opened)


def fields(found: tuple[Difference, ...]) -> list[tuple[str, ...]]:
    return [tuple(said.field for said in (*d.mine, *d.theirs)) for d in found]


def test_a_chart_that_nobody_touched_agrees_with_any_form() -> None:
    assert met(form(peep_set="14", fio2_set="90", plateau_pressure_obs="29")) == ()


def test_equal_values_stand_side_by_side() -> None:
    assert met(form(peep_set="12", fio2_set="0.4"), by("Ash", row(peep_set=12, fio2_set=40))) == ()


def test_different_fields_do_not_touch() -> None:
    assert met(form(resp_rate_obs="24"), by("Ash", row(peep_set=12))) == ()


def test_a_blank_says_nothing() -> None:
    assert met(form(peep_set="  ", resp_rate_obs="24"), by("Ash", row(peep_set=12))) == ()


def test_the_same_field_with_another_value_is_asked_and_the_rest_is_free() -> None:
    found = met(form(peep_set="10", resp_rate_obs="24"), by("Ash", row(peep_set=12)))
    (difference,) = found
    assert difference.subject is Subject.FIELD
    assert [said.number for said in difference.mine] == [Decimal(10)]
    assert [(said.number, said.by) for said in difference.theirs] == [(Decimal(12), "Ash")]


@pytest.mark.parametrize(
    ("minutes", "asks"), [(-16, False), (-15, True), (0, True), (15, True), (16, True)]
)
def test_another_value_of_another_round_is_no_contradiction(minutes: int, asks: bool) -> None:
    theirs = by("Ash", row(at=later(minutes=minutes), peep_set=12))
    assert bool(met(form(peep_set="10"), theirs)) is asks


def test_a_late_entry_meets_what_was_seen_since_the_form_was_opened() -> None:
    late = form(at=later(hours=-2), peep_set="10")
    assert met(late, by("Ash", row(at=AT, peep_set=12)))
    assert not met(late, by("Ash", row(at=later(minutes=-10), peep_set=12)))


def test_a_value_and_not_measured_are_asked_and_two_reasons_are_not() -> None:
    check = replace(form(), reasons={"spo2": "unable", "heart_rate": "away"})
    theirs = by("Ash", row(spo2=94, not_done={"heart_rate": "unable"}))
    assert fields(met(check, theirs)) == [("spo2", "spo2")]


def test_a_correction_made_since_is_met_too() -> None:
    wrong = row(at=later(minutes=-10), spo2=49)
    reading = wrong.readings["spo2"]
    right = replace(reading, id="later", number=Decimal(94), corrected_from=reading, author="Ash")
    corrected = replace(wrong, readings={"spo2": right})
    found = meet(course(BEFORE, wrong), course(BEFORE, corrected), form(spo2="90"), OPENED)
    assert [said.by for said in found[0].theirs] == ["Ash"]


def test_a_tick_that_tells_nothing_of_what_it_saw_means_what_stood_then() -> None:
    check = replace(form(), kept=frozenset({"peep_set"}))
    (difference,) = met(check, by("Ash", row(at=later(minutes=-1), peep_set=12)))
    assert (difference.mine[0].number, difference.theirs[0].number) == (Decimal(8), Decimal(12))
    mine = settle(check, [difference], {difference.key: "mine"}).check
    assert (mine.typed, mine.kept) == ({"peep_set": "8 cmH2O"}, frozenset())


def test_a_tick_on_a_value_that_was_struck_meanwhile_is_asked() -> None:
    check = replace(form(), kept=frozenset({"peep_set"}))
    (difference,) = meet(
        course(BEFORE), course(replace(BEFORE, struck="wrong patient")), check, OPENED
    )
    assert not difference.theirs[0].has_value


PLATEAU = {"plateau_pressure_obs": "24", "hold_passive": "yes", "tidal_volume_obs": "400"}


def test_a_hold_is_asked_about_as_a_whole() -> None:
    theirs = by("Ash", row(plateau_pressure_obs=26, hold_passive="yes", peep_total=12))
    (difference,) = met(form(**PLATEAU, spo2="94"), theirs)
    assert difference.subject is Subject.HOLD
    assert {said.field for said in difference.mine} == set(PLATEAU)


def test_an_equal_hold_stands_twice() -> None:
    theirs = by("Ash", row(**PLATEAU, peep_total=12))
    assert met(form(**PLATEAU), theirs) == ()


def test_a_hold_over_a_peep_that_was_changed_meanwhile_is_asked() -> None:
    (difference,) = met(form(**PLATEAU), by("Ash", row(peep_set=12)))
    assert difference.subject is Subject.HOLD
    assert [said.field for said in difference.theirs] == ["peep_set"]


def test_a_hold_over_a_peep_that_was_only_looked_at_is_not() -> None:
    assert met(form(**PLATEAU), by("Ash", row(peep_set=8))) == ()


def test_left_to_others_a_hold_leaves_no_part_of_itself() -> None:
    check = form(**PLATEAU, spo2="94")
    found = met(check, by("Ash", row(plateau_pressure_obs=26)))
    settled = settle(check, found, {d.key: Choice.THEIRS for d in found})
    assert (dict(settled.check.typed), settled.still_open) == ({"spo2": "94"}, ())
    assert settled.check.left_to_others == set(PLATEAU)


def test_no_index_is_made_of_two_holds() -> None:
    theirs = by("Ash", row(at=later(minutes=-1), plateau_pressure_obs=26, hold_passive="yes"))
    mine = by("Birch", row(tidal_volume_obs=400, peep_set=8))
    rows = {r.id: answers for r, answers in work_out_course(course(theirs, mine))}
    used = rows[mine.id]["compliance_static"].inputs
    assert not [o for o in used.values() if getattr(o, "author", "") == "Ash"]


@pytest.mark.parametrize("typed", [{}, {"spo2": "94"}])
def test_another_mode_is_asked_whatever_else_is_typed(typed: dict[str, str]) -> None:
    theirs = by("Ash", row(family="csv_ps", pressure_support_set=10))
    found = met(form(**typed), theirs)
    assert [(d.subject, d.theirs[0].word) for d in found] == [(Subject.MODE, "csv_ps")]


def test_the_same_new_mode_is_no_contradiction() -> None:
    assert met(form(mode="csv_ps"), by("Ash", row(family="csv_ps"))) == ()


def test_their_mode_can_be_taken_over() -> None:
    check = form(spo2="94")
    found = met(check, by("Ash", row(family="csv_ps")))
    assert settle(check, found, {found[0].key: "theirs"}).check.mode_family == "csv_ps"


def test_a_gas_asks_when_the_mode_was_changed_under_it() -> None:
    gas = TypedCheck(Kind.GAS, AT, "", typed={"ph": "7.31"})
    (difference,) = met(gas, by("Ash", row(family="csv_ps")))
    assert (difference.subject, difference.choices) == (Subject.MOVED, (Choice.MINE,))
    assert settle(gas, [difference], {difference.key: "theirs"}).still_open == (difference,)
    assert settle(gas, [difference], {difference.key: "mine"}).check == gas


def test_a_turn_asks_even_a_form_that_says_nothing_of_it() -> None:
    (difference,) = met(form(spo2="94"), by("Ash", row(position="prone")))
    assert (difference.subject, difference.theirs[0].word) == (Subject.MOVED, "prone")


def test_a_first_position_is_no_turn() -> None:
    first = row(at=later(hours=-4), peep_set=8)
    assert met(form(spo2="94"), by("Ash", row(position="prone")), before=first) == ()


def test_a_turn_that_the_form_knows_of_asks_nothing() -> None:
    assert met(form(position="prone"), by("Ash", row(position="prone"))) == ()


def test_a_turn_in_an_earlier_round_is_asked_of_a_late_entry() -> None:
    turned = row(at=later(hours=-1), position="prone")
    theirs = by("Ash", row(at=later(hours=-3), position="prone"))
    late = form(at=later(hours=-2), spo2="94")
    (difference,) = meet(course(BEFORE, turned), course(BEFORE, turned, theirs), late, OPENED)
    assert difference.subject is Subject.MOVED


def test_another_tube_asks() -> None:
    before = course(BEFORE)
    exchanged = replace(airway(at=later(minutes=-1)), size_mm=Decimal("8.0"), author="Ash")
    now = replace(before, airways=(*before.airways, exchanged))
    (difference,) = meet(before, now, form(spo2="94"), OPENED)
    assert (difference.subject, difference.theirs[0].number) == (Subject.MOVED, Decimal("8.0"))


def test_an_answer_to_one_value_says_nothing_of_the_next() -> None:
    check = form(peep_set="10")
    first = by("Ash", row(peep_set=12))
    found = met(check, first)
    then = met(check, first, by("Cedar", row(at=later(minutes=1), peep_set=14)))
    assert settle(check, then, {found[0].key: "mine"}).still_open == then


def test_what_is_no_choice_decides_nothing() -> None:
    check = form(peep_set="10")
    found = met(check, by("Ash", row(peep_set=12)))
    assert settle(check, found, {found[0].key: "both"}).still_open == found


@pytest.mark.parametrize(("left", "missed"), [(set(), True), ({"peep_set"}, False)])
def test_what_others_answer_is_not_missed_on_my_row(left: set[str], missed: bool) -> None:
    check = replace(form(spo2="94", heart_rate="88"), left_to_others=frozenset(left))
    facts = course(BEFORE, by("Ash", row(peep_set=12)))
    (asked,) = read_check(check, facts, now=later(hours=1)).objections
    assert (", PEEP," in asked.sentence) is missed


VALUES = {
    "peep_set": ("8", "10", "12"),
    "fio2_set": ("40", "50"),
    "plateau_pressure_obs": ("24", "26"),
    "peep_total": ("12", "13"),
    "hold_passive": ("yes", "no"),
    "tidal_volume_obs": ("400", "420"),
    "spo2": ("92", "94"),
    "position": ("supine", "prone"),
}
SIDES = st.fixed_dictionaries({}, optional={c: st.sampled_from(v) for c, v in VALUES.items()})
MODES = st.sampled_from(("ac_vc", "csv_ps"))
MINUTES = st.integers(min_value=-60, max_value=60)


@st.composite
def meetings(draw) -> tuple[TypedCheck, CourseFacts, tuple[Difference, ...]]:
    check = form(draw(MODES), **draw(SIDES))
    written = [
        by(f"Ash {at}", row(family=draw(MODES), at=later(minutes=at), **draw(SIDES)))
        for at in sorted(draw(st.sets(MINUTES, max_size=3)))
    ]
    return check, course(BEFORE, *written), met(check, *written)


@settings(max_examples=200, deadline=None)
@given(meetings())
def test_no_other_value_of_this_round_is_passed_over_in_silence(meeting) -> None:
    check, now, found = meeting
    newest = {
        code: of_reading(reading)
        for row in now.standing
        if row.id != BEFORE.id and abs(row.observed_at - check.observed_at) <= SAME_ROUND
        for code, reading in row.readings.items()
    }
    later_than_opening = {
        code: of_reading(reading)
        for row in now.standing
        if row.observed_at >= OPENED
        for code, reading in row.readings.items()
    }
    asked = {said.field for difference in found for said in difference.mine}
    mine = read_mine(check, now)
    theirs = newest | later_than_opening
    silent = [c for c in mine if c in theirs and not same(mine[c], theirs[c]) and c not in asked]
    assert not silent


def read_mine(check: TypedCheck, now: CourseFacts) -> Mapping[str, object]:
    read = read_check(check, now, now=later(hours=1))
    return {new.field: of_new(new) for new in read.readings}


@settings(max_examples=200, deadline=None)
@given(meetings(), st.lists(st.sampled_from(("mine", "theirs", "")), min_size=8, max_size=8))
def test_every_typed_text_is_kept_or_left_out_by_a_choice(meeting, chosen) -> None:
    check, _, found = meeting
    choices = {difference.key: choice for difference, choice in zip(found, chosen, strict=False)}
    settled = settle(check, found, choices)
    given_up = {
        said.field
        for difference in found
        for said in difference.mine
        if choices.get(difference.key) == "theirs"
    }
    kept = {code: text for code, text in check.typed.items() if code not in given_up}
    assert dict(settled.check.typed) == kept


@settings(max_examples=200, deadline=None)
@given(meetings(), st.sampled_from(Choice))
def test_a_hold_is_never_torn(meeting, choice: Choice) -> None:
    check, _, found = meeting
    settled = settle(check, found, {difference.key: choice for difference in found}).check
    whole = set(HOLD) & check.typed.keys()
    assert set(HOLD) & settled.typed.keys() in (set(), whole)


@settings(max_examples=100, deadline=None)
@given(meetings())
def test_a_meeting_asks_the_same_whoever_asks_again(meeting) -> None:
    check, now, found = meeting
    assert meet(course(BEFORE), now, check, OPENED) == found
    assert len({difference.key for difference in found}) == len(found)

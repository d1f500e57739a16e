"""What an editor's policy must be: an entry that cannot stand is named, with why in words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.charting.fields import FIELDS
from app.rules.policy import STARTING_POLICY_FILE, starting_policy
from app.rules.policy_check import PolicyRefused, read_strictly
from app.rules.policy_fields import entries_of, entry_rule, source_place
from app.rules.policy_tree import (
    completed,
    differences,
    flat,
    shipped_tree,
    table_at,
    tables_of,
    to_toml,
    tree_of,
    with_table,
)

TEXT = STARTING_POLICY_FILE.read_text(encoding="utf-8")


def test_what_ships_stands() -> None:
    assert read_strictly(TEXT) == starting_policy()


def test_a_policy_written_out_reads_as_the_same() -> None:
    assert tree_of(to_toml(shipped_tree())) == shipped_tree()
    assert read_strictly(to_toml(shipped_tree())) == starting_policy()


@pytest.mark.parametrize("words", ['a "word" \\ and\nanother', "Zoë 🌲 \x7f", " # no comment"])
def test_any_text_is_written_so_that_it_reads_the_same(words: str) -> None:
    tree = {"title": words, "noise": {"odd key": 1, "source": words}}
    assert tree_of(to_toml(tree)) == tree


REFUSED = [
    ('title = "Starting policy"', 'titel = "Ours"', "titel", "no part of a policy"),
    ('title = "Starting policy"', "title = 3", "title", "must be a text"),
    ("adult_age_y = 18", "adult_age_y = 15", "patients.adult_age_y", "between 16 and 21"),
    ("adult_age_y = 18", "adult_age_y = 18.5", "patients.adult_age_y", "whole number"),
    ("adult_age_y = 18", "", "patients.adult_age_y", "is missing; what ships has 18"),
    ("ventilator_gap_days = 1", "ventilator_gap_days = 0", "course.ventilator_gap_days", "1 and"),
    ("barometric_mmhg = 760", "barometric_mmhg = 76", "site.barometric_mmhg", "between 400"),
    ("barometric_mmhg = 760", "barometric_kpa = 101", "site.barometric_kpa", "no entry"),
    ("late_after_min = 60", "late_after_min = -1", "rounds.late_after_min", "between 0"),
    ("late_after_min = 60", "late_after_min = 121", "rounds.overdue_after_min", "not come before"),
    ('"07:30"', '"7:30"', "rounds.times", "no clock time"),
    ('"07:30"', '"03:30"', "rounds.times", "same time twice"),
    ("measured = 6", "", "stale_h.measured", "is missing; what ships has 6"),
    ("measured = 6", "measured = 0", "stale_h.measured", "between 0.5"),
    ("measured = 6", "measured = nan", "stale_h.measured", "finite"),
    ("measured = 6", "mesured = 6", "stale_h.mesured", "no entry"),
    ("fio2_set = 5", "fio2_set = -5", "noise.fio2_set", "between 0"),
    ("fio2_set = 5", "fio2_sett = 5", "noise.fio2_sett", "no field"),
    ("E = 0.28", "E = 0", "cylinders.E", "between 0.001"),
    ("reserve_psi = 200", "reserve_psi = -1", "cylinders.reserve_psi", "between 0"),
    ("over = 30", "over = -30", "limits.plateau_pressure_obs.over", "between 0 and 90"),
    ("over = 30", "over = true", "limits.plateau_pressure_obs.over", "must be a number"),
    ("over = 30", "over = 30.00001", "limits.plateau_pressure_obs.over", "four decimals"),
    ("over = 30", "above = 30", "limits.plateau_pressure_obs.above", "no entry"),
    ("over = 30", "", "limits.plateau_pressure_obs.over", "`over`, `under` or both"),
    ("over = 30", "over = {}", "limits.plateau_pressure_obs.over", "a table has no place"),
    ("under = 7.20", "under = 7.55", "limits.ph.under", "smaller than"),
    ("under = 7.20", "under = 7.60", "limits.ph.under", "smaller than"),
    ('group = "drive"', 'group = "noise"', "limits.resp_rate_obs.group", "one of mechanics"),
    ("essential = false", 'essential = "no"', "limits.fio2_set.essential", "true or false"),
    ("[limits.ph]", "[limits.no_such]", "limits.no_such", "no field with numbers"),
    ("[limits.ph]", "[limits.position]", "limits.position", "no field with numbers"),
    ('band = "patient"', 'band = "unit"', "limits.spo2.band", "may have band"),
    ('band = "patient"', 'band = "patient"\nover = 95', "limits.spo2", "no ends of its own"),
    ('[limits.ph]\n', '[limits.ph]\nband = "patient"\n', "limits.ph.band", "only spo2"),
    ("[rules.rate_rise]", "[rules.rate_raise]", "rules.rate_raise", "no rule has this name"),
    ("twice = 20\n", "thrice = 20\n", "rules.fio2_step.thrice", "no entry"),
    ("twice = 20\n", "twice = 0\n", "rules.fio2_step.twice", "between 0.01"),
    ("each = 4\n", "each = 7\n", "rules.rate_rise.each", "must not be more"),
    ("once = 10\n", "once = 5\n", "rules.resistance_rise.twice", "must not be more"),
    ("from_h = 12", "from_h = 72", "rules.compliance_fall.from_h", "longer than the window"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "where", "what"), REFUSED)
def test_an_entry_that_cannot_stand_is_named_in_words(old, new, where, what) -> None:
    assert old in TEXT
    with pytest.raises(PolicyRefused) as refused:
        read_strictly(TEXT.replace(old, new, 1))
    told = {each.where: each.what for each in refused.value.problems}
    assert what in told[where]


@pytest.mark.parametrize(("count", "stands"), [(2, True), (3, True), (4, False), (0, False)])
def test_of_a_count_and_what_it_is_counted_of(count: int, stands: bool) -> None:
    rule = "[rules.driving_pressure_over]\ncount = 2"
    text = TEXT.replace(rule, rule.replace("2", str(count)), 1)
    if stands:
        assert read_strictly(text).rules["driving_pressure_over"]["count"] == count
        return
    with pytest.raises(PolicyRefused, match=r"rules\.driving_pressure_over\.count"):
        read_strictly(text)


def test_a_number_without_a_source_is_refused() -> None:
    at = TEXT.index("[noise]")
    text = TEXT[:at] + TEXT[at:].replace("source =", "# source =", 1)
    with pytest.raises(PolicyRefused, match=r"noise\.source: says where"):
        read_strictly(text)


def test_every_problem_is_told_at_once() -> None:
    text = TEXT.replace("over = 30", "over = -1", 1).replace("E = 0.28", "E = 0", 1)
    with pytest.raises(PolicyRefused) as refused:
        read_strictly(text)
    assert {each.where for each in refused.value.problems} == {
        "cylinders.E",
        "limits.plateau_pressure_obs.over",
    }


@pytest.mark.parametrize("text", ["", "title = ", "[[limits]]\nover = 1", "limits = 3", "\x00"])
def test_what_is_no_policy_is_refused_and_never_an_accident(text: str) -> None:
    with pytest.raises(PolicyRefused):
        read_strictly(text)


def test_a_rule_left_out_is_judged_as_it_ships() -> None:
    tree = {**shipped_tree(), "rules": {}}
    assert read_strictly(to_toml(tree)).rules == starting_policy().rules


def test_every_entry_of_what_ships_can_be_set_by_a_form_except_what_a_limit_is_made_of() -> None:
    tree = shipped_tree()
    offered = {where for table in tables_of(tree) for where in entries_of(tree, table)}
    made_of = {where for where in flat(tree) if where.endswith((".group", ".band"))}
    assert set(flat(tree)) - made_of - {"title", "reason"} <= offered
    assert all(entry_rule(where).low <= entry_rule(where).high for where in offered)


def test_a_number_has_its_own_source_or_its_tables() -> None:
    tree = shipped_tree()
    assert source_place(tree, "patients.adult_age_y") == "patients.adult_age_source"
    assert source_place(tree, "limits.ph.over") == "limits.ph.source"


def test_an_end_of_a_limit_stays_within_what_can_be_charted() -> None:
    assert entry_rule("limits.ph.over").high == FIELDS["ph"].hard.high


def test_an_older_policy_is_completed_with_what_ships_but_gets_no_limit_of_it() -> None:
    tree = dict(shipped_tree())
    del tree["stale_h"]
    tree = with_table(tree, "limits", {"ph": table_at(tree, "limits.ph")})
    whole = completed(tree)
    assert whole["stale_h"] == shipped_tree()["stale_h"]
    assert list(whole["limits"]) == ["ph"]


def test_two_versions_differ_in_what_was_changed_added_and_taken_away() -> None:
    tree = shipped_tree()
    cuff = {**table_at(tree, "limits.cuff_pressure_cmh2o"), "over": 32}
    del cuff["under"]
    noise = {**tree["noise"], "set_rate": 1}
    changed = with_table(with_table(tree, "limits.cuff_pressure_cmh2o", cuff), "noise", noise)
    told = [(each.where, each.before, each.after) for each in differences(tree, changed)]
    assert told == [
        ("limits.cuff_pressure_cmh2o.over", 30, 32),
        ("noise.set_rate", None, 1),
        ("limits.cuff_pressure_cmh2o.under", 20, None),
    ]


PLACES = st.sampled_from(sorted(flat(shipped_tree())))
VALUES = st.one_of(
    st.sampled_from([0, 1, -1, 10**30, True, "", "patient", "x" * 500, [], ["03:30"], [1], {}]),
    st.decimals(allow_nan=True, allow_infinity=True),
    st.dictionaries(st.sampled_from(["over", "count", "source"]), st.integers(), max_size=2),
)


@given(PLACES, VALUES)
@settings(max_examples=25)
def test_whatever_stands_in_an_entry_the_policy_stands_or_is_refused_in_words(where, value) -> None:
    table, _, name = where.rpartition(".")
    tree = shipped_tree()
    held = {**table_at(tree, table), name: value}
    text = to_toml(with_table(tree, table, held) if table else {**tree, name: value})
    told = problems_with(text)
    assert all(each.where and each.what for each in told)
    assert told or read_strictly(text)


def problems_with(text: str):
    try:
        read_strictly(text)
    except PolicyRefused as refused:
        return refused.problems
    return ()

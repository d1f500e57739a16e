"""What becomes of typed text: scenarios 7 and 8, every boundary, and any text at all."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.charting.entry import Asked, Outcome, Read, Refused, range_words, read_typed
from app.charting.facts import Reading, State
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.questions import key_of

AT = datetime(2026, 3, 9, 11, 30, tzinfo=UTC)


def reading(code: str, number: str | None) -> Reading:
    value = None if number is None else Decimal(number)
    state = State.NOT_MEASURED if value is None else State.MEASURED
    return Reading("r1", code, AT, state, "ash", AT, number=value)


def entered(code: str, typed: str, last: str | None = None, *answers: str) -> Outcome | None:
    previous = None if last is None else reading(code, last)
    return read_typed(FIELDS[code], typed, last=previous, answers=answers)


def read(code: str, typed: str) -> Read:
    outcome = entered(code, typed)
    assert isinstance(outcome, Read), outcome
    return outcome


def refused(code: str, typed: str) -> Refused:
    outcome = entered(code, typed)
    assert isinstance(outcome, Refused), outcome
    return outcome


def asked(code: str, typed: str, last: str | None = None) -> Asked:
    outcome = entered(code, typed, last)
    assert isinstance(outcome, Asked), outcome
    return outcome


# A slip of the key.


def test_peep_100_is_refused_with_its_range() -> None:
    expected = "PEEP 100 is refused. This field takes 0 to 50 cmH2O."
    assert refused("peep_set", "100").sentence == expected


def test_ph_735_asks_for_its_point_and_one_answer_takes_it() -> None:
    question = asked("ph", "735")
    assert "7.35" in question.sentence
    taken = entered("ph", "735", None, *[q.key for q in question.questions])
    assert isinstance(taken, Read)
    assert taken.number == Decimal("7.35")
    assert taken.question == question.sentence
    assert taken.raw == "735"


@pytest.mark.parametrize(
    ("typed", "percent"),
    [("0.4", "40"), ("0,4", "40"), (".4", "40"), ("0.21", "21"), ("1.0", "100"), ("0.405", "40.5")],
)
def test_a_fraction_of_oxygen_is_said_back_in_percent(typed: str, percent: str) -> None:
    outcome = read("fio2_set", typed)
    assert outcome.number == Decimal(percent)
    assert outcome.said
    assert outcome.echo == f"{percent} %"


def test_oxygen_in_percent_says_nothing_back() -> None:
    assert read("fio2_set", "40").said == ""
    assert read("fio2_set", "40%").number == Decimal(40)


def test_a_bare_one_is_asked_whether_it_means_100_percent() -> None:
    question = asked("fio2_set", "1")
    assert "100 %" in question.sentence
    assert question.number == Decimal(100)


@pytest.mark.parametrize("typed", ["0.2", "0", "20", "101", "1 %", "0.4 %"])
def test_oxygen_outside_21_to_100_percent_is_refused(typed: str) -> None:
    assert refused("fio2_set", typed).code == "hard"


@pytest.mark.parametrize("typed", ["-5", "−5", "－5"])
def test_a_rate_below_zero_is_refused(typed: str) -> None:
    assert "−5 is refused" in refused("resp_rate_set", typed).sentence


# Out by ten.


def test_4000_after_400_is_refused() -> None:
    assert isinstance(entered("tidal_volume_set", "4000", "400"), Refused)


@pytest.mark.parametrize(("typed", "share"), [("40", "−90 %"), ("45", "−89 %")])
def test_a_lost_digit_asks_with_the_last_value_and_the_share(typed: str, share: str) -> None:
    assert f"was 400, {share}?" in asked("tidal_volume_set", typed, "400").sentence


def test_an_answer_is_kept_with_the_reading_and_is_good_for_that_value_only() -> None:
    keys = [question.key for question in asked("tidal_volume_set", "40", "400").questions]
    taken = entered("tidal_volume_set", "40", "400", *keys)
    assert isinstance(taken, Read)
    assert "was 400" in taken.question
    assert isinstance(entered("tidal_volume_set", "45", "400", *keys), Asked)


def test_an_answer_about_one_field_answers_no_other_with_the_same_number() -> None:
    keys = [question.key for question in asked("tidal_volume_set", "40", "400").questions]
    assert isinstance(entered("tidal_volume_obs", "40", "400", *keys), Asked)


@pytest.mark.parametrize(
    ("code", "last", "under", "at", "over"),
    [
        ("fio2_set", "40", "59", "60", "61"),
        ("peep_set", "10", "14.5", "15", "15.5"),
        ("tidal_volume_set", "400", "499", "500", "501"),
        ("tidal_volume_obs", "400", "599", "600", "601"),
        ("resp_rate_set", "20", "29", "30", "31"),
        ("resp_rate_obs", "20", "11", "10", "9"),
    ],
)
def test_a_step_asks_only_beyond_its_bound(
    code: str, last: str, under: str, at: str, over: str
) -> None:
    assert isinstance(entered(code, under, last), Read)
    assert isinstance(entered(code, at, last), Read)
    assert isinstance(entered(code, over, last), Asked)
    assert isinstance(entered(code, over), Read)


def test_a_last_value_of_zero_or_none_asks_nothing() -> None:
    assert isinstance(entered("tidal_volume_obs", "400", "0"), Read)
    field = FIELDS["tidal_volume_obs"]
    assert isinstance(read_typed(field, "400", last=reading(field.code, None)), Read)


# Ranges.


@pytest.mark.parametrize(("typed", "kind"), [("10", Asked), ("9", Refused), ("9.99", Refused)])
def test_the_lower_end_of_the_hard_range_belongs_to_it(typed: str, kind: type) -> None:
    assert isinstance(entered("tidal_volume_set", typed), kind)


@pytest.mark.parametrize(("typed", "kind"), [("800", Read), ("801", Asked), ("2501", Refused)])
def test_the_upper_ends_belong_to_their_ranges(typed: str, kind: type) -> None:
    assert isinstance(entered("tidal_volume_set", typed), kind)


def test_two_numbers_run_together_are_out_of_range() -> None:
    assert refused("tidal_volume_obs", "585573").code == "hard"


def test_a_score_takes_whole_numbers_only() -> None:
    assert read("rass", "-2").number == Decimal(-2)
    assert refused("rass", "-2.5").code == "not_whole"
    assert refused("rass", "5").code == "hard"


def test_the_range_in_words_names_both_ways_to_write_oxygen() -> None:
    assert range_words(FIELDS["fio2_set"]) == "21 to 100 %, or 0.21 to 1.0"
    assert range_words(FIELDS["rass"]) == "−5 to 4"
    assert range_words(FIELDS["bed"]) == ""


# Units.


def test_a_unit_behind_a_space_is_converted_and_said_back() -> None:
    cuff = read("cuff_pressure_cmh2o", "25 mmHg")
    assert cuff.said == "25 mmHg is 34 cmH2O"
    assert cuff.unit_typed == "mmHg"
    assert read("pao2", "12.0 kPa").number == Decimal("90.0074")
    assert read("tidal_volume_set", "0.4 L").number == Decimal(400)
    assert read("height_cm", "70 in").number == Decimal("177.8")
    assert read("hemoglobin", "120 g/L").number == Decimal(12)


def test_the_fields_own_unit_changes_nothing() -> None:
    outcome = read("tidal_volume_set", "400 mL")
    assert (outcome.number, outcome.said) == (Decimal(400), "")


def test_a_unit_of_another_field_is_refused_with_those_it_takes() -> None:
    assert "It takes mL, L." in refused("tidal_volume_set", "400 kPa").sentence
    assert "a number alone" in refused("ph", "7.35 mmHg").sentence


def test_places_are_kept_as_they_were_typed() -> None:
    assert str(read("peep_set", "10.0").number) == "10.0"
    assert str(read("plateau_pressure_obs", "26").number) == "26"


@pytest.mark.parametrize(("code", "under", "at"), [("paco2", "11.9", "12"), ("pao2", "19.9", "20")])
def test_a_gas_too_low_for_mmhg_offers_kpa(code: str, under: str, at: str) -> None:
    assert "kPa" in asked(code, under).sentence
    assert [q.kind for q in asked(code, under).questions] == ["unit"]
    assert [q.kind for q in asked(code, at).questions] == ["soft"]


@pytest.mark.parametrize(
    ("code", "at", "over"), [("paco2", "15 kPa", "15.1 kPa"), ("pao2", "85 kPa", "85.1 kPa")]
)
def test_a_gas_too_high_for_kpa_asks(code: str, at: str, over: str) -> None:
    assert [q.kind for q in asked(code, over).questions] == ["unit"]
    assert [q.kind for q in asked(code, at).questions] == ["soft"]


def test_a_number_that_only_fits_another_unit_is_refused_with_that_unit() -> None:
    assert "write “4.7 kPa”" in refused("paco2", "4.7").sentence
    assert "write “120 g/L”" in refused("hemoglobin", "120").sentence
    assert "write “61 in”" in asked("height_cm", "61").sentence


# How digits are written.


@pytest.mark.parametrize(
    "typed", ["٤٠٠", "４００", "४००", " 400 ", "\u200f٤٠٠\u200f", "+400", "400."]
)
def test_digits_of_any_script_are_read(typed: str) -> None:
    assert read("tidal_volume_set", typed).number == Decimal(400)


@pytest.mark.parametrize("typed", ["7.35", "7,35", "٧٫٣٥", "７．３５"])
def test_a_comma_is_a_decimal_point(typed: str) -> None:
    assert read("ph", typed).number == Decimal("7.35")


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("4 00", "space"),
        ("400mL", "unit_glued"),
        ("12-14", "two_numbers"),
        ("12 – 14", "two_numbers"),
        ("350/420", "two_numbers"),
        (">400", "comparison"),
        ("~400", "comparison"),
        ("4oo", "letters"),
        ("4O0", "letters"),
        ("1e3", "exponent"),
        ("NaN", "not_a_number"),
        ("inf", "not_a_number"),
        ("--", "not_a_number"),
        ("four", "not_a_number"),
        ("4²0", "not_a_number"),
        ("\u00ad", "not_a_number"),
        ("1.2.3", "two_points"),
        ("1,200", "thousands"),
        ("1.200", "thousands"),
        ("400.1234567", "decimals"),
        ("4" * 41, "too_long"),
        ("400 bananas", "unit"),
    ],
)
def test_text_that_is_not_one_number_is_refused_with_what_is_wrong(typed: str, code: str) -> None:
    outcome = refused("tidal_volume_set", typed)
    assert outcome.code == code
    assert outcome.sentence.startswith("VT set")
    assert outcome.raw == typed


def test_three_decimals_are_read_where_thousands_are_impossible() -> None:
    assert read("ph", "7,350").number == Decimal("7.350")


@pytest.mark.parametrize("typed", ["", "   ", "\t\n", "\u00a0"])
def test_a_blank_is_no_reading(typed: str) -> None:
    assert entered("tidal_volume_set", typed) is None


# Words.


@pytest.mark.parametrize("typed", ["ett_oral", "Oral tube", "oral  TUBE", "ETT ORAL"])
def test_a_choice_is_read_by_code_or_label(typed: str) -> None:
    assert read("airway_category", typed).word == "ett_oral"


def test_a_choice_that_is_not_offered_is_refused_with_the_list() -> None:
    assert "It takes: Up, Down, No cuff." in refused("cuff_state", "sideways").sentence


@pytest.mark.parametrize(("typed", "word"), [("y", "yes"), ("N", "no"), ("Yes", "yes")])
def test_yes_and_no_have_a_key_each(typed: str, word: str) -> None:
    assert read("hold_passive", typed).word == word
    assert refused("cuff_state", typed).code == "choice"


def test_a_text_is_one_line_of_limited_length() -> None:
    assert read("securement", "tape,\n left ").word == "tape, left"
    assert read("securement", "x" * 140).word == "x" * 140
    assert refused("securement", "x" * 141).code == "too_long"
    assert refused("securement", "a\x00b").code == "control"


def test_a_day_is_written_year_month_day() -> None:
    assert read("circuit_changed_on", "2026-03-09").word == "2026-03-09"
    for typed in ("2026-02-30", "9.3.2026", "20260309", "1899-12-31", "soon"):
        assert refused("circuit_changed_on", typed).code == "day"


def test_a_moment_is_kept_to_the_minute_with_its_offset() -> None:
    assert read("pre_use_check_passed_at", "2026-03-09 07:30").word == "2026-03-09T07:30"
    offset = read("pre_use_check_passed_at", "2026-03-09T07:30:59-04:00")
    assert offset.word == "2026-03-09T07:30-04:00"
    for typed in ("2026-03-09", "2026-03-09 25:00", "07:30"):
        assert refused("pre_use_check_passed_at", typed).code == "moment"


# Any text into any field.

NUMBER_SIGNS = st.text(alphabet="0123456789.,-+ eE%<>~٤４−mLkPaHgo/", max_size=14)
ANY_FIELD = st.sampled_from(sorted(FIELDS))


@given(code=ANY_FIELD, typed=st.one_of(st.text(max_size=60), NUMBER_SIGNS))
def test_no_text_raises_and_the_typed_text_is_kept(code: str, typed: str) -> None:
    outcome = entered(code, typed)
    assert outcome is None or outcome.raw == typed


def accepted(code: str, typed: str) -> Read | None:
    """What the text becomes once every question is answered with yes."""
    outcome = entered(code, typed, "50")
    if isinstance(outcome, Asked):
        outcome = entered(code, typed, "50", *[question.key for question in outcome.questions])
    return outcome if isinstance(outcome, Read) else None


NUMBERS = sorted(code for code, field in FIELDS.items() if field.shape is Shape.NUMBER)
PLAUSIBLE = st.decimals(-160, 7000, places=3).map(str) | st.integers(-160, 7000).map(str)
UNITS = st.sampled_from(["", " mL", " L", " kPa", " mmHg", " cmH2O", " %", " in", " lb", " °F"])


@given(code=st.sampled_from(NUMBERS), number=PLAUSIBLE | NUMBER_SIGNS, unit=UNITS)
def test_an_echo_reads_back_to_the_same_value(code: str, number: str, unit: str) -> None:
    taken = accepted(code, number + unit)
    if taken is not None:
        keys = [key_of(kind, FIELDS[code], taken.number) for kind in ("soft", "jump")]
        again = entered(code, taken.echo, "50", *keys)
        assert isinstance(again, Read)
        assert again.number == taken.number
        assert again.echo == taken.echo


WORDS = sorted(set(FIELDS) - set(NUMBERS))


OFFERED = sorted({word for f in FIELDS.values() for c in f.choices for word in (c.code, c.label)})


@given(code=st.sampled_from(WORDS), typed=st.text(max_size=40) | st.sampled_from(OFFERED))
def test_a_word_reads_back_to_itself(code: str, typed: str) -> None:
    taken = accepted(code, typed)
    if taken is not None:
        again = [accepted(code, text) for text in (taken.word, taken.echo)]
        assert [read and (read.word, read.echo) for read in again] == [(taken.word, taken.echo)] * 2


@given(code=st.sampled_from(NUMBERS), number=st.integers(-200, 8000))
def test_nothing_outside_the_hard_range_is_ever_kept(code: str, number: int) -> None:
    taken = accepted(code, str(number))
    hard = FIELDS[code].hard
    if taken is not None and taken.number is not None and hard is not None:
        assert hard.holds(taken.number)

"""How an index reads its inputs and declines."""

from decimal import Decimal

import pytest

from app.physiology.answer import NotAvailable, Query, Value
from app.physiology.working import Inputs, Refused, Worked, works_out


def refused(read):
    with pytest.raises(Refused) as caught:
        read()
    return caught.value.answer


def test_a_number_that_is_there_is_used():
    take = Inputs({"rr": Decimal(20)})
    assert take.number("rr") == 20
    assert take.used == {"rr": 20}


@pytest.mark.parametrize("raw", [None, "", "  "])
def test_an_empty_number_is_missing_by_name(raw):
    answer = refused(lambda: Inputs({"rr": raw}).number("rr"))
    assert answer == NotAvailable("Total rate is not known", ("rr",))


def test_text_in_a_numbers_place_is_the_reason():
    answer = refused(lambda: Inputs({"pplat": "refused"}).number("pplat"))
    assert answer.reason == "Plateau pressure: refused"


@pytest.mark.parametrize("raw", [True, False, Decimal("NaN"), Decimal("Infinity"), Decimal(-5)])
def test_what_cannot_be_a_rate_is_asked_about(raw):
    assert isinstance(refused(lambda: Inputs({"rr": raw}).number("rr")), Query)


def test_a_standard_number_stands_in_only_where_nothing_was_said():
    assert Inputs({}).number_or("pb", "760") == 760
    assert Inputs({"pb": Decimal(630)}).number_or("pb", "760") == 630
    assert refused(lambda: Inputs({"pb": None}).number_or("pb", "760")).missing == ("pb",)


def test_of_several_names_the_first_with_a_number_is_used():
    take = Inputs({"vte": None, "vt": Decimal(400), "vt_set": Decimal(420)})
    assert take.first_of("vte", "vt", "vt_set") == ("vt", 400)
    assert take.any_of("vte") is None


@pytest.mark.parametrize(
    ("raw", "answer"),
    [(True, True), ("yes", True), (False, False), ("no", False), (None, None), ("perhaps", None)],
)
def test_yes_and_no_are_read_in_words_and_anything_else_is_no_answer(raw, answer):
    assert Inputs({"passive": raw}).yes_no("passive") is answer


def test_an_index_carries_its_unit_its_places_and_its_docstring():
    @works_out("L/min", 1)
    def halved(take):
        """Half of it."""
        return take.number("ve") / 2

    assert (halved.unit, halved.places, halved.__doc__) == ("L/min", 1, "Half of it.")
    told = halved({"ve": Decimal("8.1")})
    assert told == Value(Decimal("4.05"), "L/min", "4.1", {"ve": Decimal("8.1")})


def test_a_check_ends_the_working_before_the_arithmetic():
    def never(take):
        take.number("rr")

    @works_out("", 0, never)
    def unreached(take):
        return Worked(Decimal(1))

    assert unreached({}) == NotAvailable("Total rate is not known", ("rr",))

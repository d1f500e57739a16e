"""A draft read again for whoever signs: what stays answered, what is open, what was seen."""

from datetime import timedelta

from msgspec.structs import replace

from app.charting.drafted import drafts_of, fingerprint, read_draft
from app.charting.facts import Assessment
from tests.charting.rows import AT, course, later, row

NOW = later(minutes=5)


def drafted(**values: object) -> Assessment:
    return replace(row(at=AT, **{"spo2": "94", "fio2_set": "40", **values}), id="d", signed=False)


def told(draft: Assessment, code: str, question: str) -> Assessment:
    """The same with a question that its author answered beside one value."""
    held = replace(draft.readings[code], question=question)
    return replace(draft, readings={**draft.readings, code: held})


def test_only_what_is_neither_signed_nor_struck_is_a_draft() -> None:
    draft = drafted()
    signed = replace(draft, id="s", signed=True)
    struck = replace(draft, id="x", struck="wrong bed")
    assert drafts_of(course(draft, signed, struck)) == (draft,)


def test_a_jump_from_what_others_charted_is_open_until_the_signer_answers() -> None:
    draft = drafted(tidal_volume_set="420")
    facts = course(row(at=later(hours=-2), tidal_volume_set="250"), draft)
    (asked,) = [o for o in read_draft(facts, draft, now=NOW).still_open if o.field]
    assert "was 250" in asked.sentence
    again = read_draft(facts, draft, frozenset({asked.key}), now=NOW)
    assert asked not in again.still_open
    assert asked in again.answered


def test_what_the_author_answered_in_the_same_words_stays_answered() -> None:
    draft = drafted(tidal_volume_set="420")
    facts = course(row(at=later(hours=-2), tidal_volume_set="250"), draft)
    (asked,) = [o for o in read_draft(facts, draft, now=NOW).still_open if o.field]
    answered = told(draft, "tidal_volume_set", asked.sentence)
    read = read_draft(course(*facts.assessments[:1], answered), answered, now=NOW)
    assert not [o for o in read.still_open if o.field]
    assert asked in read.answered


def test_an_answer_to_another_question_answers_nothing() -> None:
    draft = told(drafted(tidal_volume_set="420"), "tidal_volume_set", "VT set 420 mL: was 300?")
    facts = course(row(at=later(hours=-2), tidal_volume_set="250"), draft)
    assert [o.field for o in read_draft(facts, draft, now=NOW).still_open if o.field] == [
        "tidal_volume_set"
    ]


def test_a_refusal_cannot_be_signed_away() -> None:
    draft = drafted()
    read = read_draft(course(draft), draft, now=AT - timedelta(minutes=30))
    assert not read.can_be_signed
    assert read_draft(course(draft), draft, now=NOW).can_be_signed


def test_what_was_seen_changes_with_every_version_of_a_value() -> None:
    draft = drafted()
    newer = replace(draft.readings["spo2"], id="another version")
    corrected = replace(draft, readings={**draft.readings, "spo2": newer})
    assert fingerprint(draft) != fingerprint(corrected)
    assert fingerprint(draft) == fingerprint(replace(draft))


def test_what_was_seen_changes_with_its_moment() -> None:
    draft = drafted()
    assert fingerprint(draft) != fingerprint(replace(draft, observed_at=later(minutes=1)))

"""The end of a patient's record number: what somebody types to say whose chart this is.

Typing something of the patient again before an order cut wrong-patient orders by 41 %, a mere press
by 16 % (Adelman, J Am Med Inform Assoc 2013;20:305). That study asked for initials, sex and age;
two characters of the record number are engineering judgement, to keep it under four keys.
"""

from unicodedata import normalize


def ends_in(record_number: str, typed: str, digits: int) -> bool:
    """Whether `typed` is the end of the record number, of at least `digits` characters.

    Signs and blanks between the characters do not count, nor do capitals; more characters than
    asked for are held to all the same. A record number shorter than that is asked for whole. With
    nothing to compare (no record number, or `digits` 0) it is True: `to_be_asked` says so before.
    """
    if not to_be_asked(record_number, digits):
        return True
    number, given = _characters(record_number), _characters(typed)
    return len(given) >= min(digits, len(number)) and number.endswith(given)


def to_be_asked(record_number: str, digits: int) -> bool:
    """Whether there is anything to ask for: a record number is known and the site wants it."""
    return digits > 0 and bool(_characters(record_number))


def _characters(text: str) -> str:
    """Letters and digits alone, the wide forms of a foreign keyboard as plain ones."""
    return "".join(sign for sign in normalize("NFKC", text).casefold() if sign.isalnum())

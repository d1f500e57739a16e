"""An act that cannot be: what its form says above everything that was typed."""


class ActRefused(ValueError):  # noqa: N818 - it names a state that a form has words for
    """Nothing was saved; the sentence says why, `course_id` leads to who stands in the way."""

    def __init__(self, sentence: str, course_id: str = "") -> None:
        super().__init__(sentence)
        self.course_id = course_id

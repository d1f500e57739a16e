"""What the unit's policy says about a course's facts at a moment.

Pure: facts, policy and `now` come in, statements go out. "Not evaluable" is an answer,
never silence.
"""

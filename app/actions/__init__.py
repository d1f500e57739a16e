"""One file per thing a person does, named with the verb. The list of files is what the app lets do.

An action takes an open write, checked input and nothing else; the write commits when its caller's
`with` ends, and an exception anywhere rolls all of it back.
"""

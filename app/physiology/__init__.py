"""What the numbers mean: arithmetic on one patient's readings.

Pure: the standard library and pint only. Nothing here knows of a form, a table or a clock.
"""

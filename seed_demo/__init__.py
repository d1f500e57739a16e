"""The demo: an invented unit of twelve beds, three days of it, made by a small lung simulator.

Nothing here is about anybody. The simulator knows no clock and no chance of its own: the same seed
and the same `now` give the same unit. It stands beside `main.py`, above every room of `app`.
"""

"""Files in and out: tables of other systems, exports, and what a page can be printed from.

Stands beside `web` and goes through the same actions, so that a file cannot say more than a person.
"""

"""What each page shows: one frozen value per template, no request and no HTML.

A template writes these out and decides nothing: no comparison, no arithmetic, no clock.
"""

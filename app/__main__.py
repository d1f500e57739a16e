"""`python -m app` is the same as `leeboard`."""

from app.cli import main

main()

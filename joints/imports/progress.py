"""How long work tells how far it is."""

from collections.abc import Callable

Progress = Callable[[int, int, str], None]
"""Told (rows done, rows in all, what is being done); it may raise to stop, and then nothing is written."""


def silent(done: int, total: int, what: str) -> None:
    """Nobody listens."""

"""What is said of a game that was asked for by its numbers."""

from __future__ import annotations


def by_its_numbers(typed: str, name: str, title: str) -> str:
    """Which shipped game it is."""
    return f"{typed} is {name}: {title}."

"""The kinds of paper that the apps print, found by the status page behind a check code.

An app registers its kinds when it is ready, so that this package imports none of them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

Content = Callable[[str, date], Mapping[str, Any] | None]
KINDS: dict[str, "Kind"] = {}


@dataclass(frozen=True, slots=True)
class Kind:
    """`content`: what such a paper would state of a subject (its id) as of a day; None where that is gone."""

    token: str
    words: str
    content: Content


def register(kind: Kind) -> Kind:
    """Make a kind known."""
    KINDS[kind.token] = kind
    return kind

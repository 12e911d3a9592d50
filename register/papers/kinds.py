"""The kinds of paper that the apps print, found by the status page behind a check code.

An app registers its kinds when it is ready, so that this package imports none of them.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

Stated = Mapping[str, Any]
"""JSON values."""
Asked = Callable[[str, date], Stated | None]
"""From a subject (its id) and a day; None where the subject is gone."""
KINDS: dict[str, "Kind"] = {}


@dataclass(frozen=True, slots=True)
class Kind:
    """What a paper of this kind states of a subject as of a day, twice.

    `content`: as it is printed, labels and sentences included; it goes into the check code.
    `facts`: what that says, whatever the words, the language and the rounding for show: tokens, figures as kept, the
    ends of ranges, clauses, days, names and numbers, digests of scans (codes.facts). Whether a printed paper is still
    current is asked of them, so nothing that the paper states may be absent from them in substance.
    """

    token: str
    words: str
    content: Asked
    facts: Asked


def register(kind: Kind) -> Kind:
    """Make a kind known."""
    KINDS[kind.token] = kind
    return kind

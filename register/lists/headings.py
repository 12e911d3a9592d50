"""Headings of lists as they compare: without units, case and punctuation."""

import re

UNIT = re.compile(r"[\[(]([^\])]*)[\])]|\b(mm|deg)\b|°")


def plain(heading: str) -> str:
    """A heading without units, case and punctuation. Example: "Thickness_1 [mm]" is "thickness 1"."""
    bare = UNIT.sub(" ", heading.replace("_", " ").casefold())
    words = re.sub(r"[^a-z0-9]+", " ", bare).split()
    # "t1" and "t 1", "grade1" and "grade 1" are the same.
    return re.sub(r"(?<=[a-z])(?=\d)", " ", " ".join(words))

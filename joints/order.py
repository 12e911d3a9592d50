"""The order in which people read marks and numbers: 2 before 10, B2 before B10."""

import re

DIGITS = re.compile(r"\d+")


def natural_key(text: str) -> str:
    """A key that sorts as text the way people count. Example: natural_key("B2") < natural_key("B10")."""
    return DIGITS.sub(lambda run: run.group().lstrip("0").zfill(8), text.casefold())[:120]

"""Signs of print where the rules write those of a keyboard. It imports nothing: every process that renders reads it."""

import re

BELOW_ZERO = re.compile(
    r"(?<![\w.,)\]-])-(?=\d+(?:\.\d+)? (?:to (?:below )?\d+ )?(?:°[CF]|K\b)|\d+(?:\.\d+)?°)"
    r"|(?<=\()-(?=\d[\d.]*\))"
    r"|(?:(?<=; )|^)-(?=\d[\d.]*(?:;|$))"
    r"|(?P<plus>\+\d[\d.]*(?: ?[%°])? (?:or |/ )?)-(?=\d)"
)
"""The hyphen of a temperature, an angle, a figure alone in brackets, a part of a direction and a deviation with its
plus; "180-200 °C" is a range."""


def below_zero(said: str) -> str:
    """A figure below zero with the sign of print. Example: "from -20 °C" is "from −20 °C"."""
    return type(said)(BELOW_ZERO.sub(r"\g<plus>−", said)) if "-" in said else said  # what is safe to show stays so

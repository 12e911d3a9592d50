"""Signs of print where the rules write those of a keyboard. It imports nothing: every process that renders reads it."""

import re

BELOW_ZERO = re.compile(
    r"(?<![\w.,)\]-])-(?=\d+(?:\.\d+)? (?:to (?:below )?\d+ )?(?:°[CF]|K\b|%)|\d+(?:\.\d+)?°)"
    r"|(?<=\()-(?=\d[\d.]*\))"
    r"|(?:(?<=; )|^)-(?=\d[\d.]*(?:;|$))"
    r"|(?P<plus>\+\d[\d.]*(?: ?[%°])? (?:or |/ )?)-(?=\d)"
)
"""The hyphen of a temperature, an angle, a figure alone in brackets, a part of a direction and a deviation with its
plus or in per cent; "180-200 °C" and "15-25 %" are ranges."""
TIMES = re.compile(r"(?<=\d )x(?= (?:\d|the\b))")


def below_zero(said: str) -> str:
    """A figure below zero with the sign of print. Example: "from -20 °C" is "from −20 °C"."""
    return type(said)(BELOW_ZERO.sub(r"\g<plus>−", said)) if "-" in said else said  # what is safe to show stays so


def in_print(said: str) -> str:
    """All signs of a keyboard, in which the rules write and compare. Example: "1.25 x 0.8 kJ/mm" has a "×"."""
    return below_zero(type(said)(TIMES.sub("×", said)) if " x " in said else said)

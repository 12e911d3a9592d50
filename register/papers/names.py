"""Names of files made out of what somebody typed: no part of a path, and short enough for every disk."""

LONGEST = 120
"""Bytes of one text in a name; a disk takes 255 for the whole."""


def plain(*texts: str) -> str:
    """Letters and figures of all texts with hyphens between. Example: plain("weld-map", "../B 1") is "weld-map-B-1"."""
    kept = ("".join(sign if sign.isalnum() or sign in "._" else " " for sign in text) for text in texts)
    words = (word.strip(".") for text in kept for word in _short(text).split())
    return "-".join(filter(None, words)) or "part"


def _short(text: str) -> str:
    return text.encode()[:LONGEST].decode("utf-8", "ignore")

"""A content as JSON in one form, the check code that names exactly this content, and the QR code that leads to it."""

import json
from base64 import b32encode
from functools import lru_cache
from hashlib import sha256
from typing import Any

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse
from django.utils.safestring import mark_safe

LENGTH = 10
"""Characters of a check code: 50 bits. The alphabet has no 0, 1 or 8, which a hand would mistake."""
ALPHABET = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567")
EXAMPLE = "AAAAAAAAAA"


def canonical(value: Any) -> bytes:
    """JSON in one form: keys sorted, no blanks, UTF-8. Equal content gives equal bytes."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def check_code(value: Any) -> str:
    """The first characters of the base-32 SHA-256 of the canonical JSON."""
    return b32encode(sha256(canonical(value)).digest()).decode()[:LENGTH]


def digest(value: Any) -> str:
    """The SHA-256 of the canonical JSON."""
    return sha256(canonical(value)).hexdigest()


def code_as_shown(code: str) -> str:
    """In two halves, as it is printed. Example: "ABCDE-FGHIJ"."""
    return f"{code[: LENGTH // 2]}-{code[LENGTH // 2 :]}"


def code_as_read(typed: str) -> str:
    """A check code as somebody types it, or "" where it cannot be one. Example: "abcde fghij" gives "ABCDEFGHIJ"."""
    plain = "".join(character for character in typed.upper() if character not in " -")
    return plain if len(plain) == LENGTH and set(plain) <= ALPHABET else ""


def status_address(request: HttpRequest | None = None) -> str:
    """The address that a QR code shows, "{code}" in place of the check code; "" where nobody knows it.

    PUBLIC_URL stands before the address the browser used, which may be one that a telephone cannot reach.
    """
    path = reverse("wps:sheet_status", args=[EXAMPLE])
    public = str(getattr(settings, "PUBLIC_URL", "")).rstrip("/")
    whole = f"{public}{path}" if public else request.build_absolute_uri(path) if request else ""
    return whole.replace(EXAMPLE, "{code}")


@lru_cache(maxsize=256)
def qr(url: str) -> str:
    """A QR code as SVG without a quiet zone of its own: the sheet leaves it white around.

    Kept, because one content is printed on both papers, in both units and in every language with the same code.
    """
    import segno

    code = segno.make(url, error="m", micro=False)
    drawn = code.svg_inline(border=0, omitsize=True, svgclass="qr", lineclass=None, title=f"QR code: {url}")
    # segno escapes the title; the rest are its own figures.
    return mark_safe(drawn.replace("<svg ", '<svg role="img" ', 1))

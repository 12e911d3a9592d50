"""Codes by time: RFC 6238 on RFC 4226, with SHA-1, six digits and steps of thirty seconds, as every program reads them.

Thirty lines on the standard library's HMAC, in place of a package that would bring tables in which recovery codes
can be read. Held to the test vectors of both papers.
"""

import hmac
import secrets
from base64 import b32decode, b32encode
from hashlib import sha1
from urllib.parse import quote, urlencode

STEP_SECONDS, DIGITS = 30, 6
DRIFT = 1
"""Steps before and after now that still count: clocks differ."""


def new_secret() -> str:
    """A secret of 160 bits, as RFC 4226 recommends, in base 32."""
    return b32encode(secrets.token_bytes(20)).decode("ascii")


def code_at(secret: str, step: int, digits: int = DIGITS) -> str:
    """The code of a step (RFC 4226, 5.3). secret in base 32; raises ValueError for what is not."""
    digest = hmac.new(b32decode(secret), step.to_bytes(8, "big"), sha1).digest()
    start = digest[-1] & 0x0F
    number = int.from_bytes(digest[start : start + 4], "big") & 0x7FFFFFFF
    return str(number % 10**digits).zfill(digits)


def step_of(seconds: float) -> int:
    """The step of an instant, in seconds since 1970. Example: 59 s lies in step 1."""
    return int(seconds // STEP_SECONDS)


def matching_step(secret: str, code: str, seconds: float) -> int | None:
    """The step whose code this is, of those that count at an instant; None where it is none of theirs."""
    now, found = step_of(seconds), None
    for step in range(now - DRIFT, now + DRIFT + 1):
        if step >= 0 and hmac.compare_digest(code_at(secret, step).encode(), code.encode("utf-8", "replace")):
            found = step
    return found


def address(secret: str, account: str, issuer: str) -> str:
    """What the square code holds, for the program on the telephone."""
    query = urlencode({"secret": secret, "issuer": issuer, "digits": DIGITS, "period": STEP_SECONDS}, quote_via=quote)
    return f"otpauth://totp/{quote(issuer)}:{quote(account)}?{query}"

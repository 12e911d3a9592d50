"""What a sheet stands for as JSON, and the check code that names exactly this content."""

import json
from base64 import b32encode
from hashlib import sha256
from typing import Any

from wps.content import content
from wps.models import ProcedureRevision

LENGTH = 10
"""Characters of a check code: 50 bits. The alphabet has no 0, 1 or 8, which a hand would mistake."""
ALPHABET = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567")


def sheet_content(revision: ProcedureRevision) -> dict[str, Any]:
    """Number, title, revision, all that it says, and who stands for it. Not its state today, which may change."""
    return {
        "procedure": revision.procedure.number,
        "title": revision.procedure.title,
        "revision": revision.letter,
        "prepared": _step(revision.author_name, None),
        "checked": _step(revision.checked_name, revision.checked_on),
        "approved": _step(revision.approved_name, revision.approved_on),
        **content(revision),
    }


def _step(name: str, on: Any) -> dict[str, str] | None:
    if not name:
        return None
    return {"name": name, "on": on.isoformat()} if on else {"name": name}


def canonical(value: Any) -> bytes:
    """JSON in one form: keys sorted, no blanks, UTF-8. Equal content gives equal bytes."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def check_code(value: Any) -> str:
    """The first characters of the base-32 SHA-256 of the canonical JSON."""
    return b32encode(sha256(canonical(value)).digest()).decode()[:LENGTH]


def code_as_shown(code: str) -> str:
    """In two halves, as it is printed. Example: "ABCDE-FGHIJ"."""
    return f"{code[: LENGTH // 2]}-{code[LENGTH // 2 :]}"


def code_as_read(typed: str) -> str:
    """A check code as somebody types it, or "" where it cannot be one. Example: "abcde fghij" gives "ABCDEFGHIJ"."""
    plain = "".join(character for character in typed.upper() if character not in " -")
    return plain if len(plain) == LENGTH and set(plain) <= ALPHABET else ""

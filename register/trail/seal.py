"""What a seal holds: the digest of each row that was kept, and its own hash with that of the seal before it.

Plain Python: no database, no clock. Columns are named in the seal, so one that comes later changes no digest.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any

DIGEST_BYTES = 16
"""Of each row's SHA-256 the first half is kept: a large list holds many rows, and 128 bits are not met on purpose."""
PLAIN = (str, type(None), int, bool)


def row_digest(pk: int, values: Sequence[Any]) -> bytes:
    """Of one row: its key and the values of the sealed columns, whatever database gave them."""
    # Most columns hold plain texts or nothing: no call for those.
    told = [value if type(value) in PLAIN else plain(value) for value in values]
    said = json.dumps([pk, *told], separators=(",", ":"), sort_keys=True)
    return hashlib.sha256(said.encode("ascii")).digest()[:DIGEST_BYTES]


def plain(value: Any) -> Any:
    """A value as JSON holds it, in the one form that both databases give. Raises TypeError for anything else.

    Example: Decimal("8.00") is "8", and a dict with 2.0 in it holds 2.
    """
    if isinstance(value, PLAIN):
        return value
    if isinstance(value, Decimal):
        return f"{value.normalize():f}" if value else "0"
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, bytes | bytearray | memoryview):
        return hashlib.sha256(bytes(value)).hexdigest()
    if isinstance(value, float):
        return int(value) if value.is_integer() else value
    if isinstance(value, Mapping):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part) for part in value]
    raise TypeError(f"{type(value).__name__} is no value of a column")


def seal_hash(number: int, at: datetime, kind: str, fields: str, rows: str, previous_hash: str) -> str:
    """The hash of a seal, 64 hexadecimal digits, over all that it says and the hash of the seal before it."""
    said = {"number": number, "at": plain(at), "kind": kind, "fields": fields, "rows": rows, "previous": previous_hash}
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def written(rows: Iterable[tuple[int, bytes]]) -> str:
    """Keys and digests as a seal keeps them: one row a line."""
    return "\n".join(f"{pk} {digest.hex()}" for pk, digest in rows)


def read(rows: str) -> Iterable[tuple[int, bytes]]:
    """Keys and digests of a seal. Raises ValueError for what is no such text."""
    for line in rows.splitlines():
        pk, _, digest = line.partition(" ")
        yield int(pk), bytes.fromhex(digest)

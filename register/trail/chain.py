"""The hash that ties an entry of the trail to the one before it. Plain Python: no database, no clock.

The hash is SHA-256 over canonical JSON of all that the entry says and the hash before it: keys sorted, no spaces,
ASCII only, the instant in UTC to the microsecond. Whoever has the rows can work it out again with any tool.
"""

import hashlib
import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

START = "0" * 64
"""What stands before the first entry."""

TEXTS = ("user_name", "act", "subject_type", "subject_id", "subject", "note")


def canonical(values: Mapping[str, Any], number: int, previous_hash: str) -> str:
    """The text that is hashed. values holds the fields of the entry; raises ValueError for what JSON cannot hold.

    Example: notes "x" and "y" give two texts; 2 and 2.0 in `after` give one, since a database may keep no difference.
    """
    at: datetime = values["at"]
    said: dict[str, Any] = {name: str(values[name]) for name in TEXTS}
    said |= {name: _plain(values[name]) for name in ("before", "after")}
    said |= {
        "at": at.astimezone(UTC).isoformat(timespec="microseconds"),
        "number": number,
        "previous_hash": previous_hash,
    }
    if values.get("plant_id") is not None:
        # Entries from before there were plants name none, and keep their hash.
        said["plant"] = values["plant_id"]
    if values.get("versions"):
        # So do those from before versions were sealed.
        said["versions"] = values["versions"]
    return json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=True, allow_nan=False)


def entry_hash(values: Mapping[str, Any], number: int, previous_hash: str) -> str:
    """The hash of an entry, 64 hexadecimal digits."""
    return hashlib.sha256(canonical(values, number, previous_hash).encode("ascii")).hexdigest()


def fields_of(entry: Any) -> dict[str, Any]:
    """What an entry of the trail says, by name; works on a model and on its historical form in a migration."""
    found = {name: getattr(entry, name) for name in ("at", "before", "after", *TEXTS)}
    return found | {name: getattr(entry, name, None) for name in ("plant_id", "versions")}


def _plain(value: Any) -> Any:
    """The value as both databases give it back: lists for tuples, text keys, whole numbers without a point."""
    if isinstance(value, Mapping):
        return {str(key): _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value

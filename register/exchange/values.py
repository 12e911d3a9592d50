"""A row as JSON and back: exact decimals and days as text, moments in UTC, bytes as files of their own."""

import json
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import models

FILE = "$file"
"""In place of bytes: {"$file": SHA-256} names the file that holds them."""
PASSWORD = "password"
BIGGEST = 2**63 - 1

Row = Mapping[str, Any]


class BadRow(ValueError):
    """A row that cannot be taken; the message names field and reason."""


def fields_of(model: type[models.Model]) -> list[models.Field]:  # type: ignore[type-arg]
    """The columns of a table that go along; of accounts the password does not."""
    return [field for field in model._meta.concrete_fields if field.attname != PASSWORD]


def plain(value: Any, keep: Callable[[bytes], str]) -> Any:
    """A value of a column as JSON holds it; `keep` puts bytes away and gives their hash."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, Decimal | UUID):
        return str(value)
    if isinstance(value, bytes | bytearray | memoryview):
        return {FILE: keep(bytes(value))}
    return value


def line(values: Row) -> bytes:
    """One row as a line, UTF-8. Raises ValueError for what JSON cannot hold.

    Keys stay in their order: of several things that are equally far outside, a sentence names the first.
    """
    text = json.dumps(values, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    # A lone surrogate is no text in any encoding; written as JSON escapes it at least comes back the same.
    return text.encode("utf-8", "backslashreplace") + b"\n"


def read_line(data: bytes) -> dict[str, Any]:
    """A line as a mapping. Raises BadRow."""
    try:
        found = json.loads(data.decode("utf-8"), parse_constant=_no_constant)
    except (ValueError, RecursionError) as fault:
        raise BadRow(f"is no JSON ({str(fault)[:80]})") from None
    if not isinstance(found, dict):
        raise BadRow("is no JSON object")
    return found


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} is no figure")


def instance(model: type[models.Model], row: Row, read: Callable[[str], bytes], also: Iterable[str] = ()) -> Any:
    """The row as an object that is not saved. `also`: keys that are no columns. Raises BadRow."""
    fields = {field.attname: field for field in fields_of(model)}
    if unknown := sorted(set(row) - set(fields) - set(also)):
        raise BadRow(f"holds {str(unknown[0])[:60]!r}, which {model._meta.label_lower} does not know here")
    made = model()
    for name, field in fields.items():
        if name in row:
            setattr(made, name, _typed(field, row[name], read))
        elif not field.has_default() and not field.null:
            raise BadRow(f"lacks {name!r}")
    return made


def _typed(field: Any, value: Any, read: Callable[[str], bytes]) -> Any:
    if value is None:
        if not field.null:
            raise BadRow(f"{field.attname} is empty and must not be")
        return None
    if isinstance(field, models.BinaryField):
        if not isinstance(value, dict) or set(value) != {FILE}:
            raise BadRow(f"{field.attname} names no file")
        return read(str(value[FILE]))
    if isinstance(field, models.JSONField):
        return value
    target = field.target_field if field.is_relation else field
    if isinstance(value, dict | list):
        raise BadRow(f"{field.attname} is no single value")
    if isinstance(value, bool) != isinstance(target, models.BooleanField):
        raise BadRow(f"{field.attname} is of another kind than it must be")
    return _checked(field.attname, target, value)


def _checked(name: str, field: Any, value: Any) -> Any:
    """The value as the column holds it, no longer and no bigger than it may be. Raises BadRow."""
    try:
        found = field.to_python(value)
    except (ValidationError, ValueError, TypeError, OverflowError) as fault:
        raise BadRow(f"{name} cannot be read ({str(fault)[:80]})") from None
    if isinstance(found, str) and ("\x00" in found or (field.max_length and len(found) > field.max_length)):
        raise BadRow(f"{name} is too long, or holds a sign that is no text")
    if isinstance(found, int) and abs(found) > BIGGEST:
        raise BadRow(f"{name} is too big")
    if isinstance(found, Decimal):
        _check_decimal(name, field, found)
    return found


def _check_decimal(name: str, field: Any, value: Decimal) -> None:
    try:
        field.run_validators(value)
    except ValidationError as fault:
        raise BadRow(f"{name}: {fault.messages[0]}") from None

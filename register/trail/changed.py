"""What changed from one kept version of a row to the next, field by field, in the language of the screen."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.db.models import Field
from django.utils.translation import gettext

from codes.terms import both_names
from codes.variables import VARIABLES, Kind
from register.judged_words import told_term

Part = tuple[str, Any, Any]
"""A name, what it was and what it is."""


def what_changed(fields: Iterable["Field[Any, Any]"], newer: Any, older: Any) -> str:
    """Each field with what it was and what it is. Example: 't1 from “8” to “10”; note from nothing to “x”'.

    Of a field that holds several values, those alone that changed: 'test pieces, Layers from “2” to “3”'.
    """
    return "; ".join(
        gettext("%(field)s from %(old)s to %(new)s") % {"field": name, "old": text_of(old), "new": text_of(new)}
        for field in fields
        for name, old, new in _parts(
            gettext(str(field.verbose_name)), getattr(older, field.attname, None), getattr(newer, field.attname, None)
        )
    )


def _parts(name: str, old: Any, new: Any) -> Iterator[Part]:
    """What differs, value by value."""
    if old == new:
        return
    held = old or new
    if isinstance(held, dict):
        before, after = old or {}, new or {}
        for key in dict.fromkeys([*before, *after]):
            was, now = _said(key, before.get(key)), _said(key, after.get(key))
            yield from _parts(f"{name}, {told_term(_label(key))}", was, now)
    elif isinstance(held, list) and all(isinstance(one, dict) for one in held):
        before, after = old or [], new or []
        for i in range(max(len(before), len(after))):
            was, now = before[i] if i < len(before) else {}, after[i] if i < len(after) else {}
            yield from _parts(f"{name} {i + 1}" if max(len(before), len(after)) > 1 else name, was, now)
    else:
        yield name, old, new


def _label(key: str) -> str:
    known = VARIABLES.get(key)
    return known.label if known else key.replace("_", " ")


def _said(key: str, value: Any) -> Any:
    """A value as the screen names it: several with commas, a term by both its names."""
    known = VARIABLES.get(key)
    if isinstance(value, list) and not any(isinstance(one, dict) for one in value):
        return ", ".join(str(_said(key, one)) for one in value)
    if known is not None and known.kind is Kind.TERM and isinstance(value, str):
        return both_names(known.vocabulary, value)
    return value


def text_of(value: Any) -> str:
    """A stored value in quotes, cut to eighty characters; nothing where it is empty. Terms as the screen names them."""
    if value in (None, "", [], {}):
        return gettext("nothing")
    text = told_term(str(value))
    return f"“{text[:80]}…”" if len(text) > 80 else f"“{text}”"

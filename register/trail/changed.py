"""What changed from one kept version of a row to the next, field by field, in the language of the screen."""

from collections.abc import Iterable
from typing import Any

from django.db.models import Field
from django.utils.translation import gettext

from register.judged_words import told_term


def what_changed(fields: Iterable["Field[Any, Any]"], newer: Any, older: Any) -> str:
    """Each field with what it was and what it is. Example: 't1 from “8” to “10”; note from nothing to “x”'."""
    return "; ".join(
        gettext("%(field)s from %(old)s to %(new)s")
        % {
            "field": gettext(str(field.verbose_name)),
            "old": text_of(getattr(older, field.attname, None)),
            "new": text_of(getattr(newer, field.attname, None)),
        }
        for field in fields
        if getattr(newer, field.attname, None) != getattr(older, field.attname, None)
    )


def text_of(value: Any) -> str:
    """A stored value in quotes, cut to eighty characters; nothing where it is empty. Terms as the screen names them."""
    if value in (None, "", [], {}):
        return gettext("nothing")
    text = told_term(str(value))
    return f"“{text[:80]}…”" if len(text) > 80 else f"“{text}”"

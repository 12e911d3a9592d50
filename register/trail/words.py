"""What an entry of the trail holds, in the words of the screens. Kept entries and files stay as they were written."""

import re
from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from functools import cache
from typing import Any

from django.apps import apps
from django.utils import timezone
from django.utils.html import format_html
from django.utils.translation import gettext

from codes.values import Interval, Steel, text
from codes.variables import VARIABLES, Kind
from codes.vocabulary import TERMS
from codes.words import term_words
from register.base.pdf import PAPERS
from register.judged_words import told_term
from register.judged_words.acts import in_source
from register.judged_words.fact_names import name_words, unit_of
from register.papers.codes import code_as_read, code_as_shown
from register.papers.kinds import KINDS

WHOLE = 4000
"""Characters of an entry on the page; the files give longer ones."""
SHA256 = re.compile(r"[0-9a-f]{64}")
FIGURE = re.compile(r"-?\d{1,9}(\.\d{1,9})?")
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?\+00:00")
TOKEN = re.compile(r"[a-z]+(_[a-z]+)+")
SPAN = frozenset({"min", "max"})
TOLD: dict[tuple[str, str], str] = {}
"""What an app calls a token that stands under a name, told by it when it is ready: so this package imports none."""
STEEL = frozenset({"group", "yield_mpa", "grade"})


def said(value: Any, longest: int = 160) -> str:
    """What an entry holds before or after, as short text: of a hash its beginning, which the files give whole.

    Example: {"status": "draft"} is "status: draft".
    """
    whole = _facts(value) if isinstance(value, dict) else _one("", value)
    return whole if len(whole) <= longest else f"{whole[: longest - 1]}…"


def folded(value: Any) -> str:
    """What an entry holds, short, with the whole of it behind a fold where it was cut."""
    short, whole = said(value), said(value, WHOLE)
    if short == whole:
        return short
    return format_html("{}<details><summary>{}</summary>{}</details>", short, gettext("All of it"), whole)


def _facts(held: dict[Any, Any], within: bool = False) -> str:
    """Facts in a row; what was left empty is left out, and within a fact what nobody stated."""
    unsaid: tuple[Any, ...] = ("", None, [], {}) if within else ("",)
    parts = ((str(key), part) for key, part in held.items() if part not in unsaid)
    return "; ".join(f"{gettext(name_words(key))}{_behind(key, part)}" for key, part in parts)


def _behind(key: str, value: Any) -> str:
    """What stands behind the name of a fact: facts of its own in brackets."""
    own = isinstance(value, dict) and not _of(value, SPAN) and not _of(value, STEEL)
    inner = _facts(value, within=True) if own else ""
    return f" ({inner})" if inner else f": {_one(key, value)}"


def _one(key: str, value: Any) -> str:
    if isinstance(value, dict):
        return _span(key, value) or _steel(value) or (f"({inner})" if (inner := _facts(value, True)) else _none())
    if isinstance(value, list):
        sign = " + " if all(_of(one, STEEL) for one in value) else ", "
        return sign.join(_one(key, one) for one in value) or _none()
    if isinstance(value, bool):
        return gettext("yes") if value else gettext("no")
    return _none() if value is None else _text(key, str(value))


def _none() -> str:
    return gettext("none")


def _of(value: Any, names: frozenset[str]) -> bool:
    return isinstance(value, dict) and bool(value) and value.keys() <= names


def _span(key: str, value: dict[str, Any]) -> str:
    """A range, with its unit once. Example: {"min": "3", "max": "20"} of a thickness is "3 to 20 mm"."""
    low, high = (_figure(value.get(end)) for end in ("min", "max"))
    if not _of(value, SPAN) or (low is None and high is None):
        return ""
    if low is not None and high is not None and low > high:
        return ""
    return told_term(str(Interval(low, high, unit_of(key))))


def _steel(value: dict[str, Any]) -> str:
    """A parent material. Example: {"group": "1.2", "yield_mpa": "355"} is "group 1.2, 355 MPa"."""
    if not _of(value, STEEL):
        return ""
    group, grade = str(value.get("group") or ""), str(value.get("grade") or "")
    return told_term(str(Steel(group, _figure(value.get("yield_mpa")), grade)))


def _figure(value: Any) -> Decimal | None:
    return Decimal(str(value)) if FIGURE.fullmatch(str(value)) else None


def _text(key: str, value: str) -> str:
    """A text under its name: what it was chosen from says it as the screens do; a figure has its unit."""
    if SHA256.fullmatch(value):
        return f"{value[:12]}…"
    if (figure := _figure(value)) is not None and (unit := unit_of(key)):
        return text(figure, unit)
    if MOMENT.fullmatch(value):
        return f"{timezone.localtime(datetime.fromisoformat(value)):%Y-%m-%d %H:%M:%S}"
    if key == "check_code" and code_as_read(value):
        return code_as_shown(code_as_read(value))
    return told_term(_chosen(key, value)) or "–"


def _chosen(key: str, value: str) -> str:
    known = VARIABLES.get(key)
    if known is not None and known.kind is Kind.TERM and value in TERMS.get(known.vocabulary, ()):
        return term_words(key, value)
    words = TOLD.get((key, value)) or _labels().get((key, value))
    return words or (value.replace("_", " ") if TOKEN.fullmatch(value) else value)


@cache
def _labels() -> dict[tuple[str, str], str]:
    """What the columns of a name call what is chosen in them, in English, where all of them call it the same."""
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for name, value, label in _choices():
        found[name, value].add(in_source(label))
    return {asked: labels.pop() for asked, labels in found.items() if len(labels) == 1}


def _choices() -> Iterator[tuple[str, str, object]]:
    yield from (("paper", token, name) for token, (name, _) in PAPERS.items())
    yield from (("kind", token, kind.words) for token, kind in KINDS.items())
    for model in apps.get_models():
        for field in model._meta.concrete_fields:
            for value, label in field.flatchoices:
                yield field.name, str(value), label
                if field.name == "preparation":
                    yield "kind", str(value), label

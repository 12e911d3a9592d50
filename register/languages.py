"""Which languages the screens speak: English, and each that has a compiled catalogue of its own in `locale/`.

Papers and what their check codes are reckoned from are in the register's own language, whoever asks for them.
"""

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any, TypeVar

from django.conf import settings
from django.conf.locale import LANG_INFO
from django.utils.translation import override

T = TypeVar("T")


def languages_in(folder: Path) -> list[tuple[str, str]]:
    """Codes and own names of the catalogues in a folder. Example: [("de", "Deutsch")]."""
    found = (path.parent.parent.name for path in sorted(folder.glob("*/LC_MESSAGES/django.mo")))
    codes = (name.replace("_", "-").lower() for name in found)
    return [(code, str(LANG_INFO.get(code, {}).get("name_local", code))) for code in codes]


def in_own_language(function: Callable[..., T]) -> Callable[..., T]:
    """A function whose texts are evidence: said in the register's own language, not in that of whoever asks."""

    @wraps(function)
    def said(*args: Any, **kwargs: Any) -> T:
        with override(settings.LANGUAGE_CODE):
            return function(*args, **kwargs)

    return said

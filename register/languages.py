"""Which languages the screens speak: English, and each that has a compiled catalogue of its own in `locale/`."""

from pathlib import Path

from django.conf.locale import LANG_INFO


def languages_in(folder: Path) -> list[tuple[str, str]]:
    """Codes and own names of the catalogues in a folder. Example: [("de", "Deutsch")]."""
    found = (path.parent.parent.name for path in sorted(folder.glob("*/LC_MESSAGES/django.mo")))
    codes = (name.replace("_", "-").lower() for name in found)
    return [(code, str(LANG_INFO.get(code, {}).get("name_local", code))) for code in codes]

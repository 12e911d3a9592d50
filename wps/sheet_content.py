"""What a sheet stands for as JSON, and the check code that names exactly this content."""

from typing import Any

from register.papers.codes import canonical, check_code, code_as_read, code_as_shown
from wps.content import content
from wps.models import ProcedureRevision

__all__ = ["canonical", "check_code", "code_as_read", "code_as_shown", "sheet_content"]


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

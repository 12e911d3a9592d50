"""What somebody says on the page of an import: cells corrected, and which of two changes counts."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext

from joints.answers import count
from joints.imports.compare import EVERY, OURS, THEIRS
from joints.imports.table import MAX_CELL, Refusal
from joints.models import ImportBatch

FIX, UNDO, CHOOSE = "fix:", "undo:", "choose:"


def take_over(batch: ImportBatch, said: Mapping[str, Any], by: Any) -> str:
    """Keep what was written and chosen, and return what was done in words. Raises Refusal."""
    if batch.status != ImportBatch.UPLOADED:
        raise Refusal(gettext("This list is not open for corrections. Nothing was changed."))
    fixed = _fixed(batch, said)
    undone = [key for key in batch.corrections if said.get(f"{UNDO}{key}")]
    chosen = {
        key.removeprefix(CHOOSE): value
        for key, value in said.items()
        if key.startswith(CHOOSE) and value in (OURS, THEIRS)
    }
    kept = {key: value for key, value in batch.corrections.items() if key not in undone}
    batch.corrections = {**kept, **fixed}
    every = {EVERY: said["every"]} if said.get("every") in (OURS, THEIRS) else {}
    batch.choices = {**batch.choices, **chosen, **every}
    batch.save(update_fields=["corrections", "choices"])
    parts = [
        f"{count(len(fixed), 'cell', 'cells')} entered anew" if fixed else "",
        f"{count(len(undone), 'correction', 'corrections')} taken back" if undone else "",
        "choice kept" if chosen or every else "",
    ]
    return f"{', '.join(filter(None, parts)).capitalize() or 'Nothing was changed'}."


def _fixed(batch: ImportBatch, said: Mapping[str, Any]) -> dict[str, str]:
    """The cells that were written over, by "row:field"; those left as they were are not among them."""
    found = {}
    for problem in batch.errors:
        key = f"{problem['row']}:{problem.get('field', '')}"
        text = said.get(f"{FIX}{key}")
        if not problem.get("field") or text is None:
            continue
        text = " ".join(str(text).split())
        if len(text) > MAX_CELL:
            raise Refusal(
                gettext("Row %(problem)s: at most %(max_cell)s characters fit into a cell.")
                % {"problem": problem["row"], "max_cell": MAX_CELL}
            )
        if text != problem.get("cell", ""):
            found[key] = text
    return found

"""The columns of the lists of procedures and of test records."""

import re
from datetime import date
from typing import Any

import django_tables2 as tables
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext_lazy as _

from codes.terms import both_names
from codes.units import System
from codes.words import listed
from register.base.tables import LeanTable, link
from register.judged_words import told_term
from wps.changes import plain_said
from wps.models import OPEN, Procedure, ProcedureRevision, TestRecord

LAST_LETTER = re.compile(r"-(?=[A-Z]\b)")
"""The hyphen of "FCAW-G": no line ends behind it."""
POSITIONS = ("position", "aws_position")
"""The position is stated by ISO 6947 or by AWS A3.0, as the code of the procedure has it."""


class ProcedureTable(LeanTable):
    """Procedures with the revision in force on the date asked about, and the one that is being written."""

    number = tables.Column()
    title = tables.Column(verbose_name=_("Welds"))
    in_force = tables.Column(verbose_name=_("In force"), empty_values=(), orderable=False)
    open = tables.Column(verbose_name=_("In work"), empty_values=(), orderable=False)
    code = tables.Column(verbose_name=_("Standard"), empty_values=(), orderable=False)
    process = tables.Column(verbose_name=_("Process"), empty_values=(), orderable=False)
    weld_type = tables.Column(verbose_name=_("Weld"), empty_values=(), orderable=False)
    parent_t = tables.Column(verbose_name=_("Thickness"), empty_values=(), orderable=False)
    position = tables.Column(verbose_name=_("Positions"), empty_values=(), orderable=False)

    caption = _("Procedures")
    unbroken = ("number", "code")
    one_line = ("in_force", "parent_t")
    many = True

    class Meta(LeanTable.Meta):
        order_by = ("number", "pk")

    def __init__(self, *args: Any, on: date, system: System, **kwargs: Any) -> None:
        self.on, self.system = on, system
        super().__init__(*args, **kwargs)

    def render_number(self, record: Procedure) -> SafeString:
        return link(record.get_absolute_url(), record.number)

    def value_number(self, record: Procedure) -> str:
        return record.number

    def render_in_force(self, record: Procedure) -> str:
        return told_term(self.value_in_force(record))

    def value_in_force(self, record: Procedure) -> str:
        found = revision_on(record, self.on)
        return f"rev {found.letter} since {found.approved_on}" if found else "none"

    def render_open(self, record: Procedure) -> str:
        found = next((r for r in record.revisions.all() if r.status in OPEN), None)
        return f"rev {found.letter}, {found.get_status_display()}" if found else ""

    def render_code(self, record: Procedure) -> str:
        shown = shown_revision(record, self.on)
        return shown.code if shown else ""

    def render_process(self, record: Procedure) -> SafeString:
        # A number and its name stay together; a long name may still break.
        name = LAST_LETTER.sub("-\N{WORD JOINER}", told_term(self.value_process(record)))
        return mark_safe(escape(name).replace(" · ", "&nbsp;·&nbsp;"))

    def value_process(self, record: Procedure) -> str:
        return self._said(record, "process")

    def render_weld_type(self, record: Procedure) -> str:
        return self._said(record, "weld_type")

    def render_parent_t(self, record: Procedure) -> str:
        return self._said(record, "parent_t")

    def render_position(self, record: Procedure) -> str:
        shown = shown_revision(record, self.on)
        stated = [shown.window.get(name) for name in POSITIONS] if shown else []
        return ", ".join(one for each in stated for one in ([each] if isinstance(each, str) else each or []))

    def _said(self, record: Procedure, name: str) -> str:
        shown = shown_revision(record, self.on)
        return plain_said(name, shown.window.get(name), self.system) if shown else ""


def revision_on(procedure: Procedure, on: date) -> ProcedureRevision | None:
    """The revision in force on a day. Reads the prefetched revisions."""
    return next((revision for revision in procedure.revisions.all() if in_force_on(revision, on)), None)


def in_force_on(revision: ProcedureRevision, on: date) -> bool:
    """True from the day of approval to the day before the end."""
    return (
        revision.approved_on is not None
        and revision.approved_on <= on
        and (revision.ended_on is None or on < revision.ended_on)
    )


def shown_revision(procedure: Procedure, on: date) -> ProcedureRevision | None:
    """The revision that a page about the procedure speaks of: in force, else the newest."""
    revisions = list(procedure.revisions.all())
    return revision_on(procedure, on) or max(revisions, key=lambda revision: revision.pk, default=None)


class RecordTable(LeanTable):
    """Test records with the essentials of their first test piece."""

    number = tables.Column()
    code = tables.Column(verbose_name=_("Standard"))
    level = tables.Column(verbose_name=_("Level"))
    process = tables.Column(verbose_name=_("Process"), empty_values=(), orderable=False)
    weld_type = tables.Column(verbose_name=_("Weld"), empty_values=(), orderable=False)
    parent_t = tables.Column(verbose_name=_("Tested thickness"), empty_values=(), orderable=False)
    position = tables.Column(verbose_name=_("Positions"), empty_values=(), orderable=False)
    welded_on = tables.Column(verbose_name=_("Welded on"))
    support = tables.Column(verbose_name=_("Procedures"), accessor="supported", orderable=False)

    caption = _("Test records")
    numeric = ("level", "support")
    unbroken = ("number", "code", "process", "welded_on")
    many = True

    class Meta(LeanTable.Meta):
        order_by = ("number", "pk")

    def __init__(self, *args: Any, system: System, **kwargs: Any) -> None:
        self.system = system
        super().__init__(*args, **kwargs)

    def render_number(self, record: TestRecord) -> SafeString:
        return link(record.get_absolute_url(), record.number)

    def value_number(self, record: TestRecord) -> str:
        return record.number

    def render_process(self, record: TestRecord) -> str:
        return " + ".join(both_names("process", token) for token in _stated(record, "process"))

    def render_weld_type(self, record: TestRecord) -> str:
        return listed([plain_said("weld_type", token) for token in _stated(record, "weld_type")])

    def render_parent_t(self, record: TestRecord) -> str:
        return ", ".join(plain_said("parent_t", figure, self.system) for figure in _stated(record, "parent_t"))

    def render_position(self, record: TestRecord) -> str:
        return ", ".join(position for name in POSITIONS for position in _stated(record, name))


def _stated(record: TestRecord, name: str) -> list[str]:
    """What the test pieces state of a variable, each once."""
    found: dict[str, None] = {}
    for piece in record.pieces:
        value = piece.get(name)
        for one in value if isinstance(value, list) else [value]:
            if one not in (None, ""):
                found[str(one)] = None
    return list(found)

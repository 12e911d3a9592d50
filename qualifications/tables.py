"""The columns of the lists of people and of the weld log."""

from datetime import date
from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.readings import DEFAULTS, Settings
from codes.terms import both_names
from qualifications.models import Person, WeldLogEntry
from qualifications.standing import Standing, standing
from register.base.tables import LeanTable, link


class PersonTable(LeanTable):
    """People with what they hold on the date asked about."""

    name = tables.Column()
    identification = tables.Column(verbose_name=_("Stamp"))
    employer = tables.Column()
    site = tables.Column(verbose_name=_("Place"))
    valid = tables.Column(verbose_name=_("Certificates"), empty_values=(), orderable=False)
    processes = tables.Column(verbose_name=_("Valid for"), empty_values=(), orderable=False)
    next = tables.Column(verbose_name=_("Falls due next"), empty_values=(), orderable=False)

    caption = _("People")
    unbroken = ("identification",)
    one_line = ("employer", "site", "valid")
    says_itself = ("identification", "employer", "site", "valid")

    class Meta(LeanTable.Meta):
        order_by = ("name", "pk")

    def __init__(self, *args: Any, on: date, settings: Settings = DEFAULTS, **kwargs: Any) -> None:
        self.on, self.settings = on, settings
        self._known: dict[int, Standing] = {}
        super().__init__(*args, **kwargs)

    def _standing(self, record: Person) -> Standing:
        if record.pk not in self._known:
            self._known[record.pk] = standing(record, self.on, self.settings)
        return self._known[record.pk]

    def render_name(self, record: Person) -> SafeString:
        return link(record.get_absolute_url(), record.name)

    def value_name(self, record: Person) -> str:
        return record.name

    def render_valid(self, record: Person) -> str:
        return self._standing(record).text

    def render_processes(self, record: Person) -> str:
        names = ((both_names("process", p),) for p in self._standing(record).processes)
        return format_html_join(", ", '<span class="day">{}</span>', names) or "–"

    def value_processes(self, record: Person) -> str:
        return ", ".join(both_names("process", p) for p in self._standing(record).processes)

    def render_next(self, record: Person) -> str:
        due = self._standing(record).next
        return format_html('<span class="day">{}</span> {}', due.by.isoformat(), due.act) if due else "–"

    def value_next(self, record: Person) -> str:
        due = self._standing(record).next
        return due.by.isoformat() if due else ""


class WeldLogTable(LeanTable):
    """Who welded what, newest first."""

    on = tables.Column(verbose_name=_("Day"))
    person = tables.Column(order_by=("person__name",))
    process = tables.Column()
    mechanisation = tables.Column()
    position = tables.Column()
    joint = tables.Column()
    wps = tables.Column(verbose_name=_("WPS"))
    workstation = tables.Column()
    entered_by_name = tables.Column(verbose_name=_("Entered by"), orderable=False)
    note = tables.Column(orderable=False, empty_values=())
    strike = tables.Column(orderable=False, empty_values=(), verbose_name=_("Correction"))

    caption = _("Weld log")
    unbroken = ("on", "process", "position", "wps")
    says_itself = ("person", "process", "mechanisation", "position", "wps", "workstation", "note", "strike")
    off_file = off_paper = ("strike",)
    if_said = ("note", "strike")
    many = True

    class Meta(LeanTable.Meta):
        order_by = ("-on", "-pk")

    def __init__(self, *args: Any, may_strike: bool = False, **kwargs: Any) -> None:
        self.may_strike = may_strike
        super().__init__(*args, **kwargs)

    def render_on(self, value: date) -> str:
        return value.isoformat()

    def render_person(self, record: WeldLogEntry) -> SafeString:
        return link(record.person.get_absolute_url(), record.person.name)

    def value_person(self, record: WeldLogEntry) -> str:
        return record.person.name

    def render_process(self, value: str) -> str:
        return both_names("process", value)

    def render_position(self, value: str) -> str:
        return both_names("position", value)

    def render_mechanisation(self, value: str) -> str:
        return value.replace("_", " ")

    def render_note(self, record: WeldLogEntry) -> str:
        return struck_out(record) if record.struck_out else record.note

    def render_strike(self, record: WeldLogEntry) -> str | SafeString:
        if record.struck_out or not self.may_strike:
            return ""
        return link(reverse("qualifications:weld_log_strike", args=[record.pk]), gettext("Strike out"))


def struck_out(entry: WeldLogEntry) -> str:
    """Why an entry does not count, and its note. Example: "Struck out: wrong joint." """
    return f"Struck out: {entry.struck_out.rstrip('. ')}. {entry.note}".strip()

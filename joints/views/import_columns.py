"""Which column of a list is which: the sender's headings beside ours, corrected once and kept."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseBase
from django.utils.translation import gettext

from joints.imports.batch import list_table
from joints.imports.columns import INCH, LENGTHS, NEEDED, TITLES, guesses
from joints.imports.senders import name_columns
from joints.imports.table import Refusal, Table
from joints.models import ImportBatch
from joints.views.imports import read_again
from register.base.views import DetailPage
from register.judged_words import told_within
from register.roles import Capability

SAMPLES = 3


@dataclass(frozen=True, slots=True)
class Line:
    """One column of the list: its heading, the first cells below it, and what it is taken as."""

    index: int
    heading: str
    samples: str
    field: str
    is_inches: bool
    is_guess: bool
    open_beside: str
    """The column that is guessed to be what this one says too; "" where none is."""


def _asked(name: str, title: str) -> str:
    """A column of ours as the page names it."""
    return gettext("%(column)s (needed)") % {"column": title} if name in NEEDED else title


class ImportColumns(DetailPage):
    """The columns of a list that was sent in, to be named by somebody."""

    required_capability = Capability.IMPORT_JOINTS
    template_name = "joints/import_columns.html"
    queryset = ImportBatch.objects.select_related("job", "sender").filter(kind=ImportBatch.LIST)

    def get_page_title(self) -> str:
        return gettext("Columns of %(file_name)s") % {"file_name": self.object.file_name}

    def get_lead(self) -> str:
        return gettext("For %(job)s: %(title)s") % {
            "job": told_within(str(self.object.job)),
            "title": self.object.job.title,
        }

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        batch = self.get_object()
        return HttpResponseRedirect(batch.get_absolute_url()) if _is_closed(batch) else super().get(request)

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        """Name the columns, and read the list by them."""
        batch = self.object = self.get_object()
        if _is_closed(batch):
            return HttpResponseRedirect(batch.get_absolute_url())
        fields = {i: name for i in range(200) if (name := request.POST.get(f"column-{i}", ""))}
        units = {i: request.POST.get(f"unit-{i}", "") for i in fields}
        try:
            name_columns(batch, list_table(batch).rows[0][1], fields, units, request.user)
        except Refusal as refusal:
            messages.error(request, gettext("%(refusal)s Nothing was kept.") % {"refusal": refusal})
            return self.render_to_response(self.get_context_data(said=(fields, units)), status=422)
        kept = f", and they are kept for {batch.sender}" if batch.sender else ""
        messages.success(
            request, gettext("%(fields)s columns are named%(kept)s.") % {"fields": len(fields), "kept": kept}
        )
        return read_again(batch, request)

    def get_context_data(self, said: Any = None, **kwargs: Any) -> dict[str, Any]:
        batch = self.object
        table = list_table(batch)
        return super().get_context_data(
            lines=_lines(table, said or _kept(batch)),
            choices=[(name, _asked(name, gettext(title))) for name, title in TITLES.items()],
            lengths=sorted(LENGTHS),
            **kwargs,
        )


def _is_closed(batch: ImportBatch) -> bool:
    return batch.status == ImportBatch.CONFIRMED


def _kept(batch: ImportBatch) -> Any:
    """The columns as they were named before, if they were."""
    if not batch.columns:
        return None
    fields = {int(index): name for index, name in batch.columns["fields"].items()}
    return fields, {int(index): unit for index, unit in batch.columns["units"].items()}


def _lines(table: Table, said: Any) -> list[Line]:
    found = []
    for guess in guesses(table.rows[0][1]):
        cells = [str(row[guess.index]) for _, row in table.rows[1:50] if guess.index < len(row)]
        samples = list(dict.fromkeys(cell for cell in cells if cell))[:SAMPLES]
        if not guess.heading and not samples:
            continue
        field, unit, beside = guess.field, guess.unit, guess.taken_by
        if said is not None:
            fields, units = said
            field, unit = fields.get(guess.index, ""), units.get(guess.index, "mm")
            beside = ""
        shown = guess.heading or gettext("(no heading, column %(number)s)") % {"number": guess.index + 1}
        unsure = said is None and bool(field) and not guess.is_sure
        first = " · ".join(s[:30] for s in samples)
        found.append(Line(guess.index, shown, first, field, unit == INCH, unsure, beside))
    return found

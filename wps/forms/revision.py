"""The form of a draft revision. Saving never needs completeness; every value must only be readable."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.parse import Plain
from codes.terms import both_names
from codes.variables import VARIABLES
from wps.changes import changes
from wps.content import content, content_of
from wps.forms.groups import PER_PROCESS, SELDOM, shown_groups
from wps.forms.preparation import PREP, drawn_fields, preparation_fields, written_fields
from wps.forms.rows import RunRows
from wps.forms.values import ValueField, window_field
from wps.forms.widgets import Choices
from wps.models import Procedure, ProcedureRevision, ProcedureRun, Road, TestRecord
from wps.roads import prequalified_edition

SERVES = ("road", "serves_final", "serves_tack", "workstation_note")


class RevisionForm(forms.ModelForm):
    """Window, what differs by process, preparation, supporting records and runs of one draft."""

    class Meta:
        model = ProcedureRevision
        fields = ("road", "serves_final", "serves_tack", "workstation_note", "records", "cautions", "notes")

    def __init__(self, *args: Any, live_url: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.has_roads = prequalified_edition(self.instance.code) is not None
        if not self.has_roads:
            del self.fields["road"]
        else:
            self.fields["road"].help_text = gettext("what the other choice asks for appears once saved")
        # By the road on file: those are the fields that the page had when it was sent.
        self.groups = shown_groups(self.instance.code, self.instance.road)
        self._add_records()
        self._add_window()
        self._add_process_windows()
        self._add_preparation()
        self.rows = RunRows(self.data if self.is_bound else None, self.instance)
        if live_url:
            self._make_live(live_url)

    # Fields

    def _add_records(self) -> None:
        """Only records made to the same code can support the procedure."""
        field = self.fields["records"]
        field.queryset = TestRecord.objects.filter(code=self.instance.code)
        field.widget = Choices(gettext("Supporting records"), [])
        field.widget.choices = field.choices
        words = (
            gettext("records made to %(code)s") if field.queryset.exists() else gettext("none to %(code)s is on file")
        )
        field.help_text = words % {"code": self.instance.code}

    def _add_window(self) -> None:
        for _title, names in self.groups:
            for name in names:
                self.fields[name] = window_field(name, self.instance.code)
                self.initial.setdefault(name, self.instance.window.get(name))

    def _add_process_windows(self) -> None:
        shown = {name for _, names in self.groups for name in names}
        self.processes = self._stated_processes()
        self.process_names: dict[str, list[str]] = {}
        for process in self.processes if len(self.processes) > 1 else ():
            known = self.instance.process_windows.get(process, {})
            for variable in (name for name in PER_PROCESS if name in shown):
                name = f"p{process}_{variable}"
                self.fields[name] = window_field(variable, self.instance.code)
                self.initial.setdefault(name, known.get(variable))
                self.process_names.setdefault(process, []).append(name)

    def _stated_processes(self) -> list[str]:
        """The processes ticked in what was sent, or on file."""
        if self.is_bound:
            sent = self.data.getlist("process") if hasattr(self.data, "getlist") else self.data.get("process") or []
        else:
            sent = self.instance.window.get("process") or []
        known = [sent] if isinstance(sent, str) else list(sent)
        return [process for process in known if both_names("process", process) != process]

    def _add_preparation(self) -> None:
        self.fields.update(preparation_fields(self.instance.preparation))

    def _make_live(self, url: str) -> None:
        """Every value of the window is judged while it is typed."""
        for name, field in self.fields.items():
            if isinstance(field, ValueField) or name in ("records", "road"):
                # Names of fields hold letters, figures, "_" and "-" only; the dot of no process number occurs.
                field.widget.attrs |= {
                    "hx-post": f"{url}?field={name}",
                    "hx-trigger": "change, input delay:600ms",
                    "hx-target": f"#live-{name}",
                    "hx-sync": "closest form:queue last",
                }

    # Layout

    def sections(self) -> list[tuple[str, list[BoundField]]]:
        """The fields under headings, in the order of the sheet."""
        # The records come first: what each value may be follows from them.
        serves = [self[name] for name in (*SERVES, "records") if name in self.fields]
        found = [(gettext("What it serves, and the records it stands on"), serves)]
        shown = [name for _, names in self.groups for name in names]
        seldom = [name for name in shown if name in SELDOM and name not in self.instance.window]
        found += [(heading, [self[name] for name in names if name not in seldom]) for heading, names in self.groups]
        found.append((gettext("Seldom needed"), [self[name] for name in seldom]))
        for process, names in self.process_names.items():
            heading = gettext("Only for %(process)s, where it differs") % {"process": both_names("process", process)}
            found.append((heading, [self[name] for name in names]))
        found.append((gettext("Preparing and technique"), written_fields(self)))
        found.append((gettext("Cautions, notes"), [self[name] for name in ("cautions", "notes")]))
        return [(heading, fields) for heading, fields in found if fields]

    def drawn(self) -> list[BoundField]:
        """The fields that the sketch beside them follows."""
        return drawn_fields(self)

    # Reading

    def clean(self) -> dict[str, Any]:
        """The rows of runs are part of the form: an error in one keeps all from being saved."""
        cleaned = super().clean() or {}
        if not self.rows.is_valid():
            for error in self.rows.links:
                self.add_error(None, error)
        if cleaned.get("road") == Road.PREQUALIFIED and cleaned.get("records"):
            self.add_error(
                "records", gettext("A prequalified procedure rests on no records: clear them, or rest it on them.")
            )
        return cleaned

    def window(self) -> dict[str, Plain]:
        """The window as the form states it; what the form does not show stays as it was."""
        shown = [name for _, names in self.groups for name in names]
        kept = {name: value for name, value in self.instance.window.items() if name not in shown}
        stated = _stated({name: self.cleaned_data.get(name) for name in shown})
        if isinstance(ticked := stated.get("process"), list):
            stated["process"] = self._in_order_on_file(ticked)
        return kept | stated

    def _in_order_on_file(self, ticked: list[Plain]) -> list[Plain]:
        """Boxes to tick come in the order of their list; on file the process of the root stands first."""
        held = self.instance.window.get("process") or []
        on_file = [held] if isinstance(held, str) else list(held)
        return [one for one in on_file if one in ticked] + [one for one in ticked if one not in on_file]

    def process_windows(self) -> dict[str, dict[str, Plain]]:
        """What differs by process; a process that is no longer ticked takes its entries with it."""
        found = {
            process: _stated({VARIABLES[name.split("_", 1)[1]].name: self.cleaned_data.get(name) for name in names})
            for process, names in self.process_names.items()
        }
        return {process: values for process, values in found.items() if values}

    def preparation(self) -> dict[str, str]:
        """The preparation as text."""
        stated = {name.removeprefix(PREP): v for name, v in self.cleaned_data.items() if name.startswith(PREP)}
        return {name: value for name, value in stated.items() if value}

    def runs(self) -> list[ProcedureRun]:
        """The stated runs, not saved."""
        return self.rows.runs(self.instance)

    def differences(self, current: ProcedureRevision) -> list[tuple[str, str, str]]:
        """What is on file now and what this form would save, where they differ: for two people saving at once."""
        proposed = ProcedureRevision(
            code=current.code,
            road=self.cleaned_data.get("road", current.road),
            window=self.window(),
            process_windows=self.process_windows(),
            preparation=self.preparation(),
            **{name: self.cleaned_data.get(name) for name in self._meta.fields if name not in ("records", "road")},
        )
        mine = content_of(proposed, self.runs(), self.cleaned_data.get("records") or ())
        return [(change.label, change.before, change.after) for change in changes(content(current), mine)]

    def save(self, commit: bool = True) -> ProcedureRevision:
        """Window, preparation, records and runs together."""
        revision = self.instance
        revision.window, revision.process_windows = self.window(), self.process_windows()
        revision.preparation = self.preparation()
        super().save(commit=commit)
        if commit:
            self.rows.save(revision)
        return revision


def _stated(values: Mapping[str, Plain]) -> dict[str, Plain]:
    return {name: value for name, value in values.items() if value not in (None, "", [])}


class ProcedureForm(forms.ModelForm):
    """A new procedure: number, title and the code that it is qualified to."""

    code = forms.ChoiceField(label=_("Standard and edition"))

    class Meta:
        model = Procedure
        fields = ("number", "title")

    def __init__(self, *args: Any, codes: list[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # Chosen, never taken as it stands: what is qualified to another standard cannot be put right by a click.
        self.fields["code"].choices = [("", _("choose one")), *codes] if len(codes) > 1 else codes


class ReasonForm(forms.Form):
    """Why something ends."""

    reason = forms.CharField(
        label=_("Why"), max_length=300, widget=forms.Textarea(attrs={"rows": 3}), help_text=_("kept with the revision")
    )

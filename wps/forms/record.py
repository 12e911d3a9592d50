"""The form of a test record: its head, its test pieces as the code asks, what was measured, what was found."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS
from django.forms import BoundField
from django.utils.translation import gettext

from codes.editions import Edition, edition
from codes.parse import BadField, Plain
from register.base.figures import sentence
from register.base.forms import DateField
from wps.forms.groups import by_heading, speaks_iso
from wps.forms.measured import METHODS, MeasuredRows
from wps.forms.values import hint, tested_field
from wps.models import FROZEN, TestRecord

MOST_PIECES = 12
DATES = ("welded_on", "issued_on", "withdrawn_on", "last_used_on")


class RecordForm(forms.ModelForm):
    """One record to the code of its instance. Fields of piece n are named "piece<n>_<variable>"."""

    class Meta:
        model = TestRecord
        fields = ("number", "route", "level", "manufacturer", "examiner", *DATES, "notes")
        field_classes = dict.fromkeys(DATES, DateField)
        widgets = dict.fromkeys(DATES, DateField.widget)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.edition: Edition = edition(self.instance.code)
        self.names = [field.name for field in self.edition.fields if field.name != "level"]
        level = next((field for field in self.edition.fields if field.name == "level"), None)
        if level is None:
            del self.fields["level"]
        else:
            self.fields["level"].required = level.needed == "always"
            self.fields["level"].help_text = hint(level)
        if not speaks_iso(self.instance.code):
            # The five routes are those of ISO 15607; AWS and ASME know a test, or none.
            del self.fields["route"]
        self._ask_why()
        self.pieces = self._piece_count()
        for piece in range(self.pieces):
            self._add_piece(piece)
        if self.wants_piece:
            # Whoever asked for the piece goes on there, not at the top of the page.
            first = by_heading(self.names, "")[0][1][0]
            self.fields[f"piece{self.pieces - 1}_{first}"].widget.attrs["data-focus"] = True
        for key, label in METHODS:
            initial = self.instance.results.get(key)
            self.fields[f"result_{key}"] = forms.CharField(label=label, required=False, max_length=200, initial=initial)
        self.rows = MeasuredRows(self.data if self.is_bound else None, self.instance.runs)

    def _ask_why(self) -> None:
        """Where an approved procedure rests on the record, changing it takes a reason."""
        if self.instance.pk and self.instance.supports.filter(status__in=FROZEN).exists():
            self.fields["reason"] = forms.CharField(
                label=gettext("Why it is changed"),
                max_length=300,
                widget=forms.Textarea(attrs={"rows": 2}),
                help_text=gettext("shown on the page of each procedure that rests on this record"),
            )

    def _piece_count(self) -> int:
        if not self.is_bound:
            return max(len(self.instance.pieces), 1)
        text = str(self.data.get("piece_count", "1"))
        count = int(text) if text.isdecimal() and len(text) < 3 else 1
        return min(max(count, 1) + ("add_piece" in self.data), MOST_PIECES)

    def _add_piece(self, piece: int) -> None:
        known = self.instance.pieces[piece] if piece < len(self.instance.pieces) else {}
        for stated in self.edition.fields:
            if stated.name == "level":
                continue
            field = tested_field(stated, self.instance.code)
            # Only the first piece must state everything: a further one left blank is left out.
            field.required = field.required and piece == 0
            self.fields[f"piece{piece}_{stated.name}"] = field
            self.initial.setdefault(f"piece{piece}_{stated.name}", known.get(stated.name))

    @property
    def wants_piece(self) -> bool:
        """True where the form was sent to get the fields of one more test piece."""
        return self.is_bound and "add_piece" in self.data

    def sections(self) -> list[tuple[str, list[BoundField]]]:
        """The fields under headings."""
        head = [
            name for name in ("number", "route", "level", "manufacturer", "examiner", *DATES) if name in self.fields
        ]
        found = [(gettext("Record"), [self[name] for name in head])]
        for piece in range(self.pieces):
            start = (
                gettext("Test piece %(number)s") % {"number": piece + 1} if self.pieces > 1 else gettext("Test piece")
            )
            for heading, names in by_heading(self.names, gettext("Tests made and other facts")):
                words = f"{start}: {heading[0].lower()}{heading[1:]}"
                found.append((words, [self[f"piece{piece}_{name}"] for name in names]))
        found.append((gettext("Results"), [self[f"result_{key}"] for key, _ in METHODS]))
        why = [self["reason"]] if "reason" in self.fields else []
        return [*found, (gettext("Notes"), [self["notes"], *why])]

    def clean(self) -> dict[str, Any]:
        """The measured runs are part of the form: an error in one keeps all from being saved."""
        cleaned = super().clean() or {}
        if not self.rows.is_valid():
            for error in self.rows.links:
                self.add_error(None, error)
        for piece in range(1, self.pieces):
            self._ask_for_all(piece, cleaned)
        # Set before the model looks at itself; an error keeps the record from being saved.
        self.instance.pieces = self.stated_pieces()
        if not self.errors and self.instance.pieces:
            self._try_limits()
        return cleaned

    def _post_clean(self) -> None:
        """That no test piece is stated is no news where the fields of the first one say what is missing."""
        own = list(self.non_field_errors())
        super()._post_clean()
        if any(name.startswith("piece0_") for name in self.errors):
            self._errors.pop(NON_FIELD_ERRORS, None)
            for error in own:
                self.add_error(None, error)

    def _try_limits(self) -> None:
        """What the code's own rules refuse is refused here, in their words."""
        self.instance.level = self.cleaned_data.get("level", self.instance.level)
        try:
            self.instance.limit_sets()
        except (ValueError, LookupError) as problem:
            if isinstance(problem, BadField) and problem.field in self.fields:
                self.add_error(problem.field, sentence(problem.problem))
                return
            self.add_error(None, gettext("These test pieces cannot be judged: %(problem)s") % {"problem": problem})

    def _ask_for_all(self, piece: int, cleaned: Mapping[str, Any]) -> None:
        """A further piece that states anything must state what the first one must."""
        names = {field.name: f"piece{piece}_{field.name}" for field in self.edition.fields if field.name != "level"}
        if not any(cleaned.get(name) is not None for name in names.values()):
            return
        for field in self.edition.fields:
            name = names.get(field.name)
            if name and field.needed == "always" and cleaned.get(name) is None and name not in self.errors:
                self.add_error(name, gettext("This must be stated of every test piece."))

    def stated_pieces(self) -> list[dict[str, Plain]]:
        """The test pieces in plain form; what the form does not show stays as it was."""
        found = []
        for piece in range(self.pieces):
            known = self.instance.pieces[piece] if piece < len(self.instance.pieces) else {}
            kept = {name: value for name, value in known.items() if name not in self.names}
            values = {name: self.cleaned_data.get(f"piece{piece}_{name}") for name in self.names}
            stated = {name: value for name, value in values.items() if value not in (None, "", [])}
            if stated:
                found.append(kept | stated)
        return found

    def save(self, commit: bool = True) -> TestRecord:
        """Head, pieces, runs and results together."""
        record = self.instance
        record.runs = self.rows.rows()
        record.results = {key: v for key, _ in METHODS if (v := self.cleaned_data.get(f"result_{key}"))}
        return super().save(commit=commit)

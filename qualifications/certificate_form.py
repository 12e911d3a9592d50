"""The form of a certificate: what is printed on it, its test pieces, its results, the conditions of its option."""

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.confirmations import OPTION_C_FACTS
from codes.editions import Edition
from codes.parse import Plain
from qualifications.clocks import takes
from qualifications.methods import METHODS, SPECIMENS, methods_of
from qualifications.models import Certificate, CertificateEvent
from qualifications.pieces import field_name, piece_fields, piece_initial, piece_of
from register.base.forms import DateField

RESULTS = [
    ("", _("not stated")),
    ("accepted", _("performed and accepted")),
    ("not required", _("not required")),
    ("rejected", _("performed and rejected")),
]
YES_NO = [("", _("not stated")), ("yes", _("yes")), ("no", _("no"))]
PARTS = [
    ("", _("not stated")),
    ("2", _("ISO 3834-2")),
    ("3", _("ISO 3834-3")),
    ("4", _("ISO 3834-4")),
    ("none", _("none")),
]
FACT_CHOICES = {"same_manufacturer": YES_NO, "iso_3834": PARTS, "quality_documented": YES_NO}


class CertificateForm(forms.ModelForm):
    """A certificate of one edition. `edition` None: an edition that the register does not hold, recorded only.

    Nothing but number, kind and welding date is needed to save; what is missing shows as "not stated" in the range.
    """

    use_required_attribute = False

    welded_on = DateField(
        label=_("Test piece welded on"), help_text=_("Validity starts here, not on the day of issue.")
    )
    results_on = DateField(required=False, label=_("All results accepted on"))
    issued_on = DateField(required=False, label=_("Issued on"))
    option = forms.ChoiceField(
        choices=[("", _("not stated")), *Certificate.Option.choices],
        required=False,
        label=_("Revalidation option"),
        help_text=_("As chosen and printed at issue; without it nothing is valid."),
    )
    printed_until = DateField(
        required=False,
        label=_("Valid until, as printed"),
        help_text=_("An earlier date wins; a later one extends nothing."),
    )

    class Meta:
        model = Certificate
        fields = (
            "kind",
            "number",
            "designation",
            "wps",
            "examiner",
            "examining_body",
            "employer_then",
            "welded_on",
            "results_on",
            "issued_on",
            "option",
            "printed_until",
            "job_knowledge",
            "notes",
        )
        widgets = {"notes": forms.Textarea(attrs={"rows": 3}), "designation": forms.TextInput(attrs={"class": "long"})}

    def __init__(self, *args: Any, edition: Edition | None, pieces: int, drafts: Sequence[Mapping[str, Plain]] = (),
                 **kwargs: Any) -> None:  # fmt: skip
        super().__init__(*args, **kwargs)
        self.edition = edition
        self.piece_count = pieces if edition is not None else 0
        if edition is not None:
            kinds = [choice for choice in Certificate.Kind.choices if choice[0] in edition.kinds]
            self.fields["kind"].choices = kinds if len(kinds) == 1 else [("", "choose one"), *kinds]
        self._add_pieces(drafts or self.instance.pieces)
        self.methods = methods_of(edition.key if edition is not None else "")
        self._add_choices("result", self.methods, dict.fromkeys(METHODS, RESULTS), self.instance.results)
        for name, label in SPECIMENS.items():
            self.fields[f"result_{name}"] = forms.IntegerField(min_value=0, max_value=20, required=False, label=label)
            self.initial[f"result_{name}"] = self.instance.results.get(name)
        if edition is not None and takes(edition, CertificateEvent.Kind.USE):
            # What lives on use has no options of revalidation.
            del self.fields["option"]
        else:
            self._add_choices("fact", OPTION_C_FACTS, FACT_CHOICES, self.instance.facts)

    def _add_pieces(self, stored: Sequence[Mapping[str, Plain]]) -> None:
        for index in range(self.piece_count):
            if self.edition is not None:
                self.fields.update(piece_fields(self.edition, index))
                if index < len(stored):
                    self.initial.update(piece_initial(self.edition, index, stored[index]))

    def _add_choices(
        self, prefix: str, labels: Mapping[str, str], choices: Mapping[str, list[tuple[str, str]]], stored: Plain
    ) -> None:
        known = stored if isinstance(stored, dict) else {}
        for name, label in labels.items():
            key = f"{prefix}_{name}"
            self.fields[key] = forms.ChoiceField(choices=choices[name], required=False, label=_capital(label))
            self.initial[key] = known.get(name, "")

    @property
    def plan(self) -> list[tuple[str, list[str]]]:
        """The headings of the form and the fields below each."""
        pieces = [
            (
                gettext("Test piece %(number)s") % {"number": index + 1},
                [field_name(index, stated.name) for stated in self.edition.fields],
            )
            for index in range(self.piece_count)
            if self.edition is not None
        ]
        printed = ["number", "kind", "designation", "wps", "examiner", "examining_body", "employer_then"]
        return [
            (gettext("As printed"), printed),
            (
                gettext("Dates and option") if "option" in self.fields else gettext("Dates"),
                ["welded_on", "results_on", "issued_on", "option", "printed_until"],
            ),
            *pieces,
            (gettext("Conditions of option c"), [f"fact_{name}" for name in OPTION_C_FACTS]),
            (gettext("Test results"), [*(f"result_{name}" for name in (*self.methods, *SPECIMENS)), "job_knowledge"]),
            (gettext("Notes"), ["notes"]),
        ]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        welded = data.get("welded_on")
        if welded and welded > timezone.localdate():
            self.add_error("welded_on", gettext("This day is still to come; the test piece was welded before."))
        for name, what in (
            ("results_on", "The results cannot have been accepted"),
            ("issued_on", "It cannot be issued"),
        ):
            if welded and data.get(name) and data[name] < welded:
                self.add_error(
                    name,
                    gettext("%(what)s before the test piece was welded, on %(welded)s.")
                    % {"what": what, "welded": welded.isoformat()},
                )
        return data

    def save(self, commit: bool = True) -> Certificate:
        """The certificate with pieces, results and facts."""
        certificate: Certificate = self.instance
        if self.edition is not None:
            certificate.pieces = self._pieces(certificate.pieces)
        certificate.results = self._said("result", self.methods | SPECIMENS)
        kept = {name: fact for name, fact in certificate.facts.items() if name not in OPTION_C_FACTS}
        certificate.facts = kept | self._said("fact", OPTION_C_FACTS)
        return super().save(commit)

    def _pieces(self, stored: Sequence[Mapping[str, Plain]]) -> list[dict[str, Plain]]:
        assert self.edition is not None
        before = [*stored, *({} for _ in range(self.piece_count))]
        found = [piece_of(self.edition, i, self.cleaned_data, before[i]) for i in range(self.piece_count)]
        return [piece for piece in found if piece]

    def _said(self, prefix: str, names: Mapping[str, str]) -> dict[str, str]:
        said = {name: str(self.cleaned_data.get(f"{prefix}_{name}") or "") for name in names}
        return {name: value for name, value in said.items() if value}


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]

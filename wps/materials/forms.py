"""The form of a material certificate; the analysis is typed element by element, a comma is as good as a point."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.calc.inputs import decimal_of
from codes.delivery import after_the_name, in_the_name, one_name
from codes.parse import BadField
from codes.values import number
from register.base.figures import read_by_us, sentence
from register.base.forms import DateField
from register.calculations.typed import ELEMENTS
from wps.materials.models import MaterialCertificate

PLAN = (
    (_("Steel"), ("grade", "standard", "heat_number", "delivery_condition", "thickness_min_mm", "thickness_max_mm")),
    (_("Certificate"), ("document_reference", "document_type", "maker", "issued_on")),
    (_("Analysis, mass %"), ("analysis_kind", *(f"analysis_{element}" for element in ELEMENTS))),
    (_("Mechanical values"), ("yield_mpa", "tensile_mpa", "elongation_pct", "impact_j", "impact_temperature_c")),
    (_("Notes"), ("notes",)),
)


class MaterialForm(forms.ModelForm):
    """Enter what the certificate states; what it leaves out stays unknown."""

    issued_on = DateField(label=_("Issued on"), required=False)

    class Meta:
        model = MaterialCertificate
        exclude = ("analysis",)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        on_file = self.instance.analysis or {}
        read_by_us(self)
        for field in self.fields.values():
            field.error_messages["min_value"] = _("Must be more than 0; leave it empty where it is not known.")
        for element in ELEMENTS:
            field = forms.CharField(label=element, required=False, initial=on_file.get(element, ""))
            field.widget.attrs.update({"inputmode": "decimal", "autocomplete": "off"})
            self.fields[f"analysis_{element}"] = field

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        # Elements that have no field here stay as they are on file.
        found = {e: share for e, share in (self.instance.analysis or {}).items() if e not in ELEMENTS}
        for element in ELEMENTS:
            text = (cleaned.get(f"analysis_{element}") or "").strip()
            if text:
                self._read(element, text, found)
        self.instance.analysis = found
        if found and not cleaned.get("analysis_kind"):
            self.add_error("analysis_kind", gettext("Say whether this is the analysis of the product or of the ladle."))
        if sum(map(Decimal, found.values()), Decimal(0)) > 100:
            self.add_error("analysis_C", gettext("The elements add up to more than 100 %."))
        least, most = cleaned.get("thickness_min_mm"), cleaned.get("thickness_max_mm")
        if least is not None and most is not None and most < least:
            self.add_error("thickness_max_mm", gettext("The thickness ends before it begins."))
        self._condition_once(cleaned.get("grade") or "", cleaned.get("delivery_condition") or "")
        return cleaned

    def _condition_once(self, grade: str, condition: str) -> None:
        """The grade says its delivery condition at most once, and the field beside it no other."""
        base, named, added = grade.split("+")[0].strip(), in_the_name(grade), after_the_name(grade)
        if named in added:
            said = gettext("The name %(base)s says +%(named)s already: leave it off.")
            self.add_error("grade", said % {"base": base, "named": named})
        elif len(set(added)) < len(added):
            self.add_error("grade", gettext("+%(added)s stands in it twice.") % {"added": added[0]})
        elif len(stated := tuple(filter(None, (named, *added)))) > 1:
            said = gettext("Delivered either +%(first)s or +%(second)s, not both.")
            self.add_error("grade", said % {"first": stated[0], "second": stated[1]})
        elif stated and one_name(condition) not in ("", stated[0]):
            said = gettext("%(grade)s is delivered +%(stated)s; leave the field empty or correct the grade.")
            self.add_error("delivery_condition", said % {"grade": grade, "stated": stated[0]})

    def _read(self, element: str, text: str, found: dict[str, str]) -> None:
        try:
            share = decimal_of(element, text)
        except BadField as bad:
            self.add_error(f"analysis_{element}", sentence(bad.problem))
            return
        if not 0 <= share < 100:
            self.add_error(
                f"analysis_{element}",
                gettext("%(share)s %% is not a mass percentage from 0 to below 100.") % {"share": number(share)},
            )
            return
        found[element] = number(share)

    def differences(self, current: MaterialCertificate) -> list[tuple[str, str, str]]:
        """(label, theirs, yours) where they differ, for two people who saved at once."""
        rows = []
        for name, field in self.fields.items():
            element = name.removeprefix("analysis_")
            theirs = current.analysis.get(element, "") if element in ELEMENTS else getattr(current, name, "")
            yours = self.instance.analysis.get(element, "") if element in ELEMENTS else self.cleaned_data.get(name)
            if (theirs or "") != (yours or ""):
                rows.append((str(field.label), str(theirs or ""), str(yours or "")))
        return rows

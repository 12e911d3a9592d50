"""Material certificates: what the analysis gives, what is unknown, and entries that are refused at their field."""

from collections.abc import Callable
from decimal import Decimal as D
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from codes.units import System
from wps.materials.equivalents import Worked, equivalents, missing_elements
from wps.materials.forms import MaterialForm
from wps.materials.models import MaterialCertificate
from wps.materials.words import energy_in, span_words

ANALYSIS = {"C": "0.16", "Si": "0.3", "Mn": "1.4", "Cu": "0.03", "Ni": "0.03", "Cr": "0.04", "Mo": "0.005",
            "V": "0.003", "Nb": "0.02"}  # fmt: skip
REQUIRED = {"grade": "S355J2+N", "heat_number": "48213", "document_reference": "A 1077", "analysis_kind": "product"}


def entered(**changed: str) -> dict[str, str]:
    return REQUIRED | {f"analysis_{element}": share for element, share in ANALYSIS.items()} | changed


def worked(name: str, **changed: str | None) -> Worked:
    analysis = {e: D(share) for e, share in (ANALYSIS | changed).items() if share is not None}
    return next(one for one in equivalents(analysis) if one.name == name)


class TestEquivalents:
    """The figures of the same steel in the check cases of the calculations."""

    @pytest.mark.parametrize(("name", "said"), [("CE", "0.41 % (0.407 %)"), ("CET", "0.30 % (0.305 %)")])
    def test_values(self, name: str, said: str) -> None:
        assert worked(name).said == said

    def test_what_is_not_stated_is_named(self) -> None:
        pcm = worked("Pcm")
        assert pcm.value is None
        assert pcm.said == "not known: B not stated"
        assert worked("Pcm", B="0").value is not None

    def test_missing_elements_in_order(self) -> None:
        assert missing_elements_of_carbon() == ("C", "Mn", "Cr", "Mo", "V", "Ni", "Cu")

    def test_outside_the_composition_box_it_is_refused_with_the_reason(self) -> None:
        """CET serves 0.05 to 0.32 % carbon."""
        assert worked("CET", C="0.32").value is not None
        assert "C 0.321 % is outside 0.05 to 0.32 %" in worked("CET", C="0.321").said


def missing_elements_of_carbon() -> tuple[str, ...]:
    from codes.calc.carbon import CE

    return missing_elements(CE, {})


@pytest.mark.parametrize(
    ("lo", "hi", "said"),
    [(None, None, ""), ("16", None, "from 16"), (None, "40.0", "up to 40"), ("16", "40", "16 to 40"), ("8", "8", "8")],
)
def test_span_words(lo: str | None, hi: str | None, said: str) -> None:
    assert span_words(D(lo) if lo else None, D(hi) if hi else None) == said


@pytest.mark.django_db
class TestForm:
    def test_a_comma_is_as_good_as_a_point(self) -> None:
        form = MaterialForm(entered(analysis_C="0,16", yield_mpa="382,5"))
        assert form.is_valid(), form.errors
        saved = form.save()
        assert saved.analysis == ANALYSIS
        assert saved.yield_mpa == D("382.5")

    @pytest.mark.parametrize(
        ("field", "text", "problem"),
        [
            ("analysis_C", "a lot", "is not a number"),
            ("analysis_C", "-0.1", "not a mass percentage"),
            ("analysis_C", "100", "not a mass percentage"),
            ("analysis_kind", "", "product or of the ladle"),
            ("yield_mpa", "0", "more than 0"),
            ("heat_number", "", "required"),
            ("document_reference", "", "required"),
        ],
    )
    def test_refused_at_the_field(self, field: str, text: str, problem: str) -> None:
        form = MaterialForm(entered(**{field: text}))
        assert not form.is_valid()
        assert problem in " ".join(form.errors[field])
        assert not MaterialCertificate.objects.exists()

    @pytest.mark.parametrize(
        ("grade", "condition", "field", "problem"),
        [
            ("S690QL", "QT", None, ""),
            ("S690QL", "", None, ""),
            ("S690QL", "N", "delivery_condition", "S690QL is delivered +QT"),
            ("S690QL+QT", "", "grade", "The name S690QL says +QT already: leave it off"),
            ("S460ML", "M", None, ""),
            ("S460ML+M", "M", "grade", "The name S460ML says +M already: leave it off"),
            ("S460ML", "AR", "delivery_condition", "S460ML is delivered +M"),
            ("S420NL", "N", None, ""),
            ("S355NH+N", "", "grade", "The name S355NH says +N already: leave it off"),
            ("S355J2+N", "N", None, ""),
            ("S355J2+N", "AR", "delivery_condition", "S355J2+N is delivered +N"),
            ("S355J2+N+Z25", "N", None, ""),
            ("S355J2+N+N", "", "grade", "+N stands in it twice"),
            ("S355J2+N+AR", "", "grade", "Delivered either +N or +AR, not both"),
            ("S355J2", "AR", None, ""),
            ("S355J2H", "N", None, ""),
            ("A36", "AR", None, ""),
        ],
    )
    def test_a_delivery_condition_is_said_once(
        self, grade: str, condition: str, field: str | None, problem: str
    ) -> None:
        """The letter behind the strength is the condition: EN 10025-3 N, EN 10025-4 M, EN 10025-6 Q."""
        form = MaterialForm(entered(grade=grade, delivery_condition=condition))
        assert form.is_valid() == (field is None), form.errors
        if field:
            assert problem in " ".join(form.errors[field])

    def test_a_band_that_ends_before_it_begins(self) -> None:
        form = MaterialForm(entered(thickness_min_mm="40", thickness_max_mm="39.9"))
        assert form.errors == {"thickness_max_mm": ["The thickness ends before it begins."]}
        assert MaterialForm(entered(thickness_min_mm="40", thickness_max_mm="40")).is_valid()

    def test_the_same_heat_once_per_certificate(self) -> None:
        MaterialForm(entered()).save()
        assert "on file already" in str(MaterialForm(entered()).errors)
        assert MaterialForm(entered(document_reference="A 1078")).is_valid()

    def test_elements_without_a_field_stay(self) -> None:
        one = MaterialCertificate(grade="S355J2", heat_number="1", document_reference="1", analysis={"As": "0.01"})
        form = MaterialForm(entered(), instance=one)
        assert form.is_valid()
        assert form.save().analysis["As"] == "0.01"


@pytest.mark.django_db
class TestPages:
    @pytest.fixture
    def certificate(self) -> MaterialCertificate:
        return MaterialForm(entered(thickness_max_mm="40")).save()

    def test_the_page(self, certificate: MaterialCertificate, client_of: Callable[[str], Client]) -> None:
        said = client_of("auditor").get(certificate.get_absolute_url()).content.decode()
        for words in (
            "0.407 %",
            "0.305 %",
            "not known: B not stated",
            "Not stated, so not known: P, S",
            "up to 40 mm",
        ):
            assert words in said
        assert "Change" not in said

    @pytest.mark.parametrize(
        ("grade", "condition", "shown"),
        [
            ("S690QL", "QT", "S690QL"),
            ("S355J2", "N", "S355J2+N"),
            ("S355J2+N", "N", "S355J2+N"),
            ("A36", "AR", "A36+AR"),
        ],
    )
    def test_the_page_names_the_condition_once(
        self, grade: str, condition: str, shown: str, client_of: Callable[[str], Client]
    ) -> None:
        one = MaterialForm(entered(grade=grade, delivery_condition=condition)).save()
        said = " ".join(client_of("auditor").get(one.get_absolute_url()).content.decode().split())
        assert f"<dd>{shown}</dd>" in said or f">{shown}<" in said
        assert "S690QL+QT" not in said and "+N+N" not in said

    def test_the_list(self, certificate: MaterialCertificate, client_of: Callable[[str], Client]) -> None:
        said = client_of("auditor").get(reverse("wps:material_list"), {"q": "48213"}).content.decode()
        assert ">0.41<" in said and "0.407" not in said
        assert "not known" in said

    def test_entering(self, client_of: Callable[[str], Client]) -> None:
        coordinator = client_of("coordinator")
        response: Any = coordinator.post(reverse("wps:material_new"), entered())
        assert response.status_code == 302
        one = MaterialCertificate.objects.get()
        assert one.history.first().history_user_name
        changed = coordinator.post(
            reverse("wps:material_edit", args=[one.pk]),
            entered(analysis_C="0.17", seen_version=one.changed_at.isoformat()),
        )
        assert changed.status_code == 302
        one.refresh_from_db()
        assert one.analysis["C"] == "0.17"

    def test_two_people_at_once(self, certificate: MaterialCertificate, client_of: Callable[[str], Client]) -> None:
        response = client_of("coordinator").post(
            reverse("wps:material_edit", args=[certificate.pk]), entered(analysis_C="0.18", seen_version="older")
        )
        assert response.status_code == 409
        said = response.content.decode()
        assert "0.16" in said
        assert "0.18" in said

    def test_a_scan(self, certificate: MaterialCertificate, client_of: Callable[[str], Client]) -> None:
        data = b"%PDF-1.7\n1 0 obj<<>>endobj\ntrailer<<>>\nstartxref\n0\n%%EOF\n"
        sent = {"file": SimpleUploadedFile("certificate.pdf", data), "note": "3.1"}
        answer = client_of("coordinator").post(reverse("wps:material_scan", args=[certificate.pk]), sent)
        assert answer.status_code == 302
        assert "certificate.pdf" in client_of("auditor").get(certificate.get_absolute_url()).content.decode()


@pytest.mark.parametrize(
    ("joules", "said"), [("27", "19.9 ft·lbf (27 J)"), ("96", "70.8 ft·lbf (96 J)"), ("28", "20.6 ft·lbf (28 J)")]
)
def test_impact_energy_in_foot_pounds(joules: str, said: str) -> None:
    """NIST SP 811, appendix B: 1 ft·lbf = 1.355 818 J; 28 J is 20.65 ft·lbf, said as 20.6."""
    assert energy_in(D(joules), System.US) == said
    assert energy_in(D(joules), System.SI) == f"{joules} J"

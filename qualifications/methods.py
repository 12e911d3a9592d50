"""The tests that a certificate states results of, and those that its standard asks for and it does not show."""

from collections.abc import Mapping

from codes.iso_9606_1_2012.examination import MissingTest, missing_tests
from codes.parse import BadField
from qualifications.models import Certificate
from qualifications.offers import tested

METHODS = {
    "vt": "Visual (VT)",
    "rt": "Radiography (RT)",
    "ut": "Ultrasonic (UT)",
    "bend": "Bend",
    "fracture": "Fracture",
    "notched_tensile": "Notched tensile",
    "macro": "Macro",
    "supplementary_vt": "Visual, supplementary fillet",
    "supplementary_fracture": "Fracture, supplementary fillet",
    "additional": "Additional",
}
SPECIMENS = {"bend_root": "Root bends", "bend_face": "Face bends", "bend_side": "Side bends"}
"""How many bend specimens were tested."""

ALL = METHODS | SPECIMENS
WELDER = "ISO 9606-1:2012"


def methods_of(code: str) -> dict[str, str]:
    """The methods on the form of a standard; the supplementary fillet belongs to ISO 9606-1 alone (5.4 e)."""
    return {name: label for name, label in METHODS.items() if code == WELDER or not name.startswith("supplementary")}


def tests_not_shown(certificate: Certificate) -> tuple[str, ...]:
    """A sentence for each test that the certificate should show as accepted and does not; ISO 9606-1 only.

    A certificate without any result states none, which is said once.
    """
    found = tests_lacking(certificate)
    if found is None:
        return ("No test result is on file.",)
    return tuple(dict.fromkeys(f"{m.test}: {m.because} ({m.clause})." for m in found))


def tests_lacking(certificate: Certificate) -> tuple[MissingTest, ...] | None:
    """What `tests_not_shown` tells; None where no result at all is on file of a certificate that should show some."""
    if certificate.code != WELDER or certificate.kind != Certificate.Kind.WELDER:
        return ()
    results = _as_text(certificate.results)
    if not results:
        return None
    try:
        pieces = tested(certificate)
    except BadField:
        return ()
    return tuple(missing for piece in pieces for missing in missing_tests(piece, results))


def _as_text(plain: object) -> Mapping[str, str]:
    return {str(k): str(v) for k, v in plain.items()} if isinstance(plain, dict) else {}

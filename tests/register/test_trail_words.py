"""What an entry holds is said as the screens say it: names of the trade, units, ranges; the entry itself stays."""

from typing import Any

import pytest
from django.utils.safestring import SafeString

from register.judged_words.fact_names import name_words, unit_of
from register.trail.words import folded, said

HELD = [
    # A printed paper and the units of a reader: names of the choices, no tokens.
    ({"paper": "a4", "units": "si"}, "paper: A4; units: SI units"),
    ({"paper": "letter", "units": "us"}, "paper: Letter; units: US customary units"),
    ({"paper": "a3"}, "paper: a3"),
    # A sheet: its kind as the pages name it, its check code as it is printed.
    ({"check_code": "RXB7JSA7UO", "kind": "cell"}, "check code: RXB7J-SA7UO; kind: sheet for the cell"),
    # Terms of the codes, single and in a row.
    ({"process": ["136", "111"]}, "process: 136 · FCAW-G, 111 · SMAW"),
    ({"power_output": ["cv"], "unit_system": "us"},
     "output of the power source: constant voltage; unit system: US customary"),
    ({"road": "prequalified"}, "rests on: prequalified by the code, without a test"),
    # Figures with their unit, without idle zeros; a range has its unit once.
    ({"speed_min_mm_min": "254.000", "current_max_a": "260.0"}, "speed from: 254 mm/min; current to: 260 A"),
    ({"angle_deg": "60", "runs": "4"}, "angle: 60°; runs: 4"),
    ({"parent_t": {"min": "6.35", "max": "19.05"}}, "parent thickness: 6.35 to 19.05 mm"),
    ({"diameter": {"min": "500"}}, "outside diameter: from 500 mm"),
    ({"deposit_t": {"max": "10"}, "preheat": "20"}, "deposited thickness: up to 10 mm; preheat: 20 °C"),
    ({"parent_t": {"min": "9", "max": "3"}}, "parent thickness: (min: 9; max: 3)"),
    # Parent materials as they are named elsewhere.
    ({"steels": [{"group": "1.1", "yield_mpa": "275"}, {"group": "", "yield_mpa": None, "grade": "A36"}]},
     "parent materials: group 1.1, 275 MPa + A36"),
    # Facts within a fact stand in brackets, those that nobody stated not at all.
    ({"signed": {"role": "welding supervisor", "account": None, "at": "2026-01-13T15:30:00.000000+00:00"}},
     "signed (role: welding supervisor; at: 2026-01-13 16:30:00)"),
    ({"layers": [{"order": 1, "note": ""}, {"order": 2}]}, "layers: (order: 1), (order: 2)"),
    ({"process_windows": {}, "until": None, "reason": ""}, "process windows: none; until: none"),
    ({"preparation": {"kind": "single_bevel"}}, "preparation (kind: single bevel)"),
    ({"kind": "none", "act": "some_new_token"}, "kind: no preparation (fillet); act: some new token"),
]  # fmt: skip


@pytest.mark.parametrize(("held", "words"), HELD)
def test_an_entry_in_words(held: dict[str, Any], words: str, settings: Any) -> None:
    settings.TIME_ZONE = "Europe/Berlin"
    assert said(held) == words


def test_what_bears_the_name_of_a_variable_and_is_another_thing() -> None:
    assert name_words("on") == "on"
    assert name_words("role") == "role"
    assert (name_words("throat_a"), unit_of("throat_a")) == ("fillet throat a", "mm")
    assert (name_words("impact_temperature_c"), unit_of("impact_temperature_c")) == ("impact temperature", "°C")


def test_what_somebody_typed_stays(settings: Any) -> None:
    typed = {"title": "Rig: tandem_trial, 2.50 mm", "note": "2.500", "evidence": "UT-0042"}
    assert said(typed) == "title: Rig: tandem_trial, 2.50 mm; note: 2.500; evidence: UT-0042"
    assert not isinstance(folded({"note": "<b>"}), SafeString)  # so the page escapes it

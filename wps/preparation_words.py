"""What a preparation states, in words and in the reader's units."""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from codes.units import System, amount_in
from wps.forms.preparation import THICKNESSES
from wps.preparation import NUMBERS, TEXTS, kind_words
from wps.sketch.preparation import WORDS

ARRANGED = {"arrangement": "How the parts meet", "sides": "Welded from"}
TOKENS = {one.value: words for one, words in WORDS.items()} | {"1": "one side", "2": "both sides"}


def preparation_said(stated: Mapping[str, object], system: System = System.SI) -> dict[str, str]:
    """What a preparation states: label to words, in the reader's units. What is not stated is left out.

    Example: {"gap_mm": "3"} is {"Root gap": "3 mm"}, in US units {"Root gap": "0.118 in"}.
    """
    found = {"Preparation": kind_words(str(stated.get("kind") or ""))}
    for name, label in ARRANGED.items():
        token = str(stated.get(name) or "")
        found[label] = TOKENS.get(token, token)
    labels = [*NUMBERS, *THICKNESSES, *((name, label) for name, label, _ in TEXTS)]
    for name, label in labels:
        bare, _, unit = str(label).partition(", ")
        found[bare] = _with_unit(str(stated.get(name) or "").strip(), unit, system)
    return {label: said for label, said in found.items() if said}


def _with_unit(text: str, unit: str, system: System) -> str:
    """A figure with its unit; a range or a remark stands as it was written, in the unit of its field."""
    if not text or not unit:
        return text
    try:
        return amount_in(Decimal(text), unit, system)
    except InvalidOperation:
        return f"{text} {unit}" if text[-1].isdigit() else text

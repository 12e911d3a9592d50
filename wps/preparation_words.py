"""What a preparation states, in words and in the reader's units."""

from collections.abc import Mapping

from codes.units import System
from wps.forms.preparation import THICKNESSES
from wps.preparation import NUMBERS, TEXTS, kind_words
from wps.sheet_prepared import stated as with_unit
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
        if text := str(stated.get(name) or "").strip():
            bare, said = with_unit(str(label), text, system)
            found[bare] = said
    return {label: said for label, said in found.items() if said}

"""What a model writes as the kind of seam, in our terms. The property is free text: what is not known is asked.

Words as in ISO 2553 and AWS A2.4. Of bare numbers only 4, 10 and 11 mean the same in the editions of ISO 2553 of 1992
and since 2013 (from memory), so no other is read.
"""

import re

FILLET, BUTT, PLUG = "fillet", "butt", "plug"
# Words without "weld", "seam", "butt" and the like -> kind, preparation where it is said.
WORDS = {
    "fillet": (FILLET, ""), "double fillet": (FILLET, ""), "10": (FILLET, ""), "a": (FILLET, ""),
    "v": (BUTT, "single_v"), "single v": (BUTT, "single_v"),
    "x": (BUTT, "double_v"), "double v": (BUTT, "double_v"), "dv": (BUTT, "double_v"),
    "hv": (BUTT, "single_bevel"), "bevel": (BUTT, "single_bevel"), "single bevel": (BUTT, "single_bevel"),
    "4": (BUTT, "single_bevel"), "k": (BUTT, "double_bevel"), "double bevel": (BUTT, "double_bevel"),
    "u": (BUTT, "single_u"), "single u": (BUTT, "single_u"), "double u": (BUTT, "double_u"),
    "j": (BUTT, "single_j"), "single j": (BUTT, "single_j"), "double j": (BUTT, "double_j"),
    "i": (BUTT, "square"), "square": (BUTT, "square"), "square edges": (BUTT, "square"),
    "y": (BUTT, "single_v"), "butt": (BUTT, ""), "full penetration": (BUTT, ""), "cjp": (BUTT, ""),
    "plug": (PLUG, ""), "slot": (PLUG, ""), "11": (PLUG, ""),
}  # fmt: skip
TWICE = {
    "single_v": "double_v", "single_bevel": "double_bevel", "single_u": "double_u", "single_j": "double_j",
}  # fmt: skip
"""The same seam from both sides."""


def seam_of(first: object, second: object) -> tuple[str, str, bool, list[str]]:
    """Kind, preparation, whether it is made from both sides, and what to ask. Example: ("V", "V") is a double V."""
    notes: list[str] = []
    one, other = _read(first, notes), _read(second, notes)
    kind, preparation = one or other or ("", "")
    both = one is not None and other is not None
    if both and one != other and other is not None:
        if one[0] != other[0]:
            notes.append(f"one side is written “{first}”, the other “{second}”: a joint of its own for each")
        preparation = ""
    elif both:
        preparation = TWICE.get(preparation, preparation)
    return kind, preparation, both, notes


def _read(said: object, notes: list[str]) -> tuple[str, str] | None:
    text = str(said or "").strip()
    if not text:
        return None
    plain = re.sub(r"[\s_-]+", " ", text.casefold())
    plain = re.sub(r"\b(weld|welds|seam|groove|joint|shaped)\b", "", plain).strip()
    plain = re.sub(r"\s+", " ", plain)
    found = WORDS.get(plain) or WORDS.get(re.sub(r"\s*butt$", "", plain))
    if found is None:
        notes.append(f"the kind of seam is written “{text[:40]}”, which is not known here")
    return found

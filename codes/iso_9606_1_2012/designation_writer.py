"""ISO 9606-1:2012, clause 11: a test piece written as its designation line. Sizes in mm.

The transfer mode is not written; it stands in a field of its own on the certificate.
"""

from decimal import Decimal

from codes.editions import Tested
from codes.iso_9606_1_2012.designation_tokens import DETAILS, DesignationError
from codes.iso_9606_1_2012.tested import figure, figures, is_butt, on_pipe, term, terms
from codes.values import SteelPair, number

_WORDS = {variable_value: word for word, variable_value in DETAILS.items()}


def write(tested: Tested) -> str:
    """The designation line. Raises DesignationError naming the variable that is not stated.

    Example: s 4 and 8 by 141 and 111 are written s12(4/8).
    """
    parts = ["ISO 9606-1", "/".join(_some(tested, "process")), "T" if on_pipe(tested) else _plate(tested)]
    parts += ["BW" if is_butt(tested) else _fillet(tested), _group(tested), "/".join(_some(tested, "filler_type"))]
    parts.append(_size(tested))
    if on_pipe(tested):
        diameter = figure(tested, "diameter")
        parts.append(f"D{number(diameter)}" if diameter is not None else _missing("diameter"))
    parts.append("/".join(_some(tested, "position")))
    parts += _details(tested)
    return " ".join(parts)


def _missing(name: str) -> str:
    raise DesignationError(name, "is not stated, so the designation cannot be written")


def _some(tested: Tested, name: str) -> tuple[str, ...]:
    found = terms(tested, name)
    if not found:
        _missing(name)
    return found


def _plate(tested: Tested) -> str:
    return "P" if term(tested, "product") == "plate" else _missing("product")


def _fillet(tested: Tested) -> str:
    return "FW" if term(tested, "weld_type") == "fillet" else _missing("weld_type (butt or fillet weld)")


def _group(tested: Tested) -> str:
    groups = terms(tested, "filler_group")
    steels = tested.get("steels")
    if groups:
        return "/".join(groups)
    if term(tested, "filler_type") == "nm" and isinstance(steels, SteelPair) and steels.first.group:
        return steels.first.group
    return _missing("filler_group")


def _size(tested: Tested) -> str:
    name, letter = ("deposit_t", "s") if is_butt(tested) else ("parent_t", "t")
    sizes = figures(tested, name)
    if not sizes or (letter == "t" and len(sizes) > 1):
        return _missing(name)
    total = number(sum(sizes, Decimal(0)))
    shares = f"({'/'.join(map(number, sizes))})" if len(sizes) > 1 else ""
    return f"{letter}{total}{shares}"


def _details(tested: Tested) -> list[str]:
    name = "weld_detail" if is_butt(tested) else "run_type"
    words = [_WORDS[name, _some(tested, name)[0]]]
    if term(tested, "process") == "311":
        words.append(_WORDS["torch_direction", _some(tested, "torch_direction")[0]])
    return words

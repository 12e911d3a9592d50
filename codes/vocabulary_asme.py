"""Terms of ASME IX and of the US tests of people, as data: vocabulary -> token -> (ISO name, AWS name, words)."""

Names = tuple[str, str, str]

_STEELS = {
    "P1": "carbon and carbon-manganese steel",
    "P3": "low alloy, half molybdenum",
    "P4": "low alloy, 1.25 chromium",
    "P5A": "low alloy, 2.25 to 3 chromium",
    "P5B": "5 and 9 chromium",
    "P5C": "chromium-molybdenum-vanadium, high strength",
    "P6": "martensitic stainless",
    "P7": "ferritic stainless",
    "P8": "austenitic stainless",
    "P9A": "2.5 nickel",
    "P9B": "3.5 nickel",
    "P9C": "4.5 nickel",
    "P10A": "low alloy, sort A",
    "P10B": "low alloy, sort B",
    "P10C": "low alloy, sort C",
    "P10F": "low alloy, sort F",
    "P10G": "36 nickel",
    "P10H": "duplex stainless",
    "P10I": "high-chromium ferritic stainless",
    "P10J": "high-chromium ferritic stainless, sort J",
    "P10K": "high-chromium ferritic stainless, sort K",
    "P11A": "9 nickel and similar, quenched and tempered",
    "P11B": "low alloy, quenched and tempered",
    "P15E": "9 chromium, 1 molybdenum, vanadium",
    "P15F": "creep-strength enhanced, sort F",
}
_OTHERS = (
    {f"P{n}": "aluminium and its alloys" for n in range(21, 27)}
    | {f"P{n}": "copper and its alloys" for n in range(31, 36)}
    | {f"P{n}": "nickel alloys" for n in range(41, 50)}
    | {f"P{n}": "titanium alloys" for n in range(51, 54)}
    | {f"P{n}": "zirconium alloys" for n in range(61, 63)}
)
_FILLERS = (
    {
        "F1": "covered electrodes, flat and horizontal fillets",
        "F2": "covered electrodes, rutile",
        "F3": "covered electrodes, cellulosic",
        "F4": "covered electrodes, basic",
        "F5": "covered electrodes, austenitic and duplex",
        "F6": "wires and rods for steel",
    }
    | {f"F{n}": "aluminium fillers" for n in range(21, 27)}
    | {f"F{n}": "copper fillers" for n in range(31, 38)}
    | {f"F{n}": "nickel fillers" for n in range(41, 47)}
    | {f"F{n}": "titanium fillers" for n in range(51, 57)}
    | {"F61": "zirconium fillers"}
    | {f"F{n}": "hardfacing" for n in (71, 72)}
)

_DEPOSITS = (
    "mild steel",
    "carbon-molybdenum",
    "0.4 to 2 chromium",
    "2 to 4 chromium",
    "4 to 10.5 chromium",
    "chromium, martensitic",
    "chromium, ferritic",
    "chromium-nickel",
    "chromium-nickel, high",
    "nickel to 4 %",
    "manganese-molybdenum",
    "nickel-chromium-molybdenum",
)


def _dashed(token: str) -> str:
    return f"{token[0]}-{token[1:]}"


ASME_TERMS: dict[str, dict[str, Names]] = {
    "p_number": {token: (_dashed(token), "", words) for token, words in (_STEELS | _OTHERS).items()}
    | {"unassigned": ("unassigned", "", "no P-number assigned")},
    "f_number": {token: (_dashed(token), "", words) for token, words in _FILLERS.items()},
    "product_form": {
        "solid": ("solid", "", "solid wire or rod"),
        "metal_cored": ("metal-cored", "", "metal-cored wire"),
        "flux_cored": ("flux-cored", "", "flux-cored wire"),
        "flux_coated": ("flux-coated", "", "flux-coated rod"),
        "powder": ("powder", "", "powder"),
    },
    "a_number": {f"A{n}": (f"A-{n}", "", words) for n, words in enumerate(_DEPOSITS, start=1)}
    | {"none": ("no A-number", "", "analysis of the deposit outside QW-442")},
    "pwht_condition": {
        "below": ("below lower transformation", "", "below the lower transformation temperature"),
        "between": ("between", "", "between the lower and the upper transformation temperature"),
        "above": ("above upper transformation", "", "above the upper transformation temperature (normalised)"),
        "above_then_below": ("above upper, then below lower", "", "above the upper, then below the lower"),
        "solution": ("solution anneal", "", "solution annealed after welding"),
    },
    "flux_type": {
        "neutral": ("neutral flux", "", "neutral flux"),
        "active": ("active flux", "", "active flux"),
        "alloy": ("alloy flux", "", "alloy flux"),
    },
    "bend_direction": {
        "transverse": ("transverse bends", "", "bends across the weld"),
        "longitudinal": ("longitudinal bends", "", "bends along the weld"),
    },
    "soundness_test": {
        "bends": ("bend tests", "", "bend tests"),
        "volumetric": ("RT or UT", "", "radiographic or ultrasonic test in place of bends"),
        "fracture": ("fracture and macro", "", "fracture test and macro section"),
    },
    "attempt": {
        "first": ("first test", "", "passed at the first test"),
        "immediate_retest": ("immediate retest", "", "passed at once, with two welds for each that failed"),
        "after_training": ("retest after training", "", "passed after further training or practice"),
    },
}

ASME_ALIASES: dict[str, dict[str, str]] = {
    "p_number": {token[1:]: token for token in (_STEELS | _OTHERS)},
    "f_number": {token[1:]: token for token in _FILLERS},
    "a_number": {f"{n}": f"A{n}" for n in range(1, 13)},
    "pwht_condition": {"normalised": "above", "stress relief": "below", "within": "between"},
    "product_form": {"metal cored": "metal_cored", "flux cored": "flux_cored"},
    "soundness_test": {"RT": "volumetric", "UT": "volumetric", "bend": "bends"},
}

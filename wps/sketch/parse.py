"""A `Preparation` from the JSON of a procedure's preparation and the values of its window."""

from collections.abc import Mapping
from decimal import ROUND_HALF_EVEN, Decimal
from math import sqrt

from codes.parse import BadField, parse_number
from codes.values import Interval, Value, atoms, number
from wps.preparation import KINDS
from wps.sketch.preparation import WORDS, Arrangement, Preparation, Size

TWO_EDGES = frozenset({"single_v", "double_v", "single_u", "double_u"})
ANGLED = frozenset({"v", "bevel", "u", "j"})
ONLY_FILLETS = frozenset({Arrangement.LAP})
BOTH_SIDES = frozenset({Arrangement.END_PLATE, Arrangement.STIFFENER, Arrangement.CRUCIFORM})
HALF, WHOLE = Decimal("0.5"), Decimal(1)


class SketchError(BadField):
    """Why a joint cannot be drawn: the field, what is wrong with it, and what would be right."""


def parse_preparation(plain: Mapping[str, object], window: Mapping[str, Value]) -> Preparation:
    """The joint as it is drawn. Raises SketchError naming the field and the remedy.

    Of a range the drawing shows its geometric middle, since a sheet serves thin parts more often than the thickest.
    Figures of the preparation win over the window. Example: {"kind": "single_v", "angle_deg": "60", "gap_mm": "2"}
    with parent_t 6 to 24 mm is drawn for 12 mm.
    """
    kind = _kind(plain, window)
    arrangement = _arrangement(plain, window, kind)
    t1, t2 = _thicknesses(plain, window)
    found = Preparation(
        arrangement=arrangement,
        groove=kind,
        t1=t1,
        t2=t2,
        angle=_stated(plain, "angle_deg", "°"),
        gap=_stated(plain, "gap_mm"),
        root_face=_stated(plain, "root_face_mm"),
        radius=_stated(plain, "radius_mm"),
        depth=_stated(plain, "depth_mm"),
        overlap=_stated(plain, "overlap_mm"),
        throat=_of_window(window, "throat_a", HALF),
        leg=_of_window(window, "leg_z", HALF),
        deposit=_of_window(window, "deposit_t", HALF),
        backing=_backing(plain, window),
        both_sides=_both_sides(plain, window, arrangement, kind),
        full_penetration="butt_pjp" not in atoms(window.get("weld_type", ())),
    )
    _check(found)
    return found


def _kind(plain: Mapping[str, object], window: Mapping[str, Value]) -> str:
    known = [token for token, _ in KINDS]
    kind = str(plain.get("kind") or "").strip()
    fillet = "fillet" in atoms(window.get("weld_type", ()))
    if not kind and fillet:
        return "none"
    if not kind:
        raise SketchError("kind", f"is not stated; use one of: {', '.join(known)}")
    if kind not in known:
        raise SketchError("kind", f'"{kind}" is not a preparation that is drawn; use one of: {", ".join(known)}')
    # The edges of a fillet weld are square as they come; that is no groove.
    return "none" if fillet and kind == "square" else kind


def _arrangement(plain: Mapping[str, object], window: Mapping[str, Value], kind: str) -> Arrangement:
    stated = str(plain.get("arrangement") or "").strip()
    known = [one.value for one in Arrangement]
    if stated and stated not in known:
        raise SketchError("arrangement", f'"{stated}" is not known; use one of: {", ".join(known)}')
    joints = [str(atom) for atom in atoms(window.get("joint_type", ()))]
    asked = [stated] if stated else ["tee" if joint == "branch" else joint for joint in joints]
    if not asked:
        return Arrangement.TEE if kind == "none" else Arrangement.BUTT
    drawable = [Arrangement(name) for name in asked if name in known]
    fitting = [one for one in drawable if not _misfit(one, kind)]
    if fitting:
        return fitting[0]
    raise SketchError("kind", _misfit(drawable[0], kind) if drawable else f"a {asked[0]} joint is not drawn")


def _misfit(arrangement: Arrangement, kind: str) -> str:
    """Why a preparation and an arrangement do not go together, or ""."""
    name = WORDS[arrangement]
    if kind == "none":
        return "a fillet weld needs a corner; state tee, lap or corner" if arrangement is Arrangement.BUTT else ""
    if arrangement in ONLY_FILLETS:
        return f"a {name} takes a fillet weld; state the kind as none"
    if arrangement is not Arrangement.BUTT and kind in TWO_EDGES:
        return f"a {kind.replace('_', ' ')} needs two prepared edges; in a {name} one is, so state a bevel or a J"
    return ""


def _thicknesses(plain: Mapping[str, object], window: Mapping[str, Value]) -> tuple[Size, Size]:
    first, second = _stated(plain, "t1_mm"), _stated(plain, "t2_mm")
    parts = [_size("parent_t", atom, "mm", WHOLE) for atom in atoms(window.get("parent_t", ()))]
    found = [first or (parts[0] if parts else None), second or (parts[-1] if parts else first)]
    if found[0] is None or found[1] is None:
        raise SketchError("parent_t", "state the thickness of the parts, so that the joint can be drawn to scale")
    return found[0], found[1]


def _stated(plain: Mapping[str, object], field: str, unit: str = "mm") -> Size | None:
    value = plain.get(field)
    if value is None or value == "":
        return None
    if isinstance(value, Mapping):
        ends = [None if value.get(end) in (None, "") else parse_number(field, value[end]) for end in ("min", "max")]
        try:
            return _size(field, Interval(ends[0], ends[1], unit), unit, HALF)
        except ValueError as bad:
            raise SketchError(field, str(bad)) from None
    try:
        return _size(field, parse_number(field, value), unit, HALF)
    except SketchError:
        raise
    except BadField as bad:
        raise SketchError(field, bad.problem) from None


def _of_window(window: Mapping[str, Value], name: str, step: Decimal) -> Size | None:
    parts = atoms(window.get(name, ()))
    return _size(name, parts[0], "mm", step) if parts else None


def _size(field: str, atom: object, unit: str, step: Decimal) -> Size:
    if isinstance(atom, Decimal):
        return Size(atom, atom, unit)
    if not isinstance(atom, Interval) or (atom.lo is None and atom.hi is None):
        raise SketchError(field, "must be a figure or a range")
    return Size(Interval(atom.lo, atom.hi, unit, atom.lo_open, atom.hi_open), _drawn(atom, step), unit)


def _drawn(span: Interval, step: Decimal) -> Decimal:
    """The geometric middle of a range, rounded to the step but kept inside. Example: 6 to 24 gives 12."""
    lo, hi = span.lo, span.hi
    if lo is None or hi is None or lo <= 0:
        return hi if hi is not None else lo or step
    middle = Decimal(str(sqrt(float(lo * hi))))
    return Decimal(number(min(max((middle / step).quantize(WHOLE, ROUND_HALF_EVEN) * step, lo), hi)))


def _backing(plain: Mapping[str, object], window: Mapping[str, Value]) -> str:
    stated = str(plain.get("backing") or "").strip()
    details = atoms(window.get("weld_detail", ()))
    return stated or ("backing strip" if details == ("ss_mb",) else "")


def _both_sides(plain: Mapping[str, object], window: Mapping[str, Value], arrangement: Arrangement, kind: str) -> bool:
    sides = str(plain.get("sides") or "").strip()
    if sides not in ("", "1", "2"):
        raise SketchError("sides", f'"{sides}" is neither 1 nor 2')
    if sides:
        return sides == "2"
    if kind == "none":
        return arrangement in BOTH_SIDES
    # Where one side will do as well, no second side is drawn: its back run would look asked for.
    return atoms(window.get("weld_detail", ())) == ("bs",)


def _check(one: Preparation) -> None:
    for field, size in (("parent_t", one.t1), ("parent_t", one.t2), ("throat_a", one.throat), ("leg_z", one.leg)):
        if size is not None and size.drawn <= 0:
            raise SketchError(field, "must be more than 0 mm")
    if one.is_fillet:
        return
    if one.form in ANGLED and one.angle is None:
        raise SketchError("angle_deg", "state the angle of the groove, for example 60 for a V or 45 for a bevel")
    most = Decimal(180) if one.groove in TWO_EDGES else Decimal(90)
    if one.angle is not None and one.form in ANGLED and not 0 < one.angle.drawn < most:
        raise SketchError("angle_deg", f"must lie between 0 and {most}°, not {number(one.angle.drawn)}°")
    if one.form in ("u", "j") and one.radius is None:
        raise SketchError("radius_mm", "state the root radius of the U or J, for example 6")
    _check_depth(one)


def _check_depth(one: Preparation) -> None:
    thinner = one.t1.drawn if one.arrangement is not Arrangement.BUTT else min(one.t1.drawn, one.t2.drawn)
    for field, size in (("root_face_mm", one.root_face), ("depth_mm", one.depth)):
        if size is not None and size.drawn > thinner:
            shown = f"{number(size.drawn)} mm is more than the thickness drawn, {number(thinner)} mm"
            raise SketchError(field, shown)

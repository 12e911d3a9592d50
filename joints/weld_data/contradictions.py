"""Weld data that contradicts itself: throat against leg, weld type against sizes, position against kind of weld."""

from collections.abc import Iterator
from decimal import Decimal

from codes.clauses import Clause, Mark
from codes.terms import both_names
from codes.values import number
from joints.sizes import TOLERANCE, contradict, leg_of_throat, tenths, throat_of_leg
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld

FILLET_POSITIONS = ("PB", "PD")
PIPE_POSITIONS = ("PH", "PJ", "H-L045", "J-L045")
POSITIONS = Clause("ISO 6947:2011", "Tables 1 and 2", Mark.MEMORY, "from memory")
LEAST_THROAT = 3


@rule("Throat and leg contradict each other")
def throat_and_leg_contradict(weld: Weld) -> Iterator[Finding]:
    """Both stated, and not the same fillet. Example: a = 5 and z = 5; a = 5 and z = 7 agree."""
    a, z = weld.joint.throat_mm, weld.joint.leg_mm
    if not a or not z or not contradict(a, z):
        return
    said = f"leg z = {number(z)} mm gives a = {_reckoned(throat_of_leg(z))} mm, more than {number(TOLERANCE)} mm off"
    same = "; the same figure stands in both columns" if a == z else ""
    yield weld.find("leg_mm", f"{said}{same}: the throat is meant", PRACTICE, {"leg_mm": None})
    yield weld.find("throat_mm", f"{said}{same}: the leg is meant", PRACTICE, {"throat_mm": None})


@rule("Leg entered as throat, or fillet larger than the part")
def leg_entered_as_throat(weld: Weld) -> Iterator[Finding]:
    """A throat whose leg is longer than the thinner part is thick. Example: a = 10 on 10 mm; a = 7 on 10 mm is none."""
    a, thin = weld.joint.throat_mm, weld.thin
    if not weld.fillet or not a or weld.joint.leg_mm or thin is None or leg_of_throat(a) <= thin:
        return
    leg = _reckoned(leg_of_throat(a))
    said = f"throat a = {number(a)} mm has a leg of {leg} mm, the thinner part is {number(thin)} mm"
    if a <= thin:
        reason = f"{said}; read as leg z = {number(a)} mm it fits"
        yield weld.find("throat_mm", reason, PRACTICE, {"leg_mm": a, "throat_mm": None})
    reason = f"{said}; a throat above 0.7 of the thinner part adds no strength there"
    yield weld.find("throat_mm", reason, PRACTICE, weld.sized(throat_of_leg(thin), thin, up=False))


@rule("Throat entered as leg")
def throat_entered_as_leg(weld: Weld) -> Iterator[Finding]:
    """A leg with a throat under 3 mm, though the figure would do as a throat. Example: z = 4, not z = 4.3."""
    z = weld.joint.leg_mm
    if not weld.fillet or not z or weld.joint.throat_mm or z < LEAST_THROAT or throat_of_leg(z) >= LEAST_THROAT:
        return
    throat = _reckoned(throat_of_leg(z))
    reason = f"leg z = {number(z)} mm has a throat of {throat} mm only; read as a = {number(z)} mm it fits"
    yield weld.find("leg_mm", reason, PRACTICE, {"throat_mm": z, "leg_mm": None})


@rule("Depth of a partial penetration goes through the part")
def depth_goes_through(weld: Weld) -> Iterator[Finding]:
    """A depth of the thinner part or more is full penetration. Example: s = 12 on 12 mm; s = 11.9 is partial."""
    s, thin = weld.joint.penetration_mm, weld.thin
    if weld.joint.weld_type != "butt_pjp" or s is None or thin is None or s < thin:
        return
    reason = f"depth s = {number(s)} mm goes through the thinner part of {number(thin)} mm: full penetration"
    yield weld.find("penetration_mm", reason, PRACTICE, {"weld_type": "butt_cjp", "penetration_mm": None})


@rule("Size of another kind of weld")
def size_of_another_kind(weld: Weld) -> Iterator[Finding]:
    """A fillet with a depth, or a butt weld with throat or leg: both welds may be meant, so it is asked."""
    joint = weld.joint
    kind = both_names("weld_type", joint.weld_type)
    if weld.fillet and joint.penetration_mm:
        yield weld.find("penetration_mm", "a fillet has no depth: is a butt weld meant, or both?", PRACTICE)
    for name in ("throat_mm", "leg_mm"):
        if weld.butt and getattr(joint, name):
            yield weld.find(name, f"{kind}: is a fillet on top of it meant? Then it is a joint of its own", PRACTICE)


@rule("Plate with a diameter")
def plate_with_diameter(weld: Weld) -> Iterator[Finding]:
    """An outside diameter belongs to a pipe or hollow section."""
    if weld.joint.product == "plate" and weld.joint.diameter_mm:
        reason = f"an outside diameter of {number(weld.joint.diameter_mm)} mm belongs to a pipe or hollow section"
        yield weld.find("product", reason, PRACTICE, {"product": "pipe"})


@rule("Position that this weld cannot have")
def position_of_another_kind(weld: Weld) -> Iterator[Finding]:
    """PB and PD are positions of fillets, PH and the like of pipes."""
    place = weld.joint.position
    if weld.joint.weld_type in ("butt_cjp", "butt_pjp") and place in FILLET_POSITIONS:
        yield weld.find("position", f"{both_names('position', place)} is a position of fillets", POSITIONS)
    if weld.joint.product == "plate" and place in PIPE_POSITIONS:
        yield weld.find("position", f"{both_names('position', place)} is a position of pipes", POSITIONS)


@rule("Root opened on a weld from one side")
def gouging_from_one_side(weld: Weld) -> Iterator[Finding]:
    """A weld made from one side has no second side to open the root from."""
    if weld.joint.weld_detail.startswith("ss_") and weld.joint.gouging in ("mechanical", "thermal"):
        reason = "the weld is made from one side, so its root is not opened from the other"
        yield weld.find("gouging", reason, PRACTICE, {"gouging": "none"})


@rule("Process that the workstation does not run")
def process_not_at_station(weld: Weld) -> Iterator[Finding]:
    """The final or tack process is none of those of its workstation."""
    for phase in ("final", "tack"):
        station, process = weld.station_of(phase), getattr(weld.joint, f"{phase}_process")
        missing = [one for one in process.split("+") if one and station and one not in station.processes]
        if station and station.processes and missing:
            names = ", ".join(both_names("process", one) for one in station.processes)
            yield weld.find(f"{phase}_process", f"{station.name} runs {names}", PRACTICE)


@rule("Welded outside the time of the job")
def date_outside_job(weld: Weld) -> Iterator[Finding]:
    """The day lies before the job starts or after it ends; both ends belong to it."""
    day, job = weld.joint.weld_date, weld.job
    if day and ((job.starts_on and day < job.starts_on) or (job.ends_on and day > job.ends_on)):
        span = f"from {job.starts_on or 'an open start'} to {job.ends_on or 'an open end'}"
        yield weld.find("weld_date", f"the job is welded {span}", PRACTICE)


def _reckoned(size: Decimal) -> str:
    return number(tenths(size))

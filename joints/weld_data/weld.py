"""What a rule is given: the joint, its job, and what is known around them. Units: mm."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from codes.clauses import Clause
from codes.units import INCH_MM
from joints.demands import Stated, processes_of
from joints.heats import Heats
from joints.models import Job, Workstation
from joints.sizes import leg_of_throat, thinner, throat_of_leg
from joints.stations import at_its_works
from joints.weld_data.finding import Finding, Plain, changes_of, plain

TENTH = Decimal("0.1")
SIXTEENTH = INCH_MM / 16
THOUSANDTH = Decimal("0.001")
BUTTS = ("butt_cjp", "butt_pjp", "branch")
NO_LOW_HYDROGEN = ("111", "311")
"""A covered electrode whose hydrogen is not stated counts as other than low-hydrogen (strict reading)."""


@dataclass(frozen=True, slots=True)
class Weld:
    """One weld. `steels`: grades that the assembly states elsewhere; `part_length`: shorter part along the weld.

    `reaches`: positions that the geometry and the workstation's rotator allow, in order of preference; empty where
    the geometry is not stated. `heats`: the certificates on file of the heats that the parts name.
    Example: Weld(joint, job).thin is the thinner part, None where one is not stated.
    """

    joint: Stated
    job: Job
    steels: tuple[str, ...] = ()
    part_length: Decimal | None = None
    reaches: tuple[str, ...] = ()
    heats: Heats = field(default_factory=dict)

    @property
    def en(self) -> bool:
        """True for a job to EN 1090-2, whose joints are designed to EN 1993-1-8."""
        return self.job.application_standard.startswith("EN 1090")

    @property
    def aws(self) -> bool:
        """True for a job to AWS D1.1."""
        return self.job.procedure_code.startswith("AWS D1.1")

    @property
    def fillet(self) -> bool:
        """True for a fillet weld."""
        return bool(self.joint.weld_type == "fillet")

    @property
    def butt(self) -> bool:
        """True for butt welds and branches."""
        return self.joint.weld_type in BUTTS

    @property
    def thin(self) -> Decimal | None:
        """The thinner part, None where one is not stated."""
        return thinner(self.joint.t1_mm, self.joint.t2_mm)

    @property
    def thick(self) -> Decimal | None:
        """The thicker part, None where one is not stated."""
        return None if self.thin is None else max(self.joint.t1_mm, self.joint.t2_mm)

    @property
    def throat(self) -> Decimal | None:
        """The throat, stated or from the leg."""
        joint = self.joint
        return joint.throat_mm or (throat_of_leg(joint.leg_mm) if joint.leg_mm else None)

    @property
    def leg(self) -> Decimal | None:
        """The leg, stated or from the throat."""
        joint = self.joint
        return joint.leg_mm or (leg_of_throat(joint.throat_mm) if joint.throat_mm else None)

    @property
    def processes(self) -> tuple[str, ...]:
        """The processes of the final weld."""
        return processes_of(self.joint.final_process)

    @property
    def low_hydrogen(self) -> bool:
        """True where every process counts as low-hydrogen."""
        return bool(self.processes) and not set(self.processes) & set(NO_LOW_HYDROGEN)

    @property
    def units(self) -> str:
        """The set of figures of AWS D1.1: "us" where both parts are whole sixteenths of an inch, else "si" (own rule).

        Example: 12.7 mm and 19.05 mm are 1/2 and 3/4 in.
        """
        parts = [part for part in (self.joint.t1_mm, self.joint.t2_mm) if part is not None]
        return "us" if parts and all(_is_sixteenths(part) for part in parts) else "si"

    def station_of(self, phase: str) -> Workstation | None:
        """Where a phase ("final", "tack") is welded, as it counts."""
        return at_its_works(getattr(self.joint, f"{phase}_workstation"), self.job)

    def find(self, field: str, reason: str, clause: Clause, proposed: Mapping[str, Plain] | None = None) -> Finding:
        """What a rule says of a field; the registry adds the name of the rule."""
        joint = self.joint
        return Finding("", field, plain(getattr(joint, field)), reason, clause, changes_of(joint, proposed or {}))

    def sized(self, throat: Decimal, leg: Decimal, up: bool = True) -> dict[str, Plain]:
        """A fillet size as the joint states it, throat or leg, rounded to 0.1 mm up (a least) or down (a most).

        Example: leg 5 for a joint that states its throat is a throat of 3.6 (up) or 3.5 (down).
        """
        rounding = ROUND_CEILING if up else ROUND_FLOOR
        if self.joint.leg_mm and not self.joint.throat_mm:
            return {"leg_mm": leg.quantize(TENTH, rounding)}
        return {"throat_mm": throat.quantize(TENTH, rounding), "leg_mm": None}


def _is_sixteenths(size: Decimal) -> bool:
    """True for whole sixteenths of an inch as they are kept, to 0.001 mm. Example: 4.763 mm is 3/16 in."""
    whole = (size / SIXTEENTH).to_integral_value() * SIXTEENTH
    return abs(size - whole) < THOUSANDTH

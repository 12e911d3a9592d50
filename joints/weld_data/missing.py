"""What is not stated: proposed where it follows from what is, else asked of the detailer."""

from collections.abc import Callable, Iterator

from codes.values import number
from joints.weld_data.finding import PRACTICE, Finding
from joints.weld_data.registry import rule
from joints.weld_data.weld import Weld

Asks = Callable[[Weld], bool]

# Field, when it is needed, why. The order is that of the form.
NEEDED: tuple[tuple[str, Asks, str], ...] = (
    ("weld_type", lambda weld: True, "without it no procedure can be judged"),
    ("joint_type", lambda weld: True, "procedures and people are judged by it"),
    ("t1_mm", lambda weld: True, "every range is one of thickness"),
    ("t2_mm", lambda weld: True, "every range is one of thickness"),
    ("diameter_mm", lambda weld: weld.joint.product == "pipe", "ranges of pipes are ranges of diameter"),
    ("branch_angle_deg", lambda weld: weld.joint.weld_type == "branch", "ranges of branches are ranges of the angle"),
    ("weld_detail", lambda weld: weld.butt, "one side or both, with what backing: people are judged by it"),
    ("penetration_mm", lambda weld: weld.joint.weld_type == "butt_pjp", "it is the size of the weld"),
    ("length_mm", lambda weld: True, "neither tacks nor the load it carries can be judged"),
    ("final_process", lambda weld: True, "without it no procedure can be judged"),
)


@rule("What such a weld needs is not stated")
def not_stated(weld: Weld) -> Iterator[Finding]:
    """Every field that this kind of weld needs and nothing else gives."""
    for name, needed, why in NEEDED:
        if getattr(weld.joint, name) in (None, "") and needed(weld):
            yield weld.find(name, why, PRACTICE)


@rule("Size of a fillet not stated")
def fillet_without_size(weld: Weld) -> Iterator[Finding]:
    """Neither throat nor leg: the designer's to say."""
    if weld.fillet and not weld.throat:
        most = f"; usual is at most 0.7 of the thinner part ({number(weld.thin)} mm)" if weld.thin else ""
        yield weld.find("throat_mm", f"the size is the designer's to say{most}", PRACTICE)


@rule("Product not stated")
def product_missing(weld: Weld) -> Iterator[Finding]:
    """Plate where no diameter is stated, else pipe."""
    if not weld.joint.product:
        kind = "pipe" if weld.joint.diameter_mm else "plate"
        reason = "an outside diameter is stated" if kind == "pipe" else "no outside diameter is stated"
        yield weld.find("product", reason, PRACTICE, {"product": kind})


@rule("Process of the tacks not stated")
def tack_process_missing(weld: Weld) -> Iterator[Finding]:
    """As the final weld, where that is one process that the place of the tacks runs and that welds short runs."""
    joint = weld.joint
    if joint.tack_process:
        return
    station = weld.station_of("tack") or weld.station_of("final")
    usable = len(weld.processes) == 1 and not weld.processes[0].startswith("12")
    if usable and station and joint.final_process in station.processes:
        reason = f"as the final weld; {station.name} runs it"
        proposed = {"tack_process": joint.final_process}
        yield weld.find("tack_process", reason, PRACTICE, proposed)
    else:
        yield weld.find("tack_process", "tacks need a procedure and a person of their own", PRACTICE)

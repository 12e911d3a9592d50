"""The full specification in the order of ISO 15609-1: every stated field under its clause.

Clause heads after the public contents list of ISO 15609-1:2019; which field stands where is from memory. What only
the codes of AWS and ASME ask for stands under the clause of its kind.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from codes.terms import both_names
from codes.units import System
from codes.variables import label_of
from wps.heat import measure_by
from wps.models import ProcedureRevision
from wps.preparation import NUMBERS, TEXTS, kind_words
from wps.sheet_by_run import ByRun
from wps.sheet_data import Demands, Line, said_of, said_of_all
from wps.sheet_figures import together
from wps.sheet_prepared import prepared_lines
from wps.sheet_runs import heat_name
from wps.window import demands

WINDOW, PREPARATION = "window", "preparation"
EDGES, EITHER = "Edge preparation", "either way"


ALSO_IN_WINDOW = {
    "kind": "groove_type",
    "angle_deg": "groove_angle",
    "gap_mm": "root_opening",
    "root_face_mm": "root_face",
    "depth_mm": "groove_depth",
}
"""Figures of the preparation that the codes of AWS and ASME ask of the window: what both say alike is printed once."""


class Asked(NamedTuple):
    """Fields of one clause: variables of the window, or keys of the preparation."""

    ref: str
    head: str
    where: str
    names: tuple[str, ...]


ORDER = (
    Asked("4.3.1", "Parent material", WINDOW, ("steels", "delivery_state", "backing_steel", "backing_stays")),
    Asked(
        "4.3.2",
        "Dimensions",
        WINDOW,
        ("product", "parent_t", "diameter", "branch_angle", "dihedral_angle", "rotated"),
    ),
    Asked("4.4.1", "Process", WINDOW, ("process", "mechanisation", "robot", "wire_system", "multi_arc", "electrodes")),
    Asked(
        "4.4.2",
        "Joint design",
        WINDOW,
        (
            "joint_type", "weld_type", "throat_a", "leg_z", "deposit_t", "run_type", "layers", "max_run_t", "weld_pass",
            "root_pass_t", "fill_pass_t", "layer_width", "split_layers", "width_over_depth",
        ),
    ),
    Asked(
        "4.4.2",
        "Joint preparation",
        WINDOW,
        (
            "joint_detail", "prequalified_detail", "groove_type", "groove_angle", "root_opening", "root_face",
            "groove_depth", "fit_up_angle", "fit_up_root_opening", "fit_up_root_face",
        ),
    ),
    Asked(
        "4.4.2",
        "Joint preparation",
        PREPARATION,
        ("kind", "angle_deg", "gap_mm", "root_face_mm", "radius_mm", "depth_mm", "overlap_mm", "tolerances"),
    ),
    Asked(
        "4.4.3",
        "Welding position",
        WINDOW,
        ("position", "aws_position", "progression", "weld_axis", "place", "torch_direction"),
    ),
    Asked("4.4.4", "Preparation of the joint", PREPARATION, ("method", "tacking")),
    Asked("4.4.5", "Technique", PREPARATION, ("technique", "torch_angle")),
    Asked("4.4.6", "Back gouging", WINDOW, ("gouging",)),
    Asked("4.4.7", "Backing", WINDOW, ("weld_detail", "backing_material", "backing_gas")),
    Asked("4.4.7", "Backing", PREPARATION, ("backing",)),
    Asked(
        "4.4.8",
        "Welding consumables",
        WINDOW,
        (
            "filler_designation", "filler_make", "filler_diameter", "filler_group", "filler_type", "root_filler_type",
            "f_number", "a_number", "product_form", "filler_added", "hydrogen_class", "flux_designation", "flux_make",
            "flux_type", "flux_recrushed", "flux_batch", "extra_filler", "extra_filler_ratio",
        ),
    ),
    Asked("4.4.8", "Welding consumables", PREPARATION, ("filler_handling",)),
    Asked(
        "4.4.9",
        "Electrical parameters",
        WINDOW,
        (
            "current_type", "polarity_by_maker", "in_makers_range", "power_output", "pulsed_current",
            "waveform_controlled", "current", "voltage",
        ),
    ),
    Asked(
        "4.4.10",
        "Mechanised welding",
        WINDOW,
        (
            "travel_speed", "wire_feed", "weave", "weave_width", "weave_frequency", "weave_dwell", "arc_spacing_along",
            "arc_spacing_across", "electrode_angle_between", "electrode_angle_along", "electrode_angle_across",
        ),
    ),
    Asked("4.4.10", "Mechanised welding", PREPARATION, ("stick_out_mm",)),
    Asked("4.4.11", "Preheating temperature", WINDOW, ("preheat", "base_metal_temperature", "capping_preheat")),
    Asked("4.4.12", "Interpass temperature", WINDOW, ("interpass_min", "interpass")),
    Asked("4.4.14", "Post-heating", WINDOW, ("post_heat", "post_heat_temperature", "post_heat_minutes")),
    Asked(
        "4.4.15",
        "Post-weld heat treatment",
        WINDOW,
        ("pwht", "pwht_condition", "pwht_class", "pwht_temperature", "pwht_minutes"),
    ),
    Asked(
        "4.4.16",
        "Shielding gas",
        WINDOW,
        ("gas", "gas_co2", "gas_o2", "gas_he", "gas_h2", "gas_n2", "gas_mixture", "gas_certificate"),
    ),
    Asked("4.4.17", "Heat input", WINDOW, ("heat_measure", "heat_method", "heat_input")),
    Asked("4.5", "By process", WINDOW, ("transfer_mode", "plasma_gas", "plasma_mode", "fuel_gas")),
    Asked(
        "–",
        "Requirements served",
        WINDOW,
        (
            "impact_required", "impact_temperature", "hardness_required", "cyclic_load", "pressure_retaining",
            "contractor", "engineer_acceptance",
        ),
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Section:
    """A clause with what is stated under it."""

    ref: str
    head: str
    lines: tuple[Line, ...]


def sections(revision: ProcedureRevision, system: System) -> tuple[Section, ...]:
    """The clauses in order, those under which nothing is stated left out. Raises BadField."""
    each = demands(revision)
    measure = measure_by(revision.code, next(iter(each.values())).get("heat_measure"))
    by_run = ByRun(tuple(revision.runs.all()), system, measure)
    found: list[Section] = []
    for asked in ORDER:
        of_window = asked.where == WINDOW
        found_lines = (
            _window(each, asked.names, by_run) if of_window else _prepared(revision, each, asked.names, system)
        )
        lines = tuple(found_lines)
        if not lines:
            continue
        if found and found[-1].ref == asked.ref:
            # A clause is named once, also where joint and preparation stand under it.
            before = found.pop()
            found.append(Section(before.ref, before.head, (*before.lines, *lines)))
        else:
            found.append(Section(asked.ref, asked.head, lines))
    return tuple(found)


def _window(each: Demands, names: Sequence[str], by_run: ByRun) -> Iterator[Line]:
    for name in names:
        if said := _said(each, name, by_run):
            label = heat_name(by_run.measure) if name == "heat_input" else label_of(name)
            yield Line(label, EITHER if frozenset(said.split(", ")) == {"yes", "no"} else said)


def _said(each: Demands, name: str, by_run: ByRun) -> str:
    """What all processes state of a variable, a figure of several runs with the runs that it belongs to."""
    of_runs = {process: by_run.said(name, process, values) for process, values in each.items()}
    if not any(of_runs.values()):
        return said_of_all(each, name, by_run.system)
    return together(
        (both_names("process", process), of_runs[process] or said_of(values, name, by_run.system))
        for process, values in each.items()
    )


def _prepared(revision: ProcedureRevision, each: Demands, names: Sequence[str], system: System) -> Iterator[Line]:
    labels = {"kind": EDGES, **dict(NUMBERS), **{name: label for name, label, _ in TEXTS}}
    for name in names:
        for label, stated in prepared_lines(revision.preparation, [(labels[name], name)], system):
            said = kind_words(stated) if name == "kind" else stated
            if _plain(said) != _plain(said_of_all(each, ALSO_IN_WINDOW.get(name, ""), system)):
                yield Line(label, said)


def _plain(said: str) -> str:
    """Without what tells two names of one groove apart: "single-V groove" and "single V"."""
    return said.replace("-", " ").removesuffix(" groove")

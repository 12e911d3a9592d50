"""The joint preparation of a procedure: kinds by token, and what is stated of one."""

KINDS = (
    ("none", "no preparation (fillet)"),
    ("square", "square edges"),
    ("single_v", "single V"),
    ("double_v", "double V"),
    ("single_bevel", "single bevel"),
    ("double_bevel", "double bevel (K)"),
    ("single_u", "single U"),
    ("double_u", "double U"),
    ("single_j", "single J"),
    ("double_j", "double J"),
)
"""Token and words, after the forms of ISO 9692-1."""

NUMBERS = (
    ("angle_deg", "Included angle, °"),
    ("gap_mm", "Root gap, mm"),
    ("root_face_mm", "Root face, mm"),
    ("radius_mm", "Root radius, mm"),
    ("depth_mm", "Preparation depth, mm"),
    ("overlap_mm", "Overlap, mm"),
)
"""Figures are kept as text, so that none is rounded."""

TEXTS = (
    ("tolerances", "Tolerances", "for example gap +1 / -0 mm, angle ± 5°"),
    ("method", "Cutting and cleaning", "how edges are cut, ground, degreased"),
    ("tacking", "Jigging and tacking", "how parts are held, length and spacing of tacks"),
    ("backing", "Backing", "material and size, where one is used"),
    ("technique", "Technique", "stringer or weave, largest width of a run"),
    ("torch_angle", "Torch or electrode angle", ""),
    ("stick_out_mm", "Stick-out, mm", "from the contact tube to the workpiece"),
    ("gas_nozzle", "Gas nozzle", "bore, for gas-shielded processes with wire"),
    ("tungsten", "Tungsten electrode", "type and diameter, for TIG"),
    ("waveform", "Program of the power source", "where the current is pulsed"),
    ("pwht_rates", "Heating and cooling rates", "where it is heat treated"),
    ("peening", "Peening", "none, or how"),
    ("filler_handling", "Handling of consumables", "drying, storing, time in the open"),
)


def kind_words(token: str) -> str:
    """The words of a kind, or the text itself where it is none of ours."""
    return dict(KINDS).get(token, token)

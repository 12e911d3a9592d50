"""The tokens of a designation line (ISO 9606-1:2012, 4.3 and 11) and the two ways in which a line is refused."""

from codes.iso_9606_1_2012.clauses import HANDOUT, confirmed

PROCESSES = (
    *("111", "114", "121", "125", "131", "132", "133", "135", "136", "137", "138"),
    *("141", "142", "143", "145", "15", "311"),
)
MODE_LETTERS = confirmed("4.3", HANDOUT)
MODES = {"D": "dip", "G": "globular", "S": "spray", "P": "pulsed"}
FILLER_TYPES = ("S", "M", "B", "A", "RA", "RB", "RC", "RR", "R", "C", "P", "V", "W", "Y", "Z", "nm")
POSITIONS = ("PA", "PB", "PC", "PD", "PE", "PF", "PG", "PH", "PJ", "H-L045", "J-L045")
FILLET_ONLY_POSITIONS = ("PB", "PD")
BUTT_ONLY_POSITIONS = ("H-L045", "J-L045")
PIPE_POSITIONS = ("PH", "PJ", "H-L045", "J-L045")
PLATE_POSITIONS = ("PE", "PF", "PG")

DETAILS = {
    "ss nb": ("weld_detail", "ss_nb"),
    "ss mb": ("weld_detail", "ss_mb"),
    "ss gb": ("weld_detail", "ss_gb"),
    "ss fb": ("weld_detail", "ss_fb"),
    "bs": ("weld_detail", "bs"),
    "ci": ("weld_detail", "ci"),
    "sl": ("run_type", "single_run"),
    "ml": ("run_type", "multi_run"),
    "lw": ("torch_direction", "leftward"),
    "rw": ("torch_direction", "rightward"),
}
LEGACY_DETAILS = ("ng", "gg")


class DesignationError(ValueError):
    """A line that cannot be read; `token` is the part at fault."""

    def __init__(self, token: str, problem: str) -> None:
        super().__init__(f'"{token}": {problem}')
        self.token = token
        self.problem = problem


class OtherEdition(DesignationError):
    """A line of a standard or edition that is recorded, not judged; `standard` names it."""

    def __init__(self, standard: str, problem: str) -> None:
        super().__init__(standard, problem)
        self.args = (problem,)
        self.standard = standard

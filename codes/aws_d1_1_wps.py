"""AWS D1.1: what a written procedure states, for the road by test and for the prequalified one.

By test: the variables of Table 6.5 [4.5], of which a change asks for a new test. Prequalified: those of Table 5.2
[3.7]. The subjects of both lists are from memory; a page on the edition of 2025 shows how many there are.
"""

from codes.aws_d1_1.book import BOOK_2015, BOOK_2020, Book
from codes.aws_positions import WITH_VERTICAL
from codes.clauses import Clause, Mark
from codes.limits import When, unless, when_is
from codes.wps_fields import Need, WpsField

GMAW, FCAW, SAW = ("131", "133", "135", "138"), ("114", "132", "136"), ("121", "122", "124", "125", "126")
GTAW = ("141", "142", "143", "145")
WIRE = when_is("process", *GMAW, *FCAW, *SAW)
CORED_OR_SOLID = when_is("process", *GMAW, *FCAW)
SHIELDED = when_is("process", *GMAW, "132", "136", *GTAW)
GROOVE = unless("weld_type", "fillet")
FILLET = when_is("weld_type", "fillet")
MANY = when_is("run_type", "multi_run")
CVN = when_is("impact_required", "yes")
TREATED = when_is("pwht", "yes")


class _List:
    """The fields of one edition and road, under the clause that lists them."""

    def __init__(self, book: Book, prequalified: bool) -> None:
        self.main = book.clause("written variables" if prequalified else "variables")
        self.written = Clause(book.standard, "5.2" if book is BOOK_2020 else "3.6", Mark.MEMORY)
        self.units = book.clause("units")

    def always(self, name: str, text: str = "", clause: Clause | None = None) -> WpsField:
        return WpsField(name, clause or self.main, text=text)

    def where(self, name: str, words: str, *when: tuple[When, ...], text: str = "") -> WpsField:
        return WpsField(name, self.main, Need.CONDITION, when, words, text)

    def head(self) -> tuple[WpsField, ...]:
        return (
            self.always("manufacturer", "Contractor's name", self.written),
            self.always("number", "Number, revision and date", self.written),
            self.always("unit_system", clause=self.units),
            self.always("process"),
            self.always("mechanisation"),
            self.always("weld_type"),
            self.always("joint_type"),
            self.always("joint_sketch", "Sketch of the joint: angle, root opening, root face"),
            self.always("steels"),
            self.always("parent_t"),
            self.always("aws_position"),
            self.where("progression", "vertical", (when_is("aws_position", *WITH_VERTICAL),)),
            self.always("run_type"),
            self.always("run_sequence", "Passes"),
            self.where("leg_z", "fillet weld", (FILLET,)),
            self.where("groove_type", "groove weld", (GROOVE,)),
            self.where("groove_angle", "groove weld", (GROOVE, unless("groove_type", "square"))),
            self.where("root_opening", "groove weld", (GROOVE,)),
            self.where("root_face", "groove weld", (GROOVE, unless("groove_type", "square"))),
            self.where("groove_depth", "partial penetration", (when_is("weld_type", "butt_pjp"),)),
            self.where("weld_detail", "groove weld", (GROOVE,)),
            self.where("gouging", "both sides", (GROOVE, when_is("weld_detail", "bs"))),
            self.where("backing_material", "backing", (GROOVE, when_is("weld_detail", "ss_mb"))),
        )

    def weld(self) -> tuple[WpsField, ...]:
        return (
            self.where("filler_designation", "with filler", (unless("process", "142"),)),
            self.where("filler_diameter", "with filler", (unless("process", "142"),)),
            self.where("wire_system", "submerged arc", (when_is("process", *SAW),)),
            self.always("current_type"),
            self.where("current", "wire, and GTAW", (WIRE,), (when_is("process", *GTAW),)),
            self.where("voltage", "wire", (WIRE,)),
            self.where("travel_speed", "wire, and GTAW", (WIRE,), (when_is("process", *GTAW),)),
            self.where("transfer_mode", "GMAW", (when_is("process", *GMAW),)),
            self.where("power_output", "GMAW and FCAW", (CORED_OR_SOLID,)),
            self.where("gas_mixture", "gas-shielded", (SHIELDED,)),
            self.where("gas_flow", "gas-shielded", (SHIELDED,)),
            self.where("electrode_angle_along", "submerged arc", (when_is("process", *SAW),)),
            self.where("electrode_angle_across", "submerged arc", (when_is("process", *SAW),)),
            self.always("preheat"),
            self.always("pwht"),
            self.always("peening", "Peening: none, or how"),
            self.always("preparation_method", "Cleaning, and how parts are held and tacked"),
            self.always("impact_required"),
            self.always("approved_by", "Approved by, with date", self.written),
        )


def _tested(book: Book) -> tuple[WpsField, ...]:
    of = _List(book, prequalified=False)
    return (
        *of.head(),
        of.always("records", "Records (PQR) it rests on", of.written),
        of.always("contractor"),
        of.always("product"),
        of.where("diameter", "pipe", (when_is("product", "pipe"),)),
        *of.weld(),
        of.where("electrodes", "all but covered electrodes", (unless("process", "111"),)),
        of.where("in_makers_range", "covered electrodes", (when_is("process", "111"),)),
        of.where("interpass_min", "several passes", (MANY,)),
        of.where("interpass", "CVN", (CVN,)),
        of.where("heat_input", "CVN", (CVN,)),
        of.where("pwht_temperature", "heat treated, CVN", (TREATED, CVN)),
        of.where("pwht_minutes", "heat treated, CVN", (TREATED, CVN)),
    )


def _prequalified(book: Book) -> tuple[WpsField, ...]:
    of = _List(book, prequalified=True)
    several = (MANY,)
    return (
        *of.head(),
        of.where("joint_detail", "groove weld", (GROOVE,)),
        of.where("deposit_t", "partial penetration", (when_is("weld_type", "butt_pjp"),), text="Weld size E"),
        *of.weld(),
        of.where("in_makers_range", "all but submerged arc", (unless("process", *SAW),)),
        of.where("root_pass_t", "groove, or several passes", (GROOVE,), several),
        of.where("fill_pass_t", "several passes", several),
        of.where("layer_width", "groove of several passes", (GROOVE, MANY, unless("process", "111"))),
        of.where("width_over_depth", "submerged arc", (when_is("process", *SAW),)),
    )


BY_TEST = {book.standard: _tested(book) for book in (BOOK_2020, BOOK_2015)}
PREQUALIFIED = {book.standard: _prequalified(book) for book in (BOOK_2020, BOOK_2015)}
"""Edition -> what its procedures state."""

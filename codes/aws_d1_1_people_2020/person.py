"""AWS D1.1:2020, 6.2.2 and 6.16: who the person is, for whom, and what the test weld was."""

from codes.aws_d1_1_people_2020.clauses import EMPLOYER, TACK_TEST, WHO, memory
from codes.aws_d1_1_people_2020.switches import WELDER_AS_OPERATOR
from codes.aws_processes import FCAW, GMAW, GTAW, SAW, letter_name
from codes.continuity import HAND, MACHINE
from codes.editions import Tested
from codes.limits import Free, Limit, OneOf, unless, when_is
from codes.pieces import IfStated, term, unrecorded, yes
from codes.readings import Settings

OPERATOR_NOTE = memory("Table 6.12, note (welder as operator)")
WELD_TYPES = memory("Tables 6.10 and 6.11")
# Tested weld -> covered welds; full penetration in T-Y-K connections is decided by position 6GR.
COVERS = {
    "butt_cjp": ("butt_cjp", "butt_pjp", "branch", "fillet", "plug"),
    "branch": ("butt_cjp", "butt_pjp", "branch", "fillet", "plug"),
    "fillet": ("fillet",),
    "plug": ("plug",),
}
ON_MACHINES = (SAW, GMAW, FCAW, GTAW)


def welder_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """By hand; a machine only for whoever trained on it, with the same process and one electrode."""
    used = (WELDER_AS_OPERATOR.used(settings),)
    may = letter_name(term(piece, "process")) in ON_MACHINES and yes(piece, "machine_training")
    if may and WELDER_AS_OPERATOR.option(settings) == "trained":
        because = (
            "tested by hand, training on the machine recorded: the same process by machine, inside the same limits"
        )
        one = "tested by hand: a machine with one electrode only"
        on_machine = (when_is("mechanisation", *MACHINE),)
        return (
            Limit("mechanisation", OneOf((*HAND, *MACHINE)), OPERATOR_NOTE, because, readings=used, reason="person"),
            Limit("wire_system", OneOf(("single",)), OPERATOR_NOTE, one, on_machine, reason="electrodes"),
        )
    because = "a test by hand never covers a machine or a robot: that needs an operator's test"
    if WELDER_AS_OPERATOR.option(settings) == "trained":
        because += ", or recorded training on the machine with the same process"
    return (Limit("mechanisation", OneOf(HAND), OPERATOR_NOTE, because, readings=used, reason="person"),)


def operator_limits(piece: Tested) -> tuple[Limit, ...]:
    """By machine only."""
    because = "an operator's test never covers welding by hand, tacks and repairs beside the machine included"
    return (Limit("mechanisation", OneOf(MACHINE), WHO, because, reason="person"),)


def tack_limits() -> tuple[Limit, ...]:
    """Tack welds by hand, and nothing that stays as the weld itself."""
    words = "a tack welder's test covers tack welds only"
    by_hand = "a test by hand never covers a machine or a robot"
    return (
        Limit("phase", OneOf(("tack",)), TACK_TEST, words, reason="weld_type"),
        Limit("mechanisation", OneOf(HAND), TACK_TEST, by_hand, reason="person"),
    )


def weld_type_limits(piece: Tested) -> tuple[Limit, ...]:
    """A groove test covers fillets and plugs, never the reverse."""
    tested = term(piece, "weld_type")
    if tested not in COVERS:
        return (unrecorded("weld_type", WELD_TYPES, field="whether the test weld was a groove, a fillet or a plug"),)
    because = {"fillet": "a fillet test covers fillets only", "plug": "a plug test covers plug and slot welds only"}
    words = because.get(tested, "a groove test covers grooves, fillets and plugs")
    return (Limit("weld_type", OneOf(COVERS[tested]), WELD_TYPES, words, reason="weld_type", tested=tested),)


def employer_limits(piece: Tested) -> tuple[Limit, ...]:
    """The contractor of the test; another one only with the Engineer's acceptance."""
    when = (IfStated("contractor", Free()), unless("engineer_acceptance", "yes"))
    tested = term(piece, "contractor")
    if tested is None:
        return (unrecorded("contractor", EMPLOYER, "employer", when=when, field="for whom the test was made"),)
    because = f"tested for {tested}: each contractor is responsible for its own welders"
    return (Limit("contractor", OneOf((tested,)), EMPLOYER, because, when, reason="employer", tested=tested),)

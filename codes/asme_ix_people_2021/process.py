"""ASME IX, QW-353 to QW-356: process, transfer mode, backing gas, and what only GTAW has, as limits."""

from codes.asme_ix_people_2021.clauses import PROCESS, SHORT_ARC, confirmed, doubtful, memory
from codes.asme_ix_people_2021.metals import BACKED, FULL, GAS_BOUND, OPEN, detail_of
from codes.asme_ix_people_2021.switches import GMAW_FCAW
from codes.aws_processes import FCAW, GMAW, GTAW, MEMBERS, letter_name
from codes.editions import Tested
from codes.limits import Limit, Nothing, OneOf, When, unless, when_is
from codes.pieces import IfStated, term, unrecorded
from codes.readings import Settings
from codes.terms import tokens
from codes.words import terms_words

SHARED_LIST = doubtful("QW-355")
MODE = memory("QW-409.2")
BENDS = confirmed("QW-409.2, QW-304", SHORT_ARC)
GAS_BACKING = memory("QW-408.8")
POLARITY = memory("QW-409.4")
FILLER = memory("QW-404.14")
FORM = memory("QW-404.23")
INSERT = memory("QW-404.22")

OTHER_MODES = ("globular", "spray", "pulsed")
ARC = ("SMAW", "SAW", GMAW, FCAW, GTAW)
# Welding with solid or metal-cored, with flux-cored filler, and without filler.
GTAW_FORMS = (("141", "145"), ("143",), ("142",))
SAME_FORM = (("solid", "metal_cored"), ("flux_cored",), ("flux_coated",), ("powder",))
EVERY_GAS = tuple(gas for gas in tokens("gas") if gas != "none")
GMAW_WELD = when_is("process", *MEMBERS[GMAW])


def process_limits(piece: Tested, settings: Settings) -> tuple[Limit, ...]:
    """The process by its letters; a change is always a new test."""
    tested = term(piece, "process")
    name = letter_name(tested)
    if name not in ARC or tested is None:
        return (
            unrecorded("process", PROCESS, field="an arc process that is judged here (SMAW, SAW, GMAW, FCAW, GTAW)"),
        )
    numbers = MEMBERS[name]
    if name not in (GMAW, FCAW):
        because = f"tested {tested} · {name}: covers {', '.join(numbers)}"
        return (Limit("process", OneOf(numbers), PROCESS, because, reason="process", tested=tested),)
    used = (GMAW_FCAW.used(settings),)
    if GMAW_FCAW.option(settings) == "one" and term(piece, "transfer_mode") != "dip":
        numbers = (*MEMBERS[GMAW], *MEMBERS[FCAW])
    because = f"tested {tested} · {name}: covers {', '.join(numbers)}"
    return (Limit("process", OneOf(numbers), SHARED_LIST, because, readings=used, reason="process", tested=tested),)


def mode_limits(piece: Tested) -> tuple[Limit, ...]:
    """Short-circuiting against every other transfer: neither covers the other."""
    name = letter_name(term(piece, "process"))
    if name not in (GMAW, FCAW):
        return ()
    mode = term(piece, "transfer_mode") or (None if name == GMAW else "spray")
    if mode is None:
        return (unrecorded("transfer_mode", MODE, when=(GMAW_WELD,)),)
    if mode == "dip" and term(piece, "soundness_test") == "volumetric":
        because = "tested short-circuiting by RT or UT alone: it takes bend tests"
        return (Limit("process", Nothing(), BENDS, because, reason="transfer_mode", tested=mode),)
    covers = ("dip",) if mode == "dip" else OTHER_MODES
    because = f"tested {mode}: short-circuiting and the other modes do not cover each other"
    return (Limit("transfer_mode", OneOf(covers), MODE, because, (GMAW_WELD,), reason="transfer_mode", tested=mode),)


def backing_gas_limits(piece: Tested) -> tuple[Limit, ...]:
    """Tested with gas behind the root: not without, except backed joints, joints from both sides and fillets."""
    if letter_name(term(piece, "process")) not in (GMAW, FCAW, GTAW) or detail_of(piece) not in OPEN:
        return ()
    gas = term(piece, "backing_gas") or ("I1" if detail_of(piece) == "ss_gb" else None)
    open_root = (FULL, unless("weld_detail", *BACKED, "ss_gb"))
    if gas is None:
        field = "the backing gas, or none"
        return (unrecorded("backing_gas", GAS_BACKING, when=open_root, field=field),)
    if gas == "none":
        return ()
    because = "tested with gas behind the root: no open root without"
    always = "tested with gas behind the root: no exception on these metals"
    bound = (unless("weld_detail", "ss_gb"), IfStated("p_number", OneOf(GAS_BOUND)))
    return (_gas(because, open_root), _gas(always, bound))


def _gas(because: str, when: tuple[When, ...]) -> Limit:
    return Limit("backing_gas", OneOf(EVERY_GAS), GAS_BACKING, because, when, reason="backing_gas")


def gtaw_limits(piece: Tested) -> tuple[Limit, ...]:
    """GTAW: current and polarity, filler or none, its form, and the consumable insert."""
    tested = term(piece, "process")
    if letter_name(tested) != GTAW or tested is None:
        return ()
    numbers = next(row for row in GTAW_FORMS if tested in row)
    without = tested == "142"
    words = "without filler" if without else f"with filler ({', '.join(numbers)})"
    because = f"tested {words}: a change of filler or its form is a new test"
    reason = "filler_addition" if without else "filler_form"
    filler = Limit("process", OneOf(numbers), FORM, because, (unless("process", "142"),), reason=reason, tested=tested)
    none = Limit("process", OneOf(numbers), FILLER, because, (when_is("process", "142"),), reason="filler_addition")
    return (filler, none, *_form_limits(piece), _current(piece), *_insert(piece))


def _form_limits(piece: Tested) -> tuple[Limit, ...]:
    """The form of the filler where the record states one that the process number does not tell."""
    form = term(piece, "product_form")
    row = next((row for row in SAME_FORM if form in row), None)
    if row is None:
        return ()
    because = f"tested {terms_words('product_form', (form or '',))}: covers {terms_words('product_form', tuple(row))}"
    return (Limit("product_form", OneOf(row), FORM, because, reason="filler_form", tested=form or ""),)


def _current(piece: Tested) -> Limit:
    tested = term(piece, "current_type")
    if tested is None:
        return unrecorded("current_type", POLARITY, "current_polarity")
    because = f"tested {tested}: a change of current or polarity is a new test"
    return Limit("current_type", OneOf((tested,)), POLARITY, because, reason="current_polarity", tested=tested)


def _insert(piece: Tested) -> tuple[Limit, ...]:
    """An insert added or left out; fillets and backed joints are free."""
    if detail_of(piece) is None:
        return ()
    tested = "ci" if detail_of(piece) == "ci" else "no insert"
    covers = ("ci", *BACKED) if tested == "ci" else ("ss_nb", "ss_gb", "ss_fb", *BACKED)
    because = f"tested with {tested.replace('ci', 'a consumable insert')}: an insert is neither added nor left out"
    return (Limit("weld_detail", OneOf(covers), INSERT, because, (FULL,), reason="insert", tested=tested),)

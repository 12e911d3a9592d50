"""ISO 9606-1:2012, 5.9: sides and backing (Table 11), single and multi run (Table 12), torch direction of 311."""

from dataclasses import dataclass

from codes.clauses import Clause
from codes.editions import Tested
from codes.iso_9606_1_2012.clauses import HANDOUT, IIW_INDIA, clause, confirmed, doubtful
from codes.iso_9606_1_2012.tested import term
from codes.limits import Free, Limit, OneOf, Unrecorded

T11, T12 = "5.9, Table 11", "5.9, Table 12"


@dataclass(frozen=True, slots=True)
class DetailRow:
    """A tested detail and the details it covers."""

    tested: str
    covers: tuple[str, ...]
    clause: Clause


# A weld from both sides is one detail here, gouged or not.
BACKING_ROWS = (
    DetailRow("ss_nb", ("ss_nb", "ss_mb", "bs", "ss_gb", "ss_fb"), confirmed(T11, HANDOUT)),
    DetailRow("ss_mb", ("ss_mb", "bs"), clause(T11)),
    DetailRow("bs", ("ss_mb", "bs"), clause(T11)),
    DetailRow("ss_gb", ("ss_mb", "bs", "ss_gb"), clause(T11)),
    DetailRow("ci", ("ss_mb", "bs", "ci"), clause(T11)),
    DetailRow("ss_fb", ("ss_mb", "bs", "ss_fb"), clause(T11)),
)
RUN_ROWS = (
    DetailRow("single_run", ("single_run",), clause(T12)),
    DetailRow("multi_run", ("single_run", "multi_run"), confirmed(T12, HANDOUT)),
)
# The supplementary fillet is one layer unless the certificate prints more.
SUPPLEMENTARY_RUN = doubtful("5.4 e, Table 12")
DIRECTION = confirmed("5.9", IIW_INDIA)


def detail_limit(piece: Tested) -> Limit:
    """Sides and backing of a butt weld. Example: ss gb covers ss mb, bs and ss gb, not ss nb."""
    tested = "ss_mb" if term(piece, "combined_piece") == "yes" else term(piece, "weld_detail")
    row = next((row for row in BACKING_ROWS if row.tested == tested), None)
    if row is None:
        return Limit("weld_detail", Unrecorded("sides and backing"), clause(T11), reason="weld_detail")
    because = f"tested {_words(row.tested)}: covers {', '.join(map(_words, row.covers))}"
    return Limit("weld_detail", OneOf(row.covers), row.clause, because, reason="weld_detail", tested=row.tested)


def run_limit(piece: Tested) -> Limit:
    """Single or multi run of a fillet weld: multi run covers both."""
    return _run_limit(term(piece, "run_type"), None)


def combined_run_limit() -> Limit:
    """The fillet of a combined piece counts as multi run."""
    return _run_limit("multi_run", doubtful("Annex C"))


def supplementary_run_limit(piece: Tested) -> Limit:
    """The run type that the certificate prints for the supplementary fillet, else single run."""
    return _run_limit(term(piece, "supplementary_run_type") or "single_run", SUPPLEMENTARY_RUN)


def _run_limit(tested: str | None, where: Clause | None) -> Limit:
    row = next((row for row in RUN_ROWS if row.tested == tested), None)
    if row is None:
        return Limit("run_type", Unrecorded("single or multi run"), clause(T12), reason="layer")
    if row.tested == "multi_run":
        because = "tested multi run: covers single and multi run"
        return Limit("run_type", Free(), where or row.clause, because, reason="layer", tested=row.tested)
    because = "tested single run: covers single run only"
    return Limit("run_type", OneOf(row.covers), where or row.clause, because, reason="layer", tested=row.tested)


def direction_limits(piece: Tested) -> tuple[Limit, ...]:
    """Leftward and rightward oxy-acetylene welding each need their own test."""
    if term(piece, "process") != "311":
        return ()
    tested = term(piece, "torch_direction")
    allowed = OneOf((tested,)) if tested else Unrecorded("leftward or rightward welding")
    because = f"tested {tested}: a change of direction needs a new test" if tested else ""
    return (Limit("torch_direction", allowed, DIRECTION, because, reason="weld_detail", tested=tested or ""),)


def _words(token: str) -> str:
    return token.replace("_", " ")

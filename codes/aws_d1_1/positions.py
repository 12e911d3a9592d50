"""AWS D1.1: how positions of a joint are named, and which of them a set of production positions serves."""

from codes.limits import When, when_is

FLAT, HORIZONTAL, VERTICAL, OVERHEAD = "F", "H", "V", "OH"
ALL = (FLAT, HORIZONTAL, VERTICAL, OVERHEAD)

# A joint may be asked about by production position or by the figure's own name. Pipe names need several at once.
GROOVE_NAMES = {"1G": (FLAT,), "2G": (HORIZONTAL,), "3G": (VERTICAL,), "4G": (OVERHEAD,)}
FILLET_NAMES = {"1F": (FLAT,), "2F": (HORIZONTAL,), "3F": (VERTICAL,), "4F": (OVERHEAD,)}
PIPE_NAMES = {"5G": (FLAT, VERTICAL, OVERHEAD), "6G": ALL, "6GR": ALL}
FILLET_PIPE_NAMES = {"5F": ALL}

IN_FLAT = ("F", "1G", "1F")
IN_HORIZONTAL = ("H", "2G", "2F")
IN_VERTICAL = ("V", "3G", "3F", "5G", "6G", "6GR", "5F")
IN_OVERHEAD = ("OH", "4G", "4F", "5G", "6G", "6GR", "5F")

NAMES_IN = {FLAT: IN_FLAT, HORIZONTAL: IN_HORIZONTAL, VERTICAL: IN_VERTICAL, OVERHEAD: IN_OVERHEAD}


def names_served(positions: tuple[str, ...], fillet: bool) -> tuple[str, ...]:
    """The words by which a joint in these production positions may be stated.

    Example: ("F", "H") for grooves gives F, H, 1G, 2G.
    """
    single = FILLET_NAMES if fillet else GROOVE_NAMES
    pipe = FILLET_PIPE_NAMES if fillet else PIPE_NAMES
    named = [name for name, needs in (single | pipe).items() if set(needs) <= set(positions)]
    return tuple(position for position in ALL if position in positions) + tuple(named)


def in_position(*positions: str) -> When:
    """The condition that a joint is welded in one of the production positions, whatever the name used."""
    names = dict.fromkeys(name for position in positions for name in NAMES_IN[position])
    return when_is("aws_position", *names)

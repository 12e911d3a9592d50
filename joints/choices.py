"""Choice lists of the joints app, made from the vocabulary so that a term has one spelling everywhere."""

from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from codes.editions import editions_of
from codes.terms import said_words, term, tokens
from wps.preparation import KINDS

Choice = tuple[str, str]


def choices(vocabulary: str) -> list[Choice]:
    """(token, ISO and AWS name with the words) in the order of display."""
    return [(token, label(vocabulary, token)) for token in tokens(vocabulary)]


def label(vocabulary: str, token: str) -> str:
    """A term as people read it. Example: label("process", "135") is "135 · GMAW (MAG, solid wire)"."""
    known = term(vocabulary, token)
    words = known.words.replace(" (", ", ").replace(")", "")
    return known.named if said_words(words) <= said_words(known.named) else f"{known.named} ({words})"


def procedure_codes() -> list[Choice]:
    """The codes to which procedures are tested, by their own keys; none where the contract names none."""
    return [
        ("", gettext("none named")),
        *((known.key, f"{known.key}: {known.title}") for known in editions_of("procedure")),
    ]


def processes() -> list[Choice]:
    """All processes."""
    return choices("process")


def positions() -> list[Choice]:
    """All positions."""
    return choices("position")


def weld_types() -> list[Choice]:
    """All weld types."""
    return choices("weld_type")


def joint_types() -> list[Choice]:
    """All joint types."""
    return choices("joint_type")


def products() -> list[Choice]:
    """Plate or pipe."""
    return choices("product")


def weld_details() -> list[Choice]:
    """One side or both, with what backing."""
    return choices("weld_detail")


def gougings() -> list[Choice]:
    """How the root is opened from the second side."""
    return choices("gouging")


def preparations() -> list[Choice]:
    """How the edges of a butt weld are prepared, by the tokens of procedures."""
    return list(KINDS)


def mechanisations() -> list[Choice]:
    """Manual to automatic."""
    return choices("mechanisation")


def execution_classes() -> list[Choice]:
    """EXC1 to EXC4."""
    return choices("execution_class")


def coordinator_levels() -> list[Choice]:
    """B, S and C."""
    return choices("coordinator_level")


def visual_controls() -> list[Choice]:
    """Direct or remote sight of the arc."""
    return choices("visual_control")


def yes_no() -> list[Choice]:
    """Yes, no; a blank stands for "not stated"."""
    return choices("yes_no")


APPLICATION_STANDARDS: list[Choice] = [("EN 1090-2:2018", "EN 1090-2:2018")]
WORKSTATION_KINDS: list[Choice] = [
    ("manual_bay", _("manual bay")),
    ("mechanised_rig", _("mechanised rig")),
    ("robotic_cell", _("robotic cell")),
]

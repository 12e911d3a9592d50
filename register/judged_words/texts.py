"""Which modules are judges, and all that they say: frames of their source and the tables of terms."""

from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from codes.clauses import Mark
from codes.editions import all_editions
from codes.limits import Free, Nothing
from codes.position_names import position_of
from codes.variables import VARIABLES
from codes.verdict import Outcome
from codes.vocabulary import TERMS, TOGETHER
from codes.where_so import WHERE
from register.judged_words.acts import acts_in, choices_in_rows
from register.judged_words.frames import Frame, frames_in, is_said

TOP = Path(__file__).resolve().parents[2]
JUDGES = (
    "codes/[!_]*.py", "codes/[aceik]*/**/*.py", "register/base/draw/*.py",
    "register/calculations/[cfs]*.py", "joints/answers.py", "joints/choices.py",
    "joints/coverage.py", "joints/demands.py", "joints/gates.py", "joints/joint_preheat.py", "joints/judge.py",
    "joints/margins.py", "joints/matrix.py", "joints/misses.py", "joints/own_grades.py", "joints/people.py",
    "joints/procedures.py", "joints/requirements.py", "joints/sentences.py", "joints/uncovered_by_lapse.py",
    "joints/us_demands.py", "joints/views/answer.py", "joints/templatetags/*.py", "joints/views/joints.py",
    "joints/views/jobs.py", "joints/ahead/*.py", "joints/planning/*.py", "joints/turning/*.py",
    "joints/weld_data/*.py", "joints/weld_metal/*.py", "joints/weld_values/findings.py", "qualifications/clocks.py",
    "qualifications/due.py", "qualifications/methods.py", "qualifications/periods.py", "qualifications/pieces.py",
    "qualifications/sheets.py", "qualifications/standing.py", "qualifications/tables.py",
    "qualifications/timeline.py", "wps/acceptance.py", "wps/changes.py", "wps/combined.py", "wps/completeness.py",
    "wps/cooling_check.py", "wps/judgement.py", "wps/limits_view.py", "wps/offers.py", "wps/preheat_check.py",
    "wps/preparation.py", "wps/sheets.py", "wps/steel_pairs.py",
    "wps/symbol/*.py", "wps/tables.py", "wps/us_window.py", "wps/window.py",
    "wps/words.py",
)  # fmt: skip
"""Their texts are evidence too, so that they are kept and compared in English."""
SPEAKERS = (
    "register/background/run.py", "register/background/sweep.py", "register/background/views.py",
    "register/base/forms.py", "register/lists/*.py", "register/plants/standing.py",
    "register/papers/standing.py", "register/papers/kept.py",
    "register/second/views.py", "register/signing.py", "register/throttle.py",
    "register/trail/pages.py", "register/trail/sealed.py", "register/trail/verify.py", "register/users/forms.py",
    "*/witness.py", "*/*/witness.py", "joints/evidence.py", "joints/imports/[!c]*.py", "joints/imports/c[!o]*.py",
    "joints/imports/compare.py", "joints/imports/corrections.py", "joints/kept/*.py", "joints/listed.py",
    "joints/models.py", "joints/imports/models.py", "joints/model_files/**/*.py", "joints/papers/pack.py",
    "joints/papers/views.py",
    "joints/sizes.py", "joints/views/*.py", "joints/weld_values/*.py", "qualifications/certificate_form.py",
    "qualifications/designations.py", "qualifications/due_*.py", "qualifications/event*.py", "qualifications/forms.py",
    "qualifications/lending/*.py", "qualifications/offers.py", "qualifications/proposals.py",
    "qualifications/views/*.py", "qualifications/weld_log/[!c]*.py", "qualifications/weld_log/cells.py",
    "wps/forms/*.py", "wps/issued.py", "wps/materials/*.py", "wps/preparation_words.py", "wps/record_ranges.py",
    "wps/releases/*.py", "wps/roads.py", "wps/sheet_a*.py", "wps/sheet_batch.py", "wps/sheet_data.py",
    "wps/sketch/*.py", "wps/tested.py",
    "wps/views/*.py", "wps/workflow.py",
)  # fmt: skip
"""They say what a page then tells: refusals, messages, what background work did, headings put together of parts."""
NAMES_ONLY = frozenset({"codes/steel_grades.py", "codes/aws_d1_1/base_metal_rows.py", "codes/asme_ix_2021/sources.py"})


class Texts(NamedTuple):
    """What may be told: messages with where they come from, and the frames among them, the heaviest first."""

    messages: dict[str, str]
    frames: tuple[Frame, ...]


@cache
def texts() -> Texts:
    """All of them; the source is read once, when the first screen in another language is asked for."""
    said = {key: one for key, one in frames_in(TOP, (*JUDGES, *SPEAKERS)).items() if one[1] not in NAMES_ONLY}
    said |= {frame.key: (frame, module) for frame, module in acts_in(TOP) if frame.key not in said}
    messages = dict.fromkeys((*terms(), *choices_in_rows()), "a term or a label")
    messages |= {key: _note(*one) for key, one in said.items()}
    frames = (frame for frame, _ in said.values() if frame.names)
    return Texts(messages, tuple(sorted(frames, key=lambda one: -one.weight)))


def terms() -> Iterator[str]:
    """Words of the tables: labels and hints of variables, terms, answers, marks, what an allowed set calls itself."""
    for variable in VARIABLES.values():
        yield from filter(is_said, (variable.label, variable.help))
    yield from (clause for clauses in WHERE.values() for clause in clauses)
    for names in TERMS.values():
        yield from filter(is_said, (name for term in names.values() for name in term))
        # As they stand inside brackets.
        yield from (words.replace(" (", ", ").replace(")", "") for _, _, words in names.values() if "(" in words)
    yield from (in_one for _, in_one in TOGETHER.values())
    yield from (position_of(token, kind) for token in TERMS["position"] for kind in ("fillet", "butt_cjp"))
    yield from (one.value for kind in (Outcome, Mark) for one in kind)
    yield from (one.value.capitalize() for one in Outcome)
    yield from map(str, (Free(), Nothing()))
    for switch in (switch for edition in all_editions() for switch in edition.switches):
        yield from (switch.name, *switch.options)
    yield from SINGLE


SINGLE: Iterable[str] = (
    "none", "any", "always", "person", "people", "alone", "tack", "final", "weld", "years", "and", "or", "not",
    "records", "procedure", "joint", "joints", "group", "gate", "welder", "operator", "strict", "lenient", "levels",
    "designation", "make", "confirmation", "Letter", "year", "years", "month",
    "months", "valid", "greatest", "least", "geometry", "at least", "at most", "mass %", "backgouged", "bar",
    "stainless", "by test", "min by class", "pulsing", "oscillation", "dip", "upwards", "downwards", "free", "groove",
    "root", "scope", "note", "notes", "changed", "product analysis before ladle analysis",
     "run", "process", "filler", "current", "voltage", "speed", "heat", "grade", "yield", "prequalified", "stiffener",
     "choose one",
)  # fmt: skip
"""Words that stand alone in a sentence and in no table."""


def _note(frame: Frame, module: str) -> str:
    places = "; ".join(f"{{{i}}}: {name}" for i, name in enumerate(frame.names, 1))
    return f"{module}{f' ({places})' if places else ''}"

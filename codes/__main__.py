"""`python3 -m codes`: a question in JSON on standard input, the answer on standard output; `--help` says how to ask.

A question asks for a verdict, a calculation ({"calculation": ..., "inputs": {...}}) or a look-up ({"look_up": ...}).
Exit code 0 covered or answered, 1 outside, 2 not stated, 3 bad question or a method that refuses. A list of questions
is answered in one run; its exit code is 3 if any of its answers has it, else 1, else 2, else 0.
"""

import json
import sys
from decimal import Decimal, InvalidOperation
from typing import NoReturn

from codes.door.answer import Answer, answer
from codes.door.calculation import answer_calculation
from codes.door.help import help_text
from codes.door.look_up import answer_look_up
from codes.door.question import read_question
from codes.door.schema import schemas
from codes.door.short_forms import long_form
from codes.parse import BadField, Plain

BAD = 3
EXIT_OF = {"covered": 0, "answered": 0, "outside": 1, "not stated": 2, "refused": BAD}
WORST_FIRST = (3, 1, 2, 0)


def main(arguments: list[str], stdin: bytes) -> tuple[int, str]:
    """The exit code and the text to print."""
    if arguments == ["--schema"]:
        return 0, _dump(schemas())
    if arguments:
        try:
            return 0, help_text(arguments)
        except BadField as error:
            return BAD, _dump(_bad(error.field, error.problem))
    if not stdin.strip():
        problem = "none came in on standard input; python3 -m codes --help says how to ask"
        return BAD, _dump(_bad("question", problem))
    try:
        plain = json.loads(stdin.decode("utf-8-sig"), parse_float=_figure, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        return BAD, _dump(_bad("question", f"is not JSON: {error}"))
    if not isinstance(plain, list):
        code, result = _answered(plain)
        return code, _dump(result)
    if not plain:
        return BAD, _dump(_bad("question", "the list holds no question"))
    pairs = [_answered(one) for one in plain]
    worst = min((code for code, _ in pairs), key=WORST_FIRST.index)
    return worst, _dump([result for _, result in pairs])


def _answered(plain: Plain) -> tuple[int, Answer]:
    try:
        result = _answer(plain)
    except BadField as error:
        bad = _bad(error.field, error.problem)
        ident = plain.get("id") if isinstance(plain, dict) else None
        return BAD, ({"id": ident} if ident else {}) | bad
    return EXIT_OF[str(result["outcome"])], result


def _answer(plain: Plain) -> Answer:
    if isinstance(plain, dict) and "calculation" in plain:
        return answer_calculation(plain)
    if isinstance(plain, dict) and "look_up" in plain:
        return answer_look_up(plain)
    return answer(read_question(long_form(plain)))


def _bad(field: str, problem: str) -> Answer:
    return {"error": {"field": field, "problem": problem}}


def _figure(text: str) -> Decimal:
    try:
        return Decimal(text)
    except InvalidOperation:
        raise ValueError(f"{text[:40]} is not a usable number") from None


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is not a number")


def _dump(plain: Plain) -> str:
    printed = json.dumps(plain, ensure_ascii=False, indent=1)
    try:
        printed.encode()
    except UnicodeEncodeError:
        # Half of a letter that came in as an escape goes out as one.
        return json.dumps(plain, indent=1)
    return printed


if __name__ == "__main__":
    code, printed = main(sys.argv[1:], b"" if sys.argv[1:] else sys.stdin.buffer.read())
    # JSON is UTF-8, whatever the terminal is said to speak.
    sys.stdout.buffer.write(printed.encode() + b"\n")
    sys.stdout.flush()
    sys.exit(code)

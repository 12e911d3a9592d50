"""python -m joints.imports.sheet_reader FILE: prints the cells of a workbook in short (joints.imports.plain).

Exit code 0, or 3 with the reason as text where it cannot be read.
"""

import sys
from pathlib import Path

from joints.imports.plain import plain_form
from joints.imports.table import Refusal
from joints.imports.workbook import read_xlsx


def main() -> int:
    try:
        said = plain_form(read_xlsx(Path(sys.argv[1]).read_bytes()))
    except Refusal as refusal:
        sys.stdout.buffer.write(str(refusal).encode())
        return 3
    sys.stdout.buffer.write(said)
    return 0


if __name__ == "__main__":
    sys.exit(main())

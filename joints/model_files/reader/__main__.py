"""python -m joints.model_files.reader FILE: prints what the model says of its welds as one JSON object.

Exit code 0, or 3 with {"refused": why} where the model cannot be read.
"""

import json
import sys

from joints.model_files.reader.model import Unreadable, read_model


def main() -> int:
    try:
        found = read_model(sys.argv[1])
    except Unreadable as refusal:
        json.dump({"refused": str(refusal)}, sys.stdout)
        return 3
    json.dump(found, sys.stdout)
    return 0


if __name__ == "__main__":
    sys.exit(main())

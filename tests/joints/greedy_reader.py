"""A reader for tests of the bounds: what the file asks for, it tries to do."""

import os
import resource
import sys
import time
from pathlib import Path

LIMITS = (resource.RLIMIT_AS, resource.RLIMIT_CPU, resource.RLIMIT_FSIZE, resource.RLIMIT_CORE)

if __name__ == "__main__":
    asked = Path(sys.argv[1]).read_text()
    if asked == "limits":
        print(*(resource.getrlimit(kind)[1] for kind in LIMITS))
        print(*sorted(os.environ))
    elif asked == "memory":
        print(len(bytearray(400 * 1024**2)))
    elif asked == "answer":
        sys.stdout.write("x" * 5000)
    elif asked == "time":
        time.sleep(60)
    elif asked == "refuse":
        print("No.")
        sys.exit(3)

"""Files that are packed as ZIP: workbooks and exports."""

import zipfile
import zlib

BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError, OSError)
"""What opening and unpacking raise where a byte of the file is bent or missing."""

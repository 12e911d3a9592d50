#!/usr/bin/env bash
# Look up every pinned package at the advisory service. Exit 0 clean, 1 an advisory, 3 left out: no service answers.
# Nothing is installed before one answers.
set -euo pipefail
cd "$(dirname "$0")/.."
. scripts/lib.sh
python="$(find_python)" || fail "Missing: Python 3.11 or later. Debian 12 and 13 have it as python3."
"$python" scripts/audit.py reached
bash scripts/set-up.sh audit
exec .venv-audit/bin/python scripts/audit.py

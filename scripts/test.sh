#!/usr/bin/env bash
# Every check, cheapest first. `quick` leaves the browser out, `browser` runs nothing else.
set -euo pipefail
cd "$(dirname "$0")/.."
. scripts/lib.sh
kind="${1:-all}"
bin=.venv/bin

# Examples in docstrings, where there are any (5: none found).
examples() { "$bin/pytest" -q --doctest-modules codes -p no:cacheprovider || [ $? = 5 ]; }
step() { say "== $1"; shift; "$@"; }

if [ "$kind" != browser ]; then
    step "style" "$bin/ruff" check .
    step "form" "$bin/ruff" format --check .
    step "types of codes/" "$bin/mypy"
    step "migrations complete" "$bin/python" manage.py makemigrations --check --dry-run
    step "examples in codes/" examples
    step "tests" "$bin/pytest" -q tests --ignore=tests/browser -n 2
fi
if [ "$kind" != quick ]; then
    step "tests in the browser" "$bin/pytest" -q tests/browser
fi
say "All checks passed."

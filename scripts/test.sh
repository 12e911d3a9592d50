#!/usr/bin/env bash
# Every check, cheapest first. `quick` leaves browser and PostgreSQL out, `browser` and `postgres` run nothing else.
set -euo pipefail
cd "$(dirname "$0")/.."
. scripts/lib.sh
kind="${1:-all}"
bin=.venv/bin

# Examples in docstrings, where there are any (5: none found).
examples() { "$bin/pytest" -q --doctest-modules codes -p no:cacheprovider || [ $? = 5 ]; }
step() { say "== $1"; shift; "$@"; }

# Asks every page as every role, or the same form with many entries: one database of the two is enough for each change.
WIDE="tests/register/test_access.py tests/joints/api/test_access.py tests/joints/api/test_contract.py \
    tests/test_hostile_entries.py tests/register/test_calculations.py tests/register/test_calculations_us.py"

# The tests that ask a database, all but the browser's, once more on PostgreSQL; as a part of all checks without the WIDE.
# TEST_POSTGRES_URL names a server whose user may create databases; without it one is started for the purpose where its
# programs are installed.
on_postgres() {
    local tests=("$bin/pytest" -q tests --ignore=tests/browser --ignore=tests/codes --ignore=tests/bench -n 2)
    local wide
    if [ "$kind" = all ]; then
        for wide in $WIDE; do tests+=("--ignore=$wide"); done
    fi
    if [ -n "${TEST_POSTGRES_URL:-}" ]; then
        ONLY_DATABASE=1 DATABASE_URL="$TEST_POSTGRES_URL" "${tests[@]}"
    elif ! bash scripts/postgres.sh found >/dev/null; then
        say "PostgreSQL is not installed: left out. Debian: apt-get install postgresql, or TEST_POSTGRES_URL=postgres://..."
    else
        ONLY_DATABASE=1 bash scripts/postgres.sh with "${tests[@]}"
    fi
}

case "$kind" in all | quick | browser | postgres) ;; *) fail "usage: scripts/test.sh [all|quick|browser|postgres]" ;; esac
if [ "$kind" = all ] || [ "$kind" = quick ]; then
    step "style" "$bin/ruff" check .
    step "form" "$bin/ruff" format --check .
    step "types of codes/" "$bin/mypy"
    step "migrations complete" "$bin/python" manage.py makemigrations --check --dry-run
    step "examples in codes/" examples
    step "tests" "$bin/pytest" -q tests --ignore=tests/browser -n 2
fi
if [ "$kind" = all ] || [ "$kind" = postgres ]; then
    step "tests on PostgreSQL" on_postgres
fi
if [ "$kind" = all ] || [ "$kind" = browser ]; then
    step "tests in the browser" "$bin/pytest" -q tests/browser -n 2
fi
say "All checks passed."

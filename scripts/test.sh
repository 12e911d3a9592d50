#!/usr/bin/env bash
# Every check, cheapest first. `quick` leaves browser and PostgreSQL out, `browser` and `postgres` run nothing else.
set -euo pipefail
cd "$(dirname "$0")/.."
. scripts/lib.sh
# Many tests start a process of their own; each would compile the register anew.
unset PYTHONDONTWRITEBYTECODE
kind="${1:-all}"
bin=.venv/bin

# Examples in docstrings, where there are any.
examples() { ! grep -rqs --include='*.py' '^ *>>> ' codes || "$bin/pytest" -q --doctest-modules codes -p no:cacheprovider; }
step() { say "== $1"; shift; "$@"; }

# What rests on the database itself: locks, triggers, transactions, the chain, copies of the whole, what is in whose sight.
# `make test` asks these on both databases, `make test-postgres` every test that asks a database.
CORE="tests/register/background tests/register/test_audit.py tests/register/test_backup.py
    tests/register/test_database_away.py tests/register/test_evidence.py tests/register/test_held_witness.py tests/register/test_firm_grades.py tests/register/test_plants.py
    tests/register/test_paper_facts.py tests/register/test_plant_roles.py tests/register/test_second_factor.py tests/register/test_signing.py
    tests/register/test_systems.py tests/register/test_trail.py
    tests/register/test_triggers.py tests/register/test_two_writers.py tests/register/test_upgrade.py
    tests/wps/test_frozen.py tests/wps/test_reading.py tests/wps/test_witness.py tests/wps/test_workflow.py
    tests/qualifications/test_witness.py tests/joints/test_bulk.py tests/joints/test_exchange.py
    tests/joints/test_import_batch.py tests/joints/test_import_compare.py tests/joints/test_sealed.py tests/joints/api/test_sending.py"

# Each user's way from start to end, and axe on every page. `make browser-test` asks every page in all its states, and axe
# again on the way through them.
WALKS="tests/browser/test_walk.py tests/browser/test_by_keyboard.py tests/browser/test_import_walk.py
    tests/browser/test_turning_walk.py tests/browser/test_every_page.py tests/browser/test_sign_in.py
    --deselect tests/browser/test_turning_walk.py::test_nothing_for_axe_to_find"

# The tests that ask a database, all but the browser's, once more on PostgreSQL; as a part of all checks the CORE.
# TEST_POSTGRES_URL names a server whose user may create databases; without it one is started for the purpose where its
# programs are installed.
on_postgres() {
    local what=tests tests
    [ "$kind" = postgres ] || what="$CORE"
    # shellcheck disable=SC2086  # the list is meant to fall apart into words
    tests=("$bin/pytest" -q $what --ignore=tests/browser --ignore=tests/codes --ignore=tests/bench -n 2)
    if [ -n "${TEST_POSTGRES_URL:-}" ]; then
        ONLY_DATABASE=1 DATABASE_URL="$TEST_POSTGRES_URL" "${tests[@]}"
    elif ! bash scripts/postgres.sh found >/dev/null; then
        say "PostgreSQL is not installed: left out. Debian: apt-get install postgresql, or TEST_POSTGRES_URL=postgres://..."
    else
        ONLY_DATABASE=1 bash scripts/postgres.sh with "${tests[@]}"
    fi
}

# Last, as it asks somebody outside: it fails where there is an advisory, and says so where nobody answers (3).
left_out=""
audit() { bash scripts/audit.sh || { [ $? = 3 ] && left_out=" But not the audit of the packages: left out, see above."; }; }

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
if [ "$kind" = all ]; then
    # shellcheck disable=SC2086  # the list is meant to fall apart into words
    step "the ways of the users in the browser" "$bin/pytest" -q $WALKS -n 2
elif [ "$kind" = browser ]; then
    step "tests in the browser" "$bin/pytest" -q tests/browser -n 2
fi
if [ "$kind" = all ]; then
    step "advisories about the packages" audit
fi
say "All checks passed.$left_out"

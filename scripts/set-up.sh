#!/usr/bin/env bash
# Everything that the register (run), its tests (test) or the audit of its packages (audit, in an environment of its own)
# need on this machine. Safe to repeat, quick the second time.
set -euo pipefail
cd "$(dirname "$0")/.."
. scripts/lib.sh

PDF_PACKAGES="libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
DRIVER_PACKAGES="libatomic1 libstdc++6" # the browser's driver is linked to them; bare Debian 12 has no libatomic1
kind="${1:-run}"
environment=.venv
case "$kind" in
    run) requirements=requirements.txt ;;
    test) requirements=requirements-test.txt ;;
    audit) requirements=requirements-audit.txt environment=.venv-audit PDF_PACKAGES="" ;;
    *) fail "usage: scripts/set-up.sh run|test|audit" ;;
esac

# Everything that is missing is named at once, so that whoever has to ask for it asks once.
# shellcheck disable=SC2086  # the lists are meant to fall apart into words
missing="$(not_installed $PDF_PACKAGES)"
if python="$(find_python)"; then
    # Debian keeps the part of Python that makes environments in a package of its own.
    "$python" -c 'import ensurepip, venv' 2>/dev/null || missing="python3-venv $missing"
else
    missing="python3 python3-venv $missing"
fi
if [ "$kind" = test ]; then
    missing="$missing $(not_installed $DRIVER_PACKAGES)"
    command -v chromium >/dev/null || [ -n "${CHROMIUM:-}" ] || missing="$missing chromium"
    command -v pdftotext >/dev/null || missing="$missing poppler-utils"
fi
# shellcheck disable=SC2086
[ -z "${missing// /}" ] || debian_packages $missing
python="$(find_python)" || fail "Missing: Python 3.11 or later. Debian 12 and 13 have it as python3."
"$python" -c 'import ensurepip, venv' 2>/dev/null \
    || fail "Missing: the venv module of $python. Debian: apt-get install $(basename "$python")-venv"

if ! "$environment/bin/python" -c 'import pip' 2>/dev/null; then
    say "Making $environment with $("$python" --version)"
    rm -rf "$environment"
    "$python" -m venv "$environment"
fi

# The stamp holds what was installed; the set with the tests includes the set to run.
sets="requirements.txt requirements-ifc.txt requirements-sign.txt requirements-optimise.txt requirements-test.txt"
[ "$kind" != audit ] || sets="$requirements"
# shellcheck disable=SC2086  # the list is meant to fall apart into words
wanted="$(cat $sets | sha256sum | cut -c1-16)"
stamp="$environment/installed"
if [ "$(cat "$stamp-$kind" 2>/dev/null)" != "$wanted" ] && [ "$(cat "$stamp-test" 2>/dev/null)" != "$wanted" ]; then
    say "Installing the packages of $requirements"
    "$environment/bin/python" -m pip install --quiet --disable-pip-version-check --no-input -r "$requirements" \
        || fail "The packages of $requirements could not be installed: see above. pip needs a package index that it can reach."
    printf '%s\n' "$wanted" >"$stamp-$kind"
fi
[ "$kind" != audit ] || exit 0

.venv/bin/python -c 'import weasyprint' 2>/dev/null \
    || fail "Missing: the Pango libraries that PDF sheets are set with. Debian: apt-get install $PDF_PACKAGES"

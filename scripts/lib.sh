# Shell functions that the other scripts share. Source it from the top of the project.

say() { printf '%s\n' "$*"; }
fail() { printf '%s\n' "$*" >&2; exit 1; }

# Run a command as root: directly, by sudo without a password, or by sudo with one if somebody is there to type it.
as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"
    elif command -v sudo >/dev/null && sudo -n true 2>/dev/null; then sudo -n "$@"
    elif command -v sudo >/dev/null && [ -t 0 ] && [ -t 2 ]; then sudo "$@"
    else return 1
    fi
}

can_be_root() {
    [ "$(id -u)" = 0 ] && return 0
    command -v sudo >/dev/null || return 1
    sudo -n true 2>/dev/null || { [ -t 0 ] && [ -t 2 ]; }
}

# Install Debian packages, or say in one line what is missing and how to get it.
debian_packages() {
    local how="apt-get update && apt-get install --no-install-recommends -y $*"
    command -v apt-get >/dev/null || fail "Missing: $* (Debian's names). Install them with this system's package manager, then repeat."
    can_be_root || fail "Missing: $*. As root: $how"
    say "Installing $*"
    as_root apt-get update -qq </dev/null >/dev/null 2>&1 || true
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install --no-install-recommends -y -qq "$@" \
        </dev/null >"${TMPDIR:-/tmp}/weld-register-apt.$$" 2>&1 \
        || { tail -n 5 "${TMPDIR:-/tmp}/weld-register-apt.$$" >&2; fail "Missing: $*. This failed: $how"; }
    rm -f "${TMPDIR:-/tmp}/weld-register-apt.$$"
}

# The Debian packages of the list that are not installed, one line; nothing where there is no dpkg.
not_installed() {
    command -v dpkg-query >/dev/null || return 0
    local package
    for package in "$@"; do
        [ "$(dpkg-query -W -f '${db:Status-Abbrev}' "$package" 2>/dev/null | cut -c1-2)" = ii ] || printf '%s ' "$package"
    done
}

# First Python that is new enough; PYTHON= names one outright.
find_python() {
    local candidate
    for candidate in ${PYTHON:-python3.13 python3.12 python3.11 python3}; do
        if "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            command -v "$candidate"
            return 0
        fi
    done
    return 1
}

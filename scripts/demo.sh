#!/usr/bin/env bash
# Start or stop the demonstration: invented data in a database of its own, served in the background.
set -euo pipefail
cd "$(dirname "$0")/.."
. scripts/lib.sh

folder="$PWD/var/demo"
pid_file="$folder/gunicorn.pid"
log="$folder/gunicorn.log"
worker_file="$folder/worker.pid"
mkdir -p "$folder"
# Never the shop's own database: the sign-ins of the demonstration are known to all.
export FIRM_NAME="${FIRM_NAME:-Tarnholm Steel Structures}"
export VAR_DIR="$folder" DATABASE_URL="${DEMO_DATABASE_URL:-}" DJANGO_SETTINGS_MODULE=register.settings

our_pid() {
    local pid
    pid="$(cat "$pid_file" 2>/dev/null)" || return 1
    tr '\0' ' ' <"/proc/$pid/cmdline" 2>/dev/null | grep -q 'gunicorn.*register.wsgi' && echo "$pid"
}

our_worker() {
    local pid
    pid="$(cat "$worker_file" 2>/dev/null)" || return 1
    tr '\0' ' ' <"/proc/$pid/cmdline" 2>/dev/null | grep -q 'manage.py worker' && echo "$pid"
}

stop() {
    local pid
    if pid="$(our_worker)"; then kill "$pid" 2>/dev/null || true; rm -f "$worker_file"; fi
    pid="$(our_pid)" || return 1
    kill "$pid" 2>/dev/null || fail "The register runs as another user (process $pid): stop it as that user."
    for _ in $(seq 100); do [ -d "/proc/$pid" ] || break; sleep 0.1; done
    rm -f "$pid_file"
}

start() {
    local host="$1" port="$2"
    case "$port" in '' | *[!0-9]*) fail "PORT must be a number, not '$port'." ;; esac
    if ! { our_pid >/dev/null && [ "$(cat "$folder/port" 2>/dev/null)" = "$port" ]; }; then
        .venv/bin/python scripts/port.py free "$host" "$port" \
            || fail "Port $port on $host is taken by another program. Choose one: make demo PORT=$((port + 1))"
    fi
    stop || true
    .venv/bin/python manage.py setup --demo
    ALLOWED_HOSTS="${ALLOWED_HOSTS:-localhost,127.0.0.1,[::1],$host}" .venv/bin/gunicorn register.wsgi --daemon --chdir "$PWD" \
        --bind "$host:$port" --workers 2 --threads 4 --pid "$pid_file" --error-logfile "$log" --capture-output
    nohup .venv/bin/python manage.py worker </dev/null >>"$folder/worker.log" 2>&1 &
    printf '%s\n' "$!" >"$worker_file"
    printf '%s\n' "$port" >"$folder/port"
    .venv/bin/python scripts/port.py answers "$host" "$port" || { tail -n 20 "$log" >&2; fail "The register did not start: see $log"; }
    say "The register runs on http://$host:$port/   (log: var/demo/gunicorn.log, stop: make stop)"
}

case "${1:-}" in
    start) start "${2:-127.0.0.1}" "${3:-8000}" ;;
    stop) if stop; then say "Stopped."; else say "It was not running."; fi ;;
    *) fail "usage: scripts/demo.sh start [host] [port] | stop" ;;
esac

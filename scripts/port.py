"""Is a port free, and does the register answer on it? `port.py free|answers HOST PORT`; exit 0 for yes."""

import socket
import sys
import time
from urllib.error import URLError
from urllib.request import ProxyHandler, build_opener

PATIENCE = 30  # seconds


def free(host: str, port: int) -> bool:
    """True if a server could listen there now."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            return False
    return True


def answers(host: str, port: int) -> bool:
    """True as soon as /ready/ answers 200; False after PATIENCE."""
    place = {"0.0.0.0": "127.0.0.1"}.get(host, host)
    ask = build_opener(ProxyHandler({})).open
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        try:
            with ask(f"http://{place}:{port}/ready/", timeout=5):
                return True
        except (URLError, OSError):
            time.sleep(0.2)
    return False


if __name__ == "__main__":
    question = {"free": free, "answers": answers}[sys.argv[1]]
    sys.exit(0 if question(sys.argv[2], int(sys.argv[3])) else 1)

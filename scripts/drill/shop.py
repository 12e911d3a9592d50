"""One installation in a folder of its own, whose processes can be started, killed and started again."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import suppress
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
PATIENCE = 90.0
"""Seconds that anything may take to start."""


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


class Shop:
    """Web and worker of the register, with the demonstration's data. `database_url` "": SQLite in the folder."""

    def __init__(self, folder: Path, database_url: str = "") -> None:
        self.folder, self.port = folder, free_port()
        self.web: subprocess.Popen[bytes] | None = None
        self.workers: list[subprocess.Popen[bytes]] = []
        kept = {name: value for name, value in os.environ.items() if name not in ("DATABASE_URL", "VAR_DIR")}
        self.environment = kept | {"VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "register.settings"}
        if database_url:
            self.environment["DATABASE_URL"] = database_url

    def use_here(self) -> None:
        """Let this process look into the same database, through Django."""
        for name in ("DATABASE_URL", "VAR_DIR"):
            os.environ.pop(name, None)
        os.environ.update(self.environment)
        sys.path.insert(0, str(TOP))
        import django

        django.setup()

    def manage(self, *arguments: str) -> str:
        """Run a command of manage.py to its end. Raises RuntimeError with what it said where it fails."""
        done = subprocess.run(
            [sys.executable, "manage.py", *arguments], cwd=TOP, env=self.environment, capture_output=True, text=True
        )
        if done.returncode:
            raise RuntimeError(f"manage.py {' '.join(arguments)}: {done.stderr[-2000:]}")
        return done.stdout

    def start_web(self, processes: int = 2, threads: int = 4) -> None:
        """Start gunicorn and wait until it is ready."""
        command = [str(Path(sys.executable).parent / "gunicorn"), "register.wsgi", "--bind", f"127.0.0.1:{self.port}"]
        command += ["--workers", str(processes), "--threads", str(threads), "--timeout", "120"]
        self.web = self._start(command, "web.log")
        self.wait_ready()

    def wait_ready(self) -> None:
        """Wait until the web answers that it can serve."""
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            with suppress(OSError):
                if urllib.request.urlopen(f"http://127.0.0.1:{self.port}/ready/", timeout=5).status == 200:
                    return
            time.sleep(0.05)
        raise RuntimeError(f"The web did not start: see {self.folder / 'web.log'}")

    def start_worker(self) -> None:
        """Start one more worker."""
        command = [sys.executable, "manage.py", "worker", "--interval", "0.1"]
        self.workers.append(self._start(command, "worker.log"))

    def web_cpu(self) -> float:
        """Processor time that gunicorn with its children has used so far [s]: it tells nothing of who else runs."""
        used = 0.0
        for path in Path("/proc").glob("[0-9]*/stat"):
            with suppress(OSError):
                # After the name in brackets: state, parent, group, ...; user and system time are the 12th and 13th.
                said = path.read_text().rpartition(")")[2].split()
                if self.web is not None and int(said[2]) == self.web.pid:
                    used += (int(said[11]) + int(said[12])) / os.sysconf("SC_CLK_TCK")
        return used

    def kill_web(self) -> None:
        """Kill gunicorn with all its children at once."""
        if self.web is not None:
            kill(self.web)
            self.web = None

    def kill_workers(self) -> None:
        """Kill all workers at once."""
        while self.workers:
            kill(self.workers.pop())

    def close(self) -> None:
        """Kill everything and throw the folder away."""
        self.kill_web()
        self.kill_workers()
        shutil.rmtree(self.folder, ignore_errors=True)

    def _start(self, command: list[str], log: str) -> subprocess.Popen[bytes]:
        with (self.folder / log).open("ab") as out:
            return subprocess.Popen(
                command, cwd=TOP, env=self.environment, stdout=out, stderr=out, start_new_session=True
            )


def kill(process: subprocess.Popen[bytes]) -> None:
    """SIGKILL to a process and all of its group: nothing of it gets to clean up."""
    with suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()

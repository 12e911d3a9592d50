"""A browser without a window: one connection, cookies, forms. Standard library only."""

import http.client
import re
from dataclasses import dataclass
from urllib.parse import urlencode

TOKEN = re.compile(rb'name="csrfmiddlewaretoken" value="([^"]+)"')


@dataclass(frozen=True, slots=True)
class Reply:
    """What came back: the status, where a redirect leads, the body."""

    status: int
    location: str
    body: bytes


class Client:
    """One person at one screen. Raises OSError or http.client.HTTPException where the server goes away."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.cookies: dict[str, str] = {}
        self._connection: http.client.HTTPConnection | None = None

    def sign_in(self, name: str, password: str) -> None:
        """Sign in as a person would. Raises RuntimeError where that is refused."""
        self.get("/accounts/login/")
        reply = self.post("/accounts/login/", {"username": name, "password": password})
        if reply.status != 302:
            raise RuntimeError(f"{name} was not let in: {reply.status}")

    def get(self, path: str) -> Reply:
        """Ask for a page."""
        return self._ask("GET", path, None, {})

    def post(self, path: str, fields: dict[str, str]) -> Reply:
        """Send a form, with the token that the cookie holds."""
        body = urlencode({"csrfmiddlewaretoken": self.cookies.get("csrftoken", ""), **fields})
        return self._ask("POST", path, body, {"Content-Type": "application/x-www-form-urlencoded"})

    def _ask(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> Reply:
        headers["Cookie"] = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        kept = self._connection is not None
        try:
            answer, data = self._exchange(method, path, body, headers)
        except (http.client.RemoteDisconnected, ConnectionResetError, BrokenPipeError):
            # The server has closed a connection that lay idle: a browser asks once more on a new one.
            if not kept:
                raise
            answer, data = self._exchange(method, path, body, headers)
        for line in answer.headers.get_all("Set-Cookie") or ():
            name, _, rest = line.partition("=")
            self.cookies[name] = rest.partition(";")[0]
        if answer.will_close:
            self._connection.close()
            self._connection = None
        return Reply(answer.status, answer.headers.get("Location", ""), data)

    def _exchange(
        self, method: str, path: str, body: str | None, headers: dict[str, str]
    ) -> tuple[http.client.HTTPResponse, bytes]:
        if self._connection is None:
            self._connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        try:
            self._connection.request(method, path, body, headers)
            answer = self._connection.getresponse()
            return answer, answer.read()
        except (OSError, http.client.HTTPException):
            self._connection.close()
            self._connection = None
            raise

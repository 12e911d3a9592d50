"""How often somebody may ask: a count for each minute, kept by each process of the web server for itself."""

from threading import Lock

MOST_KEYS = 10_000


class Rate:
    """Counts by key and minute. With several processes each counts its own, so together they let through more."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._minute = -1
        self._counts: dict[str, int] = {}

    def seconds_to_wait(self, key: str, most: int, now: float) -> int:
        """0 and one more counted, or the seconds until the next minute where `most` were counted in this one.

        `now`: seconds since any fixed moment. Example: with most=2 the third question at 30.0 s waits 30 s.
        """
        minute = int(now // 60)
        with self._lock:
            if minute != self._minute or len(self._counts) > MOST_KEYS:
                self._minute, self._counts = minute, {}
            count = self._counts.get(key, 0)
            if count >= most:
                return max(1, int((minute + 1) * 60 - now))
            self._counts[key] = count + 1
        return 0

    def clear(self) -> None:
        """Forget all counts."""
        with self._lock:
            self._counts.clear()


asked, refused, looked_up = Rate(), Rate(), Rate()
"""Questions by token, refusals by address; check codes looked up on the public page, by address."""

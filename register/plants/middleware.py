"""Every request works within the reach of whoever asks; the file that is sent afterwards too."""

from collections.abc import Callable, Iterable, Iterator
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from register.plants.reach import PlantNotChosen, Reach, within
from register.plants.standing import SESSION_KEY, standing


class PlantReach:
    """Set what may be seen before the view runs: nothing where nobody is signed in; a public page says what it needs.

    Nothing is asked of the database before the first query on rows of a plant, or the first question about roles.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        signed_in = request.user

        def placed() -> Any:
            # On the account itself, so that it counts whoever asks first.
            signed_in.plant_chosen = _chosen(request)  # type: ignore[union-attr]
            return signed_in

        request.user = SimpleLazyObject(placed)  # type: ignore[assignment]

        def reach() -> Reach:
            # What asks by a token of its own is bounded by the token (register.api.tokens).
            return getattr(request, "plant_reach", None) or standing(request.user).reach

        with within(reach):
            response = self.get_response(request)
        if getattr(response, "streaming", False):
            response.streaming_content = _kept(response.streaming_content, reach)  # type: ignore[attr-defined]
        return response

    def process_exception(self, request: HttpRequest, problem: Exception) -> HttpResponse | None:
        """Something new that needs a plant: let it be chosen, and come back."""
        if not isinstance(problem, PlantNotChosen):
            return None
        back = request.get_full_path() if request.method == "GET" else request.path
        return HttpResponseRedirect(f"{reverse('plants:choose')}?{urlencode({'next': back})}")


def _chosen(request: HttpRequest) -> int | None:
    session = getattr(request, "session", None)
    found = session.get(SESSION_KEY) if session is not None else None
    return found if isinstance(found, int) else None


def _kept(parts: Iterable[bytes], reach: Callable[[], Reach]) -> Iterator[bytes]:
    """The parts of an answer that is made while it is sent, each made within the same reach."""
    source = iter(parts)
    while True:
        with within(reach):
            part = next(source, None)
        if part is None:
            return
        yield part

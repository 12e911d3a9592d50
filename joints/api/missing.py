"""Addresses below the API that are none."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from register.api.problems import Problem, response_of


@csrf_exempt
@login_not_required
def nothing_here(request: HttpRequest) -> HttpResponse:
    """404 as a problem, for whoever asks; nothing is read."""
    return response_of(Problem(404, "There is no such call; GET v1/openapi.json lists those there are."))

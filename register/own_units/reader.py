"""The units of whoever asks: `?units=us` sets them and the session remembers; it begins with those of the account.

Values are kept in SI, exactly; units are a matter of what is shown and of what a bare figure that is typed means.
"""

from typing import Any

from django.contrib.auth.signals import user_logged_in
from django.core.exceptions import BadRequest
from django.dispatch import receiver
from django.http import HttpRequest
from django.utils.translation import gettext

from codes.units import System
from register.own_units.models import OwnUnits

PARAMETER = "units"
SESSION_KEY = "units"
KNOWN = frozenset(one.value for one in System)


def units_of(request: HttpRequest) -> System:
    """The units that a page answers in. Raises BadRequest for units that there are not."""
    asked = request.GET.get(PARAMETER)
    if asked is None:
        return usual_units(request)
    if asked not in KNOWN:
        raise BadRequest(gettext("Units are si or us, not “%(asked)s”.") % {"asked": asked[:20]})
    if usual_units(request).value != asked:
        request.session[SESSION_KEY] = asked
    return System(asked)


def usual_units(request: HttpRequest) -> System:
    """Those of the session, whatever this one address asks for."""
    session = getattr(request, "session", None)
    kept = session.get(SESSION_KEY) if session is not None else None
    return System(kept) if kept in KNOWN else System.SI


@receiver(user_logged_in)
def begin(sender: Any, request: HttpRequest, user: Any, **kwargs: Any) -> None:
    """A session begins with the units of the account."""
    own = OwnUnits.objects.filter(user=user).values_list("units", flat=True).first()
    if own is not None:
        request.session[SESSION_KEY] = own

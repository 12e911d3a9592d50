"""Addresses of the whole register. Apps are named by dotted strings, so that this module imports none."""

from django.urls import include, path

from register.accounts import OwnPassword, SignIn, SignOut
from register.health import alive, ready
from register.metrics.views import metrics
from register.own_units.views import OwnUnitsPage

handler400 = "register.base.errors.bad_request"
handler403 = "register.base.errors.forbidden"
handler500 = "register.base.errors.broken"

urlpatterns = [
    path("health/", alive, name="health"),
    path("ready/", ready, name="ready"),
    path("metrics/", metrics, name="metrics"),
    path("accounts/login/", SignIn.as_view(), name="login"),
    path("accounts/logout/", SignOut.as_view(), name="logout"),
    path("accounts/password/", OwnPassword.as_view(), name="own_password"),
    path("accounts/units/", OwnUnitsPage.as_view(), name="own_units"),
    path("accounts/second/", include("register.second.urls")),
    path("accounts/", include("register.users.urls")),
    path("systems/", include("register.systems.urls")),
    path("api/", include("joints.api.urls")),
    path("plants/", include("register.plants.urls")),
    path("trail/", include("register.trail.urls")),
    path("codes/", include("register.held.urls")),
    path("background/", include("register.background.urls")),
    path("evidence/", include("register.evidence.urls")),
    path("calculations/", include("register.calculations.urls")),
    path("procedures/", include("wps.urls")),
    path("people/", include("qualifications.urls")),
    path("", include("joints.urls")),
]

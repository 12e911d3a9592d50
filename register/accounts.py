"""Signing in and out."""

from django.contrib.auth.views import LoginView, LogoutView

from register.roles import Capability, requires


class SignIn(LoginView):
    """Open to everybody; whoever is signed in already goes home."""

    redirect_authenticated_user = True


@requires(Capability.OWN_ACCOUNT)
class SignOut(LogoutView):
    """Ends the session (POST only)."""

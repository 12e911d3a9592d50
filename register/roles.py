"""Who may do what: roles, capabilities, and the guard that every view states.

A capability is one kind of act. A role is a Django group of the same name that holds a set of them. A view
names the capability that it needs with `requires`; whoever lacks it gets 403. What is not granted is denied.
"""

from collections.abc import Callable, Mapping
from enum import StrEnum
from functools import wraps
from typing import Any

from django.contrib.auth.base_user import AbstractBaseUser
from django.contrib.auth.models import AnonymousUser
from django.contrib.auth.models import User as Account
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from register.plants.reach import Reach
from register.plants.standing import every_role, standing

User = AbstractBaseUser | AnonymousUser


class Role(StrEnum):
    """The roles of the shop; each is a group of this name."""

    COORDINATOR = "coordinator"
    QA = "qa"
    SUPERVISOR = "supervisor"
    AUDITOR = "auditor"


class Capability(StrEnum):
    """Kinds of act. OWN_ACCOUNT is what any account may do for itself, role or none."""

    OWN_ACCOUNT = "own_account"
    VIEW = "view"
    EDIT_RECORD = "edit_record"
    EDIT_PROCEDURE = "edit_procedure"
    CHECK_PROCEDURE = "check_procedure"
    APPROVE_PROCEDURE = "approve_procedure"
    PRINT_SHEET = "print_sheet"
    RECORD_CONFIRMATION = "record_confirmation"
    CONFIRM_OWN_PEOPLE = "confirm_own_people"
    WRITE_WELD_LOG = "write_weld_log"
    LOG_ANYBODY = "log_anybody"
    EDIT_PEOPLE = "edit_people"
    EDIT_JOBS = "edit_jobs"
    IMPORT_JOINTS = "import_joints"
    SET_READINGS = "set_readings"
    MANAGE_USERS = "manage_users"
    READ_TRAIL = "read_trail"
    START_WORK = "start_work"
    WATCH_WORK = "watch_work"


C = Capability

NEEDED: Mapping[Capability, str] = {
    C.OWN_ACCOUNT: _("This needs an account of your own: sign in."),
    C.VIEW: _("This needs the right to read the register."),
    C.EDIT_RECORD: _("This needs the right to write test records."),
    C.EDIT_PROCEDURE: _("This needs the right to write procedures."),
    C.CHECK_PROCEDURE: _("This needs the right to check procedures."),
    C.APPROVE_PROCEDURE: _("This needs the right to approve procedures."),
    C.PRINT_SHEET: _("This needs the right to print sheets."),
    C.RECORD_CONFIRMATION: _("This needs the right to confirm certificates."),
    C.CONFIRM_OWN_PEOPLE: _("This needs the right to confirm certificates of one's own people."),
    C.WRITE_WELD_LOG: _("This needs the right to write the weld log."),
    C.LOG_ANYBODY: _("This needs the right to write the weld log for everybody."),
    C.EDIT_PEOPLE: _("This needs the right to enter people and certificates."),
    C.EDIT_JOBS: _("This needs the right to enter jobs and joints."),
    C.IMPORT_JOINTS: _("This needs the right to take in lists and models of joints."),
    C.SET_READINGS: _("This counts for the whole firm: it needs the right to set how all its works read the codes."),
    C.MANAGE_USERS: _("This needs the right to manage accounts and systems."),
    C.READ_TRAIL: _("This needs the right to read the trail."),
    C.START_WORK: _("This needs the right to start work in the background."),
    C.WATCH_WORK: _("This needs the right to see everybody's work in the background."),
}
"""What whoever lacks a capability is told, a sentence each."""

# START_WORK is to have work done in the background and to give up one's own; each kind of work asks for its own
# capability besides. WATCH_WORK shows the work of all.
# RECORD_CONFIRMATION is for anybody's certificate, CONFIRM_OWN_PEOPLE for people who report to the user;
# whoever holds the first holds the second. WRITE_WELD_LOG is for those people too, LOG_ANYBODY for everybody.
ROLE_CAPABILITIES: Mapping[Role, frozenset[Capability]] = {
    Role.COORDINATOR: frozenset(C),
    Role.QA: frozenset(
        {C.OWN_ACCOUNT, C.VIEW, C.PRINT_SHEET, C.RECORD_CONFIRMATION, C.CONFIRM_OWN_PEOPLE, C.START_WORK}
    ),
    Role.SUPERVISOR: frozenset({C.OWN_ACCOUNT, C.VIEW, C.WRITE_WELD_LOG, C.CONFIRM_OWN_PEOPLE, C.START_WORK}),
    Role.AUDITOR: frozenset({C.OWN_ACCOUNT, C.VIEW, C.READ_TRAIL, C.WATCH_WORK}),
}
FIRM_WIDE = frozenset({C.SET_READINGS})
"""What belongs to no plant and changes what holds at each: granted by a role for the whole firm only."""
NO_ROLE = frozenset({C.OWN_ACCOUNT})
# A technical administrator looks after accounts; judging welds takes a role of the shop.
SUPERUSER = frozenset({C.OWN_ACCOUNT, C.VIEW, C.MANAGE_USERS, C.READ_TRAIL, C.WATCH_WORK})


def capabilities(user: User) -> frozenset[Capability]:
    """All that the user may do where the work at hand is (register.plants.standing); nothing when signed out or
    switched off. One query for an account with roles in a register of one plant, kept on the user.
    """
    if not user.is_authenticated or not user.is_active:
        return frozenset()
    held: frozenset[Capability] | None = getattr(user, "_capabilities", None)
    if held is None:
        here = standing(user)
        granted = [
            given if role in here.firm_roles else given - FIRM_WIDE
            for role, given in ROLE_CAPABILITIES.items()
            if role in here.roles
        ]
        granted.append(SUPERUSER if getattr(user, "is_superuser", False) else NO_ROLE)
        held = frozenset().union(*granted)
        user._capabilities = held  # type: ignore[union-attr]
    return held


def can(user: User, capability: Capability) -> bool:
    """True if the user holds the capability. Raises ValueError for a name that is no capability."""
    return Capability(capability) in capabilities(user)


def account_of(by: Any) -> Any:
    """The account of whoever acts, for a column that names one; None for a system, which has none."""
    return by if getattr(by, "pk", None) is not None else None


def reach_with(user: User, capability: Capability) -> Reach:
    """Every plant at which the user holds the capability, whichever is chosen now; for what asks without a page."""
    found = every_role(user) if user.is_authenticated and user.is_active else {}
    if getattr(user, "is_superuser", False) and capability in SUPERUSER:
        return Reach(None)
    able = {plant for plant, roles in found.items() if any(capability in ROLE_CAPABILITIES[Role(r)] for r in roles)}
    able &= {None} if capability in FIRM_WIDE else able
    return Reach(None) if None in able else Reach(frozenset(plant for plant in able if plant is not None))


def firm_holders(capability: Capability) -> list[str]:
    """The names of those who hold a capability for the whole firm, in their order."""
    able = [role for role, given in ROLE_CAPABILITIES.items() if capability in given]
    found = Account.objects.filter(groups__name__in=able, is_active=True).distinct()
    return sorted(one.get_full_name() or one.get_username() for one in found)


def check(user: User, capability: Capability) -> None:
    """Raise PermissionDenied unless the user holds the capability."""
    if not can(user, capability):
        raise PermissionDenied(str(NEEDED[capability]))


def requires(capability: Capability, *, post: Capability | None = None) -> Callable[[Any], Any]:
    """Guard a function view or a class view: 403 for whoever lacks the capability.

    `post` names a further capability for requests that change something (all but GET, HEAD and OPTIONS).
    The view gets the attributes `required_capability` and `post_capability`, which the access test reads.
    """

    def guard(view: Any) -> Any:
        if isinstance(view, type):
            view.dispatch = _guarded_method(view.dispatch)  # type: ignore[attr-defined]
            marked = view
        else:
            marked = _guarded_function(view, capability, post)
        marked.required_capability = capability
        marked.post_capability = post
        return marked

    return guard


SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


def _check_request(request: HttpRequest, capability: Capability, post: Capability | None) -> None:
    check(request.user, capability)
    if post is not None and request.method not in SAFE_METHODS:
        check(request.user, post)


def _guarded_function(
    view: Callable[..., HttpResponseBase], capability: Capability, post: Capability | None
) -> Callable[..., HttpResponseBase]:
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        _check_request(request, capability, post)
        return view(request, *args, **kwargs)

    return guarded


def _guarded_method(dispatch: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    @wraps(dispatch)
    def guarded(self: Any, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        # Read from the instance, so that a subclass may ask for more than the view that it is built on.
        _check_request(request, self.required_capability, self.post_capability)
        return dispatch(self, request, *args, **kwargs)

    return guarded


class RequiresCapability:
    """Mixin for class views: set `required_capability`, and `post_capability` if changing needs another.

    A view that sets none is refused to everyone.
    """

    required_capability: Capability | None = None
    post_capability: Capability | None = None

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if self.required_capability is None:
            raise PermissionDenied(gettext("%(name)s states no capability.") % {"name": type(self).__name__})
        _check_request(request, self.required_capability, self.post_capability)
        return super().dispatch(request, *args, **kwargs)  # type: ignore[misc, no-any-return]


def allowed(user: User) -> dict[str, bool]:
    """Every capability by name with yes or no, for a template: `{% if may.edit_record %}`."""
    held = capabilities(user)
    return {capability.value: capability in held for capability in Capability}


def allowed_context(request: HttpRequest) -> dict[str, Any]:
    """Context processor: `may` on every page, worked out when a template first asks."""
    user = getattr(request, "user", None) or AnonymousUser()
    return {"may": SimpleLazyObject(lambda: allowed(user))}

"""Who may do what, and the guards that hold views to it."""

from typing import Any

import pytest
from django.contrib.auth.models import AnonymousUser, Group, User
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory
from django.views import View

from register.roles import (
    NEEDED,
    ROLE_CAPABILITIES,
    Capability,
    RequiresCapability,
    Role,
    allowed,
    can,
    capabilities,
    check,
    requires,
)

C = Capability

# The table as the shop reads it; the code must say the same.
EXPECTED: dict[Capability, set[str]] = {
    C.OWN_ACCOUNT: {"coordinator", "second_coordinator", "qa", "supervisor", "auditor", "no_role"},
    C.VIEW: {"coordinator", "second_coordinator", "qa", "supervisor", "auditor"},
    C.EDIT_RECORD: {"coordinator", "second_coordinator"},
    C.EDIT_PROCEDURE: {"coordinator", "second_coordinator"},
    C.CHECK_PROCEDURE: {"coordinator", "second_coordinator"},
    C.APPROVE_PROCEDURE: {"coordinator", "second_coordinator"},
    C.PRINT_SHEET: {"coordinator", "second_coordinator", "qa"},
    C.RECORD_CONFIRMATION: {"coordinator", "second_coordinator", "qa"},
    C.CONFIRM_OWN_PEOPLE: {"coordinator", "second_coordinator", "qa", "supervisor"},
    C.WRITE_WELD_LOG: {"coordinator", "second_coordinator", "supervisor"},
    C.LOG_ANYBODY: {"coordinator", "second_coordinator"},
    C.EDIT_PEOPLE: {"coordinator", "second_coordinator"},
    C.EDIT_JOBS: {"coordinator", "second_coordinator"},
    C.IMPORT_JOINTS: {"coordinator", "second_coordinator"},
    C.SET_READINGS: {"coordinator", "second_coordinator"},
    C.MANAGE_USERS: {"coordinator", "second_coordinator"},
    C.READ_TRAIL: {"coordinator", "second_coordinator", "auditor"},
    C.START_WORK: {"coordinator", "second_coordinator", "qa", "supervisor"},
    C.WATCH_WORK: {"coordinator", "second_coordinator", "auditor"},
}


@pytest.mark.parametrize("capability", C)
def test_each_capability_is_held_by_these_and_no_others(capability: C, people: dict[str, Any]) -> None:
    assert {name for name, user in people.items() if can(user, capability)} == EXPECTED[capability]


def test_whoever_confirms_anybody_confirms_their_own() -> None:
    for held in ROLE_CAPABILITIES.values():
        assert C.RECORD_CONFIRMATION not in held or C.CONFIRM_OWN_PEOPLE in held


def test_an_auditor_may_look_and_no_more() -> None:
    assert ROLE_CAPABILITIES[Role.AUDITOR] == {C.OWN_ACCOUNT, C.VIEW, C.READ_TRAIL, C.WATCH_WORK}


def test_every_role_has_its_group(db: None) -> None:
    assert set(Group.objects.values_list("name", flat=True)) == {role.value for role in Role}


def test_two_roles_add_up(qa: User) -> None:
    qa.groups.add(Group.objects.get(name="supervisor"))
    assert can(qa, C.PRINT_SHEET)
    assert can(qa, C.WRITE_WELD_LOG)
    assert not can(qa, C.EDIT_PROCEDURE)


def test_a_group_that_is_no_role_grants_nothing(no_role: User) -> None:
    no_role.groups.add(Group.objects.create(name="administrators"))
    assert capabilities(no_role) == {C.OWN_ACCOUNT}


def test_an_account_switched_off_may_do_nothing(coordinator: User) -> None:
    coordinator.is_active = False
    assert capabilities(coordinator) == frozenset()


def test_a_superuser_judges_no_welds(db: None) -> None:
    root = User.objects.create_superuser("root")
    assert can(root, C.MANAGE_USERS)
    assert not can(root, C.APPROVE_PROCEDURE)


def test_a_name_that_is_no_capability_raises(coordinator: User) -> None:
    with pytest.raises(ValueError, match="edit_recrod"):
        can(coordinator, "edit_recrod")  # type: ignore[arg-type]


def test_asking_twice_costs_one_query(coordinator: User, django_assert_num_queries: Any) -> None:
    with django_assert_num_queries(1):
        assert can(coordinator, C.VIEW)
        assert allowed(coordinator)["edit_record"]


def test_allowed_names_every_capability() -> None:
    assert allowed(AnonymousUser()) == dict.fromkeys((capability.value for capability in C), False)


@requires(C.VIEW, post=C.EDIT_RECORD)
def function_view(request: HttpRequest) -> HttpResponse:
    return HttpResponse("seen")


@requires(C.VIEW, post=C.EDIT_RECORD)
class DecoratedView(View):
    def get(self, request: HttpRequest) -> HttpResponse:
        return HttpResponse("seen")

    post = get


class MixedView(RequiresCapability, View):
    required_capability = C.VIEW
    post_capability = C.EDIT_RECORD

    def get(self, request: HttpRequest) -> HttpResponse:
        return HttpResponse("seen")

    post = get


GUARDED = [function_view, DecoratedView.as_view(), MixedView.as_view()]


@pytest.mark.parametrize("view", GUARDED, ids=["function", "decorated", "mixin"])
@pytest.mark.parametrize(
    ("method", "name", "passes"),
    [
        ("get", "auditor", True),
        ("get", "no_role", False),
        ("get", "nobody", False),
        ("post", "auditor", False),
        ("post", "coordinator", True),
        ("put", "auditor", False),
    ],
)
def test_guards(view: Any, method: str, name: str, passes: bool, people: dict[str, Any], rf: RequestFactory) -> None:
    request = getattr(rf, method)("/")
    request.user = people[name]
    if passes:
        assert view(request).status_code == 200
    else:
        with pytest.raises(PermissionDenied, match="needs the right to"):
            view(request)


def test_a_mixed_view_without_a_capability_is_refused_to_all(coordinator: User, rf: RequestFactory) -> None:
    class Silent(RequiresCapability, View):
        def get(self, request: HttpRequest) -> HttpResponse:
            return HttpResponse("seen")

    request = rf.get("/")
    request.user = coordinator
    with pytest.raises(PermissionDenied, match="Silent states no capability"):
        Silent.as_view()(request)


def test_a_subclass_may_ask_for_more(auditor: User, rf: RequestFactory) -> None:
    class Stricter(DecoratedView):
        required_capability = C.EDIT_JOBS

    request = rf.get("/")
    request.user = auditor
    with pytest.raises(PermissionDenied, match="enter jobs and joints"):
        Stricter.as_view()(request)
    assert DecoratedView.as_view()(request).status_code == 200


def test_each_right_that_is_missing_is_named_in_a_sentence() -> None:
    assert set(NEEDED) == set(Capability)
    for capability, sentence in NEEDED.items():
        assert str(sentence).endswith("."), capability
    with pytest.raises(PermissionDenied, match=r"^This needs the right to read the trail\.$"):
        check(AnonymousUser(), Capability.READ_TRAIL)

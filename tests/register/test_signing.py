"""Wrong passwords are bounded, and acts that are signed ask for the password again."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client, RequestFactory
from django.urls import include, path
from django.utils import timezone

from joints.models import Job
from register.address import client_address
from register.roles import Capability
from register.signing import SignedConfirmPage
from register.throttle import PasswordAttempt, TooManyAttempts, guarded
from tests.conftest import PASSWORD

As = Callable[[str], Client]
LOGIN = "/accounts/login/"


class SignForTests(SignedConfirmPage):
    required_capability = Capability.EDIT_JOBS
    model = Job
    act_label = "Sign"
    page_title = "Sign"

    def get_sentence(self) -> str:
        return "The job is signed."

    def get_cancel_url(self) -> str:
        return "/"

    def act(self) -> str:
        self.object.title = "signed"
        self.object.save()
        return "/"


urlpatterns = [path("sign-for-tests/<int:pk>/", SignForTests.as_view()), path("", include("register.urls"))]
here = pytest.mark.urls("tests.register.test_signing")


def sign_in(client: Client, password: str, name: str = "qa", **extra: str) -> Any:
    return client.post(LOGIN, {"username": name, "password": password}, **extra)


def test_the_fifth_failure_is_the_last(people: dict[str, Any], client: Client) -> None:
    for _ in range(4):
        assert "Too many" not in sign_in(client, "guess").content.decode()
    assert sign_in(client, PASSWORD).status_code == 302
    assert not PasswordAttempt.objects.exists()
    client.logout()
    for _ in range(5):
        assert "Too many" not in sign_in(client, "guess").content.decode()
    page = sign_in(client, PASSWORD).content.decode()
    assert "Too many wrong passwords from here. Try again in 15 minutes" in page
    assert sign_in(client, PASSWORD, "QA ").status_code == 200
    assert sign_in(client, PASSWORD, "coordinator").status_code == 302


def test_another_address_is_not_refused_and_time_heals(people: dict[str, Any], client: Client) -> None:
    for _ in range(5):
        sign_in(client, "guess")
    assert sign_in(Client(), PASSWORD, REMOTE_ADDR="10.0.0.7").status_code == 302
    PasswordAttempt.objects.update(at=timezone.now() - timedelta(minutes=14, seconds=50))
    assert "Try again in 1 minute;" in sign_in(client, PASSWORD).content.decode()
    PasswordAttempt.objects.update(at=timezone.now() - timedelta(minutes=15, seconds=1))
    assert sign_in(client, PASSWORD).status_code == 302


def test_many_names_from_one_address_are_refused_too(people: dict[str, Any], client: Client, settings: Any) -> None:
    settings.PASSWORD_FAILURES_OF_ADDRESS = 6
    for n in range(6):
        assert "Too many" not in sign_in(client, "guess", f"name {n}").content.decode()
    assert "Too many" in sign_in(client, PASSWORD).content.decode()


def test_refused_attempts_do_not_lengthen_the_wait_and_old_ones_go(people: dict[str, Any]) -> None:
    old = PasswordAttempt.objects.create(name="x", address="y", at=timezone.now() - timedelta(days=2))
    for _ in range(5):
        assert guarded("qa", "a", lambda: None) is None
    with pytest.raises(TooManyAttempts):
        guarded("qa", "a", lambda: True)
    assert PasswordAttempt.objects.filter(name="qa").count() == 5
    assert not PasswordAttempt.objects.filter(pk=old.pk).exists()


def test_no_password_is_kept(people: dict[str, Any], client: Client) -> None:
    sign_in(client, "the secret itself")
    assert "secret" not in str(PasswordAttempt.objects.values().get())


@pytest.mark.parametrize(
    ("proxies", "header", "expected"),
    [
        (0, "6.6.6.6", "10.0.0.1"),
        (1, "6.6.6.6, 7.7.7.7", "7.7.7.7"),
        (2, "6.6.6.6, 7.7.7.7", "6.6.6.6"),
        (2, "7.7.7.7", "10.0.0.1"),
        (1, "", "10.0.0.1"),
    ],
)
def test_the_address_behind_proxies(
    rf: RequestFactory, settings: Any, proxies: int, header: str, expected: str
) -> None:
    settings.PROXIES = proxies
    assert client_address(rf.get("/", REMOTE_ADDR="10.0.0.1", HTTP_X_FORWARDED_FOR=header)) == expected


@pytest.fixture
def job(db: None) -> Job:
    return Job.objects.create(number="4711", title="Hall", client="Nordhafen")


@here
def test_an_act_is_done_with_the_password_only(client_of: As, job: Job) -> None:
    client, address = client_of("coordinator"), f"/sign-for-tests/{job.pk}/"
    assert 'type="password"' in client.get(address).content.decode()
    for given, said in (({}, "Your password is missing"), ({"signing_password": "guess"}, "This is not your password")):
        refused = client.post(address, given)
        assert refused.status_code == 422
        assert said in refused.content.decode()
        assert "guess" not in refused.content.decode()
    job.refresh_from_db()
    assert job.title == "Hall"
    assert client.post(address, {"signing_password": PASSWORD}).status_code == 302
    job.refresh_from_db()
    assert job.title == "signed"


@here
def test_the_password_of_somebody_else_does_not_sign(client_of: As, job: Job, people: dict[str, Any]) -> None:
    people["second_coordinator"].set_password("another one")
    people["second_coordinator"].save()
    refused = client_of("coordinator").post(f"/sign-for-tests/{job.pk}/", {"signing_password": "another one"})
    assert refused.status_code == 422


@here
def test_guessing_at_a_signature_is_bounded_and_bounds_signing_in(client_of: As, job: Job, client: Client) -> None:
    screen, address = client_of("coordinator"), f"/sign-for-tests/{job.pk}/"
    for _ in range(5):
        assert screen.post(address, {"signing_password": "guess"}).status_code == 422
    assert "Too many" in screen.post(address, {"signing_password": PASSWORD}).content.decode()
    assert "Too many" in sign_in(client, PASSWORD, "coordinator").content.decode()
    job.refresh_from_db()
    assert job.title == "Hall"


def test_guessing_at_the_own_password_is_bounded_like_signing_in(client_of: As, qa: User, client: Client) -> None:
    new = {"new_password1": "Stumpfnaht V 60", "new_password2": "Stumpfnaht V 60"}
    mine = client_of("qa")
    for _ in range(5):
        assert mine.post("/accounts/password/", {"old_password": "guess"} | new).status_code == 422
    page = mine.post("/accounts/password/", {"old_password": PASSWORD} | new)
    assert page.status_code == 422 and "Too many wrong passwords" in page.content.decode()
    assert (
        "Too many wrong" in client.post("/accounts/login/", {"username": "qa", "password": PASSWORD}).content.decode()
    )
    qa.refresh_from_db()
    assert qa.check_password(PASSWORD)


def test_own_password(client_of: As, qa: User) -> None:
    client = client_of("qa")
    given = {"old_password": PASSWORD, "new_password1": "Kehlnaht a5 in PB", "new_password2": "Kehlnaht a5 in PB"}
    refused = client.post("/accounts/password/", given | {"old_password": "guess", "new_password2": "another one"})
    assert refused.status_code == 422
    assert "This is not your old password; enter it again." in refused.content.decode()
    assert "The two new passwords differ; enter the same one twice." in refused.content.decode()
    assert client.post("/accounts/password/", given).status_code == 302
    qa.refresh_from_db()
    assert qa.check_password("Kehlnaht a5 in PB")

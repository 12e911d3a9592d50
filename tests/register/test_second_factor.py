"""The second factor: codes by the papers, each counting once, asked at sign-in and for signatures, bounded, reset."""

import re
import time
from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from register.models import AuditEntry, RecoveryCode, SecondFactor
from register.second import acts
from register.second.totp import STEP_SECONDS, address, code_at, matching_step, new_secret, step_of
from tests.conftest import PASSWORD, SIGNED

As = Callable[[str], Client]
LOGIN, CODE = "/accounts/login/", "/accounts/second/code/"
# The secret of the test vectors of both papers: the text 12345678901234567890 in base 32.
RFC_4226 = ["755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871", "520489"]
SECRET = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ"


@pytest.mark.parametrize(
    ("counter", "code"),
    tuple(enumerate(RFC_4226)),
)
def test_rfc_4226_appendix_d(counter: int, code: str) -> None:
    assert code_at(SECRET, counter) == code


@pytest.mark.parametrize(
    ("seconds", "code"),
    [
        (59, "94287082"),
        (1111111109, "07081804"),
        (1111111111, "14050471"),
        (1234567890, "89005924"),
        (2000000000, "69279037"),
        (20000000000, "65353130"),
    ],
)
def test_rfc_6238_appendix_b(seconds: int, code: str) -> None:
    """The rows of SHA-1, eight digits."""
    assert code_at(SECRET, step_of(seconds), 8) == code


@pytest.mark.parametrize(("steps", "counts"), [(-2, False), (-1, True), (0, True), (1, True), (2, False)])
def test_one_step_before_and_after_counts(steps: int, counts: bool) -> None:
    now = 1_800_000_000.0
    code = code_at(SECRET, step_of(now) + steps)
    assert (matching_step(SECRET, code, now) == step_of(now) + steps) is counts


def test_what_is_no_code_matches_nothing() -> None:
    for given in ("", "abc", "٠٠٠٠٠٠", "1" * 5000):
        assert matching_step(SECRET, given, 59) is None


def test_secrets_differ_and_the_square_code_says_what_programs_read() -> None:
    assert len({new_secret() for _ in range(20)}) == 20
    said = address(SECRET, "marta", "Welding register")
    assert said.startswith("otpauth://totp/Welding%20register:marta?secret=GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ&")
    assert "digits=6" in said and "period=30" in said


class Clock:
    """The time that codes are asked at."""

    def __init__(self) -> None:
        self.now = 1_800_000_000.0

    def __call__(self) -> float:
        return self.now

    def code(self, secret: str) -> str:
        return code_at(secret, step_of(self.now))

    def next(self, secret: str) -> str:
        """The code of the next step."""
        self.now += STEP_SECONDS
        return self.code(secret)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    made = Clock()
    monkeypatch.setattr(time, "time", made)
    return made


@pytest.fixture
def with_factor(coordinator: User, clock: Clock) -> list[str]:
    """The coordinator has a second factor; the recovery codes."""
    codes = acts.set_up(coordinator, SECRET, clock.code(SECRET))
    del coordinator._second_factor
    return codes


def password(client: Client, name: str = "coordinator", **extra: str) -> Any:
    return client.post(LOGIN, {"username": name, "password": PASSWORD, **extra})


def test_setting_it_up_in_the_browser(client_of: As, clock: Clock, coordinator: User) -> None:
    browser, url = client_of("coordinator"), reverse("second:set_up")
    page = browser.get(url)
    secret = "".join(re.search(r"type it in: <code>([A-Z2-7 ]+)</code>", page.content.decode())[1].split())
    assert "<svg" in page.content.decode() and page.headers["Cache-Control"] == "no-store"
    assert browser.post(url, SIGNED | {"code": "000000"}).status_code == 422
    assert browser.post(url, {"code": clock.code(secret), "signing_password": "guess"}).status_code == 422
    assert not SecondFactor.objects.exists()
    shown = browser.post(url, SIGNED | {"code": clock.code(secret)})
    codes = re.findall(r"<code>([A-Z2-7]{4}(?:-[A-Z2-7]{4}){3})</code>", shown.content.decode())
    assert len(set(codes)) == 10
    kept = [*SecondFactor.objects.values_list("secret"), *RecoveryCode.objects.values_list("sha256")]
    assert not any(code in str(kept) or code.replace("-", "") in str(kept) for code in codes)
    assert AuditEntry.objects.get().act == "set up the second factor of"
    assert secret not in str(AuditEntry.objects.values())
    assert browser.get(url).status_code == 302  # shown no more
    assert secret not in browser.get(reverse("second:own")).content.decode()


def test_signing_in_takes_password_and_code(with_factor: list[str], clock: Clock, client: Client) -> None:
    answer = password(client, next="/people/")
    assert (answer.status_code, answer.headers["Location"]) == (302, CODE)
    assert client.get("/people/").status_code == 302  # the password alone opens nothing
    assert client.post(CODE, {"code": "000000"}).status_code == 422
    opened = client.post(CODE, {"code": clock.next(SECRET)})
    assert (opened.status_code, opened.headers["Location"]) == (302, "/people/")
    assert client.get("/people/").status_code == 200


def test_a_code_counts_once(with_factor: list[str], clock: Clock) -> None:
    code = clock.next(SECRET)
    for expected in (302, 422):
        client = Client()
        password(client)
        assert client.post(CODE, {"code": code}).status_code == expected
    one_before = code_at(SECRET, step_of(clock.now) - 1)
    client = Client()
    password(client)
    assert client.post(CODE, {"code": one_before}).status_code == 422


def test_a_recovery_code_counts_once_and_stands_in_the_trail(with_factor: list[str]) -> None:
    for expected in (302, 422):
        client = Client()
        password(client)
        assert client.post(CODE, {"code": with_factor[0].lower().replace("-", " ")}).status_code == expected
    assert AuditEntry.objects.get(act="used a recovery code of").after == {"left": 9}


def test_guessing_codes_is_bounded_whatever_passwords_go_in_between(with_factor: list[str], clock: Clock) -> None:
    for at in range(5):
        client = Client()
        password(client, REMOTE_ADDR=f"192.0.2.{at}")
        assert "Too many" not in client.post(CODE, {"code": "000000"}, REMOTE_ADDR=f"192.0.2.{at}").content.decode()
    client = Client()
    password(client)
    assert "Too many" in client.post(CODE, {"code": clock.next(SECRET)}, REMOTE_ADDR="192.0.2.99").content.decode()


def test_the_wait_between_password_and_code_ends(with_factor: list[str], clock: Clock, client: Client) -> None:
    password(client)
    clock.now += 301
    answer = client.post(CODE, {"code": clock.next(SECRET)})
    assert (answer.status_code, answer.headers["Location"]) == (302, LOGIN)
    assert Client().get(CODE).headers["Location"] == LOGIN  # nobody gave a password


def test_a_new_password_or_a_closed_account_ends_the_wait(with_factor: list[str], clock: Clock) -> None:
    for change in ("password", "is_active"):
        client = Client()
        password(client)
        user = User.objects.get(username="coordinator")
        if change == "password":
            user.set_password("another one for tests")
        else:
            user.is_active = False
        user.save()
        assert client.post(CODE, {"code": clock.next(SECRET)}).headers["Location"] == LOGIN
        user.set_password(PASSWORD)
        user.is_active = True
        user.save()


def test_the_next_page_is_one_of_ours(with_factor: list[str], clock: Clock, client: Client) -> None:
    password(client, next="https://elsewhere.example/")
    assert client.post(CODE, {"code": clock.next(SECRET)}).headers["Location"] == "/"


def signed_in(clock: Clock) -> Client:
    client = Client()
    password(client)
    assert client.post(CODE, {"code": clock.next(SECRET)}).status_code == 302
    return client


def new_codes(client: Client, **given: str) -> int:
    """A signed act."""
    return client.post(reverse("second:new_codes"), given).status_code


def test_a_code_signs_in_place_of_the_password(with_factor: list[str], clock: Clock) -> None:
    browser = signed_in(clock)
    assert "or a code" in browser.get(reverse("second:new_codes")).content.decode()
    assert new_codes(browser, signing_password=clock.code(SECRET)) == 422  # taken at sign-in already
    assert new_codes(browser, signing_password=clock.next(SECRET)) == 200
    assert new_codes(browser, signing_password=PASSWORD) == 200
    assert new_codes(browser, signing_password="guess") == 422
    assert RecoveryCode.objects.count() == 10


def test_where_the_firm_asks_approvers_sign_with_both(with_factor: list[str], clock: Clock, settings: Any) -> None:
    settings.APPROVERS_NEED_CODE = True
    browser = signed_in(clock)
    assert new_codes(browser, signing_password=PASSWORD) == 422
    assert new_codes(browser, signing_password=PASSWORD, signing_code="000000") == 422
    code = clock.next(SECRET)
    assert new_codes(browser, signing_password="guess", signing_code=code) == 422
    assert new_codes(browser, signing_password=code, signing_code=code) == 422
    assert new_codes(browser, signing_password=PASSWORD, signing_code=code) == 200  # was not used up by those
    assert new_codes(browser, signing_password=PASSWORD, signing_code=code) == 422


def test_where_the_firm_asks_nobody_approves_without(client_of: As, settings: Any, coordinator: User) -> None:
    settings.APPROVERS_NEED_CODE = True
    browser, url = client_of("coordinator"), reverse("second:set_up")
    for path in ("/", "/people/", "/accounts/"):
        assert browser.get(path).headers["Location"] == url
        assert browser.post(path).headers["Location"] == url
    assert browser.get(url).status_code == 200
    assert client_of("auditor").get("/people/").status_code == 200  # approves nothing


def test_a_session_from_before_the_factor_signs_in_anew(with_factor: list[str], client_of: As, settings: Any) -> None:
    settings.APPROVERS_NEED_CODE = True
    browser = client_of("coordinator")
    assert browser.get("/people/").headers["Location"] == LOGIN
    assert browser.get("/people/").headers["Location"].startswith(LOGIN)


def test_where_the_firm_asks_it_can_be_set_up(client_of: As, clock: Clock, settings: Any) -> None:
    """No code besides the first one: there is no factor yet that would show it."""
    settings.APPROVERS_NEED_CODE = True
    browser, url = client_of("coordinator"), reverse("second:set_up")
    page = browser.get(url).content.decode()
    secret = "".join(re.search(r"type it in: <code>([A-Z2-7 ]+)</code>", page)[1].split())
    assert browser.post(url, SIGNED | {"code": clock.code(secret)}).status_code == 200
    assert SecondFactor.objects.exists()


def test_a_session_from_before_the_factor_signs_nothing(with_factor: list[str], client_of: As) -> None:
    """Whoever knows the password and sits in an older session neither signs nor takes the factor away."""
    browser = client_of("coordinator")
    assert new_codes(browser, signing_password=PASSWORD) == 422
    for url in (reverse("second:take_away"), reverse("users:factor", args=[User.objects.get(username="qa").pk])):
        refused = browser.post(url, SIGNED)
        assert refused.status_code == 422
        assert "sign in again" in refused.content.decode()
    assert SecondFactor.objects.exists()


def test_wrong_codes_of_others_lock_nobody_out(with_factor: list[str], clock: Clock, coordinator: User) -> None:
    for number in range(11):
        other = User.objects.create_user(f"other{number}")
        acts.set_up(other, SECRET, clock.code(SECRET))
        for _ in range(5):
            assert not acts.check_code(other, "000000")
    assert acts.check_code(coordinator, clock.next(SECRET))


def test_the_coordinator_takes_it_away_and_the_trail_says_so(
    with_factor: list[str], second_coordinator: User, coordinator: User, client_of: As, client: Client
) -> None:
    url = reverse("users:factor", args=[coordinator.pk])
    browser = client_of("second_coordinator")
    account = reverse("users:change", args=[coordinator.pk])
    assert url in browser.get(account).content.decode()
    assert 'class="warns"' in browser.get(url).content.decode()
    assert browser.post(url, {"signing_password": "guess"}).status_code == 422
    assert browser.post(url, SIGNED).status_code == 302
    entry = AuditEntry.objects.get(act="took away the second factor of")
    assert (entry.user_name, entry.subject) == ("second_coordinator", "coordinator")
    assert not RecoveryCode.objects.exists()
    assert password(client).headers["Location"] == "/"
    assert "no second factor" in browser.post(url, SIGNED).content.decode()
    assert url not in browser.get(account).content.decode()


def test_own_ways_on(with_factor: list[str], clock: Clock, coordinator: User) -> None:
    browser = signed_in(clock)
    assert "10 recovery codes left" in browser.get(reverse("second:own")).content.decode()
    assert browser.post(reverse("second:take_away"), SIGNED).status_code == 302
    assert "No second factor is set up." in browser.get(reverse("second:own")).content.decode()
    assert new_codes(browser, **SIGNED) == 409

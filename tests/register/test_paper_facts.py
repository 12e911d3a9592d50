"""Papers are current by what they say, not by how: facts on file, their place in the check code, and who keeps them."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from hashlib import sha256
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import IntegrityError, connection, transaction

from register.audit import record_act
from register.models import AuditEntry
from register.papers import kinds, printing, witness
from register.papers.codes import check_code, digest
from register.papers.kinds import Kind
from register.papers.models import PrintedPaper
from register.papers.printing import Draft, PaperChoice, printed
from register.papers.standing import PaperStanding, paper_standing
from register.plants.models import Plant
from register.trail.verify import verify
from tests.conftest import dropped_triggers

pytestmark = pytest.mark.django_db
ON = date(2026, 3, 2)


class Shown:
    """What a kind of paper of a test says today: words, and the facts below them."""

    def __init__(self) -> None:
        self.words: dict[str, Any] | None = {"range": "3 to 16 mm"}
        self.facts: dict[str, Any] | None = {"range": {"from": "3", "to": "16.00"}}


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> Shown:
    found = Shown()
    kind = Kind("map", "map of a test", lambda pk, on: found.words, lambda pk, on: found.facts)
    monkeypatch.setitem(kinds.KINDS, kind.token, kind)
    monkeypatch.setattr(printing, "rendered", lambda draft, *rest, **more: (draft.check_code.encode(), 1))
    return found


@pytest.fixture
def qa(client_of: Any) -> User:
    client_of("qa")
    return User.objects.get(username="qa")


def draft(shown: Shown, **changes: Any) -> Draft:
    kind, plant = kinds.KINDS["map"], Plant.objects.get()
    words, facts = shown.words or {}, shown.facts
    made = Draft(kind, plant, "Map", "map", ON, words, "none.html", dict, facts=facts)
    return replace(made, **changes)


def stand(paper: PrintedPaper) -> PaperStanding:
    found = paper_standing(paper.check_code)
    assert found is not None
    return found


def test_other_words_for_the_same_leave_a_paper_current(shown: Shown, qa: User) -> None:
    first = printed(draft(shown), PaperChoice(), qa, "")
    assert stand(first).word == "Current"
    shown.words = {"Range": "from 3 up to 16 mm"}
    assert stand(first).word == "Current"
    second = printed(draft(shown), PaperChoice(), qa, "")
    assert second.check_code != first.check_code
    assert second.facts_sha256 == first.facts_sha256 == digest(shown.facts)
    assert [stand(one).word for one in (first, second)] == ["Current", "Current"]


def test_other_facts_supersede_it_even_where_no_word_changes(shown: Shown, qa: User) -> None:
    """A limit that moves by less than the rounding for show: each set of facts has its own code and paper."""
    first = printed(draft(shown), PaperChoice(), qa, "")
    shown.facts = {"range": {"from": "3", "to": "16.004"}}
    now = stand(first)
    assert now.word == "Superseded"
    assert now.sentence == "The register says something else today for 2026-03-02. Do not use it; print it anew."
    second = printed(draft(shown), PaperChoice(), qa, "")
    assert second.check_code != first.check_code
    assert (stand(first).word, stand(second).word) == ("Superseded", "Current")


def test_the_same_is_served_from_file(shown: Shown, qa: User) -> None:
    papers = {printed(draft(shown), PaperChoice(), qa, "").pk for _ in range(2)}
    assert len(papers) == 1
    letter = printed(draft(shown), PaperChoice("letter", "us"), qa, "")
    assert letter.pk not in papers
    assert letter.check_code == PrintedPaper.objects.get(pk=papers.pop()).check_code


def test_asked_for_on_another_day_it_says_that_day(shown: Shown, qa: User) -> None:
    """Each side bears the day that was asked about: the same words and facts of another day are another paper."""
    first, later = (printed(draft(shown, on=day), PaperChoice(), qa, "") for day in (ON, date(2026, 3, 3)))
    assert (first.on, later.on) == (ON, date(2026, 3, 3))
    assert first.check_code != later.check_code
    assert [stand(one).word for one in (first, later)] == ["Current", "Current"]
    assert "2026-03-03" in stand(later).sentence


def test_what_was_so_then_and_is_not_today_is_out_of_date(
    shown: Shown, qa: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a card whose certificate was revoked since: of its own day the register says what it said."""
    ended = date(2026, 3, 4)

    def facts(pk: str, on: date) -> dict[str, Any]:
        return {"on": on.isoformat(), "valid": on < ended}

    monkeypatch.setitem(kinds.KINDS, "map", Kind("map", "map of a test", lambda pk, on: shown.words, facts))
    paper = printed(draft(shown, facts=facts("1", ON)), PaperChoice(), qa, "")
    for today, word in ((ON, "Current"), (date(2026, 3, 3), "Current"), (ended, "Out of date")):
        monkeypatch.setattr("django.utils.timezone.localdate", lambda today=today: today)
        assert stand(paper).word == word, today
    assert stand(paper).warns
    assert stand(paper).sentence.startswith("It was so on 2026-03-02; for today the register says something else.")


def test_what_is_gone_is_withdrawn(shown: Shown, qa: User) -> None:
    paper = printed(draft(shown), PaperChoice(), qa, "")
    shown.facts = None
    assert stand(paper).word == "Withdrawn"


def test_a_kind_that_nobody_prints_any_more_is_withdrawn(
    shown: Shown, qa: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    paper = printed(draft(shown), PaperChoice(), qa, "")
    monkeypatch.delitem(kinds.KINDS, "map")
    assert stand(paper).word == "Withdrawn"


def test_the_code_names_day_words_and_facts(shown: Shown) -> None:
    made = draft(shown)
    stated = {"as_of": "2026-03-02", "content": shown.words, "facts_sha256": digest(shown.facts)}
    assert made.check_code == check_code(stated)
    assert len(made.facts_sha256) == 64
    assert draft(shown, title="Another").check_code == made.check_code


def old_paper(qa: User, words: Any) -> PrintedPaper:
    """A paper as it was printed before facts were kept, and its act as it was noted then."""
    plant, data = Plant.objects.get(), b"as printed then"
    paper = PrintedPaper.objects.create(
        kind="map", subject_type=plant._meta.label_lower, subject_id=str(plant.pk), title="Map", on=ON, paper="a4",
        units="si", check_code=check_code(words), sha256=sha256(data).hexdigest(), sides=1, pdf=data, made_by="q",
    )  # fmt: skip
    noted = {name: said for name, said in witness.facts_of(paper).items() if name != "facts_sha256"}
    record_act(qa, "printed a map of a test", plant, after=noted)
    return paper


def test_what_was_printed_before_facts_were_kept_is_compared_by_its_words(shown: Shown, qa: User) -> None:
    paper = old_paper(qa, shown.words)
    assert paper.facts_sha256 == ""
    assert verify().whole
    assert stand(paper).word == "Current"
    shown.facts = {"range": "of no matter here"}
    assert stand(paper).word == "Current"
    shown.words = {"Range": "from 3 up to 16 mm"}
    assert "or in other words" in stand(paper).sentence
    shown.words = None
    assert stand(paper).word == "Withdrawn"


def test_printed_anew_it_gets_facts_and_a_code_of_its_own(shown: Shown, qa: User) -> None:
    old = old_paper(qa, shown.words)
    new = printed(draft(shown), PaperChoice(), qa, "")
    assert new.pk != old.pk
    assert {stand(one).word for one in (old, new)} == {"Current"}
    assert verify().whole


def test_the_act_notes_the_digest(shown: Shown, qa: User) -> None:
    paper = printed(draft(shown), PaperChoice(), qa, "")
    act = AuditEntry.objects.get(act="printed a map of a test")
    assert (act.after or {})["facts_sha256"] == paper.facts_sha256
    assert verify().whole


CHANGES: dict[str, Callable[[PrintedPaper], str]] = {
    "UPDATE": lambda paper: "UPDATE register_printedpaper SET facts_sha256 = 'x'",
    "DELETE": lambda paper: "DELETE FROM register_printedpaper",
    "REPLACE": lambda paper: replacing(paper),
    "REPLACE by number": lambda paper: replacing(paper, "id"),
}


def replacing(paper: PrintedPaper, kept: str = "check_code") -> str:
    """The same row with another digest, under the same number or under the same code."""
    names = [field.column for field in PrintedPaper._meta.concrete_fields]
    said = {name: f'"{name}"' for name in names} | {"facts_sha256": "'x'"}
    said |= {"id": "999"} if kept != "id" else {"check_code": "'AAAAAAAAAA'"}
    columns = ", ".join(f'"{name}"' for name in names)
    selected = f"SELECT {', '.join(said.values())} FROM register_printedpaper"
    return f"INSERT OR REPLACE INTO register_printedpaper ({columns}) {selected}"


@pytest.mark.parametrize("how", CHANGES)
def test_the_database_refuses_to_change_or_replace_a_paper(shown: Shown, qa: User, how: str) -> None:
    paper = printed(draft(shown), PaperChoice(), qa, "")
    if how.startswith("REPLACE") and connection.vendor != "sqlite":
        pytest.skip("PostgreSQL has no INSERT OR REPLACE")
    refused = pytest.raises(IntegrityError, match=r"never|stays")
    with refused, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(CHANGES[how](paper))
    kept = PrintedPaper.objects.get()
    assert (kept.pk, kept.facts_sha256) == (paper.pk, digest(shown.facts))


@pytest.mark.parametrize("old", [False, True], ids=["with facts", "printed before"])
def test_a_digest_written_past_the_database_is_told(shown: Shown, qa: User, old: bool) -> None:
    """Whoever makes a superseded paper current by writing in today's digest is found out, on old papers too."""
    paper = old_paper(qa, shown.words) if old else printed(draft(shown), PaperChoice(), qa, "")
    with dropped_triggers(connection), connection.cursor() as cursor:
        cursor.execute("UPDATE register_printedpaper SET facts_sha256 = %s", [digest({"range": "wider"})])
    assert "no act in the trail printed it so" in " ".join(witness.unlike())
    assert f"{paper.check_code}" in " ".join(witness.unlike())
    assert not verify().whole

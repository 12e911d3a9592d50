"""Logs against windows: what left, by how much, for how long; gaps, blanks, arc off; and what is refused."""

import gzip
from collections.abc import Callable, Iterable
from decimal import Decimal as D
from random import Random
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from codes.units import System
from codes.values import Interval
from joints.imports.table import Refusal
from joints.weld_values import judge, lines
from joints.weld_values.columns import places, separator
from joints.weld_values.figures import figure, micros, micros_of
from joints.weld_values.findings import RunLog, Window
from joints.weld_values.lines import Log
from joints.weld_values.models import WeldRunFinding
from tests.joints.makers import make_joint
from tests.joints.weld_logs import log, make_procedure

WINDOW: Window = {
    "current": Interval(D(220), D(260), "A"),
    "voltage": Interval(D(25), D(28), "V"),
    "travel_speed": Interval(D(350), D(450), "mm/min"),
}


def found(*rows: str, window: Window | None = WINDOW, **head: str) -> list[RunLog]:
    return judge.judged(Log([log(*rows, **head)]), lambda joint, run: window)


def one(*rows: str, window: Window | None = WINDOW) -> RunLog:
    (run,) = found(*rows, window=window)
    return run


def row(time: str, current: str = "240", voltage: str = "26", speed: str = "400", run: str = "1") -> str:
    return f"{time};B1/1;{run};{current};{voltage};{speed}"


class TestInside:
    def test_the_ends_of_a_window_are_inside(self) -> None:
        run = one(row("0.0", "220", "25", "350"), row("0.5", "260", "28", "450"), row("1.0", "260.0"))
        assert run.outcome == "covered"
        assert run.arc_micros == 1_500_000  # the last sample stands as long as the one before it

    def test_one_step_outside_each_end(self) -> None:
        for changed, side in (("219.9", "below"), ("260.1", "above")):
            run = one(row("0"), row("1", changed), row("2"))
            (key, excursion), = run.excursions.items()  # fmt: skip
            assert key == ("current", side)
            assert excursion.by == D("0.1")
            assert excursion.micros == 1_000_000


class TestExcursions:
    def test_how_long_how_often_how_far(self) -> None:
        run = one(row("0.0"), row("0.1", "265"), row("0.2", "271"), row("0.3"), row("0.7", "262"), row("0.8"))
        excursion = run.excursions["current", "above"]
        assert (excursion.times, excursion.micros, excursion.longest) == (2, 300_000, 200_000)
        assert (excursion.worst, excursion.by, excursion.worst_at) == (D(271), D(11), 200_000)
        assert run.outcome == "outside"

    def test_from_one_side_to_the_other_is_two(self) -> None:
        run = one(row("0", "200"), row("1", "300"), row("2"))
        assert {key: e.micros for key, e in run.excursions.items()} == {
            ("current", "below"): 1_000_000,
            ("current", "above"): 1_000_000,
        }

    def test_the_last_sample_counts_too(self) -> None:
        assert one(row("0"), row("1", "300")).excursions["current", "above"].micros == 1_000_000

    def test_in_words(self) -> None:
        from joints.weld_values.findings import sentence

        run = one(row("10.0"), row("10.1", "265"), row("10.2", "271"), row("10.3"))
        said = sentence(run.plain()["excursions"][0], "A")
        assert said == (
            "Current above 260 A for 0.2 s in one place, up to 271 A (11 A above, 0.2 s into the run), longest 0.2 s."
        )

    def test_runs_that_alternate(self) -> None:
        """Two arcs at once: each run has its own clock."""
        rows = [row(f"{t}.0", "300" if run == "2" else "240", run=run) for t in range(4) for run in ("1", "2")]
        first, second = found(*rows)
        assert first.outcome == "covered"
        assert second.excursions["current", "above"].micros == 4_000_000
        assert second.excursions["current", "above"].times == 1

    def test_in_us_units(self) -> None:
        """350 mm/min is 13.8 in/min and 340 is 13.4 (25.4 mm to the inch, exactly); what is kept stays in SI."""
        from joints.weld_values.findings import sentence

        plain = one(row("0"), row("1", speed="340"), row("2")).plain()["excursions"][0]
        assert plain["limit"] == "350"
        said = sentence(plain, "mm/min", System.US)
        assert "below 13.8 in/min" in said and "down to 13.4 in/min (0.4 in/min below" in said

    @pytest.mark.parametrize(
        ("side", "limit", "worst", "by", "words"),
        [
            # 351 mm/min is 13.819 in/min, 452 is 17.795: 13.8 and 17.8 would lie outside.
            ("below", "351", "340", "11", "below 13.9 in/min"),
            ("above", "452", "460", "8", "above 17.7 in/min"),
            ("above", "452", "452.1", "0.1", "(0.1 in/min above"),  # 0.004 in/min is no miss of nought
        ],
    )
    def test_limits_in_us_units_lie_inside(self, side: str, limit: str, worst: str, by: str, words: str) -> None:
        from joints.weld_values.findings import sentence

        plain = one(row("0"), row("1", speed="340"), row("2")).plain()["excursions"][0]
        changed = {"side": side, "limit": limit, "worst": worst, "by": by}
        assert words in sentence(plain | changed, "mm/min", System.US)


@pytest.mark.parametrize("unit", ["in/min", "ipm"])
def test_a_log_in_inches_a_minute(unit: str) -> None:
    """14 in/min is 355.6 mm/min, inside 350 to 450; 13.7 is 347.98, 2.02 below."""
    head = f"time [s];joint;run;current [A];voltage [V];speed [{unit}]"
    (run,) = found(row("0", speed="14"), row("1", speed="13.7"), row("2", speed="14"), head=head)
    excursion = run.excursions["travel_speed", "below"]
    assert (excursion.worst, excursion.by, excursion.limit) == (D("347.98"), D("2.02"), D(350))


class TestNotStated:
    def test_a_run_that_the_procedure_does_not_have(self) -> None:
        assert one(row("0"), row("1"), window=None).outcome == "not stated"

    def test_a_blank_value(self) -> None:
        run = one(row("0"), row("1", voltage=""), row("2"))
        assert run.outcome == "not stated"
        assert run.unread == {"voltage": 1}

    def test_a_column_that_is_missing(self) -> None:
        (run,) = found("0;1;240", "1;1;240", head="time;run;current")
        assert run.unlogged == ("voltage", "travel_speed")
        assert run.outcome == "not stated"

    @pytest.mark.parametrize(("later", "gaps"), [("2.0", 0), ("2.000001", 1)])
    def test_a_gap_stands_for_nothing(self, later: str, gaps: int) -> None:
        run = one(row("0", "300"), row(later))
        assert run.gaps == gaps
        assert run.excursions["current", "above"].micros == (0 if gaps else 2_000_000)

    def test_arc_off_is_not_judged(self) -> None:
        run = one(row("0", "0", "60", "0"), row("1"), row("2"), row("3", "0.0", "0", "0"), row("4", "0", "0", "0"))
        assert run.outcome == "covered"
        assert (run.arc_micros, run.idle_micros) == (2_000_000, 3_000_000)

    def test_never_an_arc(self) -> None:
        assert one(row("0", "0"), row("1", "0")).outcome == "not stated"


class TestRefusals:
    @pytest.mark.parametrize(
        ("rows", "problem"),
        [
            ((row("0"), row("1", "24o")), "Row 3: “24o” is not a figure"),
            ((row("0"), "1;B1/1;1"), "Row 3 has 3 cells"),
            ((row("1"), row("0.9")), "Row 3: the time runs back"),
            ((row("0"), row("")), "Row 3: the time is blank"),
            ((row("0"), row("0.0000001")), "Row 3: “0.0000001” is finer than a microsecond"),
            ((row("0", "NaN"),), "Row 2: “NaN” is not a figure"),
            ((row("2026-11-25T25:00:00"),), "is not a time"),
        ],
    )
    def test_the_row_is_named(self, rows: tuple[str, ...], problem: str) -> None:
        with pytest.raises(Refusal, match=problem.replace("(", r"\(")):
            found(*rows)

    @pytest.mark.parametrize(
        ("head", "problem"),
        [
            ("a;b;c", "names no column for time and run"),
            ("time;run", "current, voltage or travel speed"),
            ("time;run;current [kA]", "is in kA"),
            ("time;run;speed [cm/min]", "is in cm/min"),
            ("time;run;current;strom", "Two columns are headed current"),
        ],
    )
    def test_heads(self, head: str, problem: str) -> None:
        with pytest.raises(Refusal, match=problem):
            found("0;1;2", head=head)

    def test_no_text(self) -> None:
        with pytest.raises(Refusal, match="not UTF-8"):
            judge.judged(Log([b"time;run;current\n\xff\xfe"]), lambda joint, run: WINDOW)

    def test_a_bomb(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(lines, "MOST_BYTES", 1000)
        packed = gzip.compress(log(*[row(str(t)) for t in range(200)]))
        with pytest.raises(Refusal, match="Split it"):
            judge.judged(Log([packed]), lambda joint, run: WINDOW)

    def test_damaged(self) -> None:
        with pytest.raises(Refusal, match="damaged"):
            judge.judged(Log([gzip.compress(b"time")[:10] + b"xxxxxxxx"]), lambda joint, run: WINDOW)

    def test_a_packed_log_that_is_cut_off(self) -> None:
        """Cut at the end of a line it would be judged as far as it goes, and what is missing never."""
        packed = gzip.compress(log(*[row(str(t)) for t in range(50)]))
        with pytest.raises(Refusal, match="damaged or cut off"):
            judge.judged(Log([packed[:-9]]), lambda joint, run: WINDOW)

    def test_something_else_behind_a_packed_log(self) -> None:
        with pytest.raises(Refusal, match="damaged or cut off"):
            judge.judged(Log([gzip.compress(log(row("0"))) + b"and more"]), lambda joint, run: WINDOW)

    def test_a_file_of_empty_packed_logs(self) -> None:
        with pytest.raises(Refusal, match="damaged or cut off"):
            judge.judged(Log([gzip.compress(b"") * 1002]), lambda joint, run: WINDOW)

    @pytest.mark.parametrize(
        "rest", ["\0" * 5000, "\n" * 5000, row("0") + "\0\n"], ids=["noughts", "blank", "a nought"]
    )
    def test_no_rows_but_many_signs(self, rest: str) -> None:
        """A text that a database does not take, and 400 MB of blank lines that took a minute to pass over."""
        with pytest.raises(Refusal, match="no rows of weld values"):
            judge.judged(Log([log() + rest.encode()]), lambda joint, run: WINDOW)


class TestReading:
    @pytest.mark.parametrize("step", [7, 64 * 1024])
    def test_packed_logs_end_to_end_are_all_read(self, step: int) -> None:
        """What a controller adds to a packed file day by day: the second part leaves the window."""
        data = gzip.compress(log(row("0"), row("1"))) + gzip.compress(log(row("2", "270"), row("3"), head="")[1:])
        (run,) = judge.judged(Log([data[i : i + step] for i in range(0, len(data), step)]), lambda joint, run: WINDOW)
        assert run.samples == 4
        assert run.outcome == "outside"

    def test_signs_that_nobody_sees_make_no_other_run(self) -> None:
        (run,) = found(row("0"), row("1", run="\u202e1\u200b"), row("2"))
        assert (run.run, run.samples) == ("1", 3)

    def test_in_pieces_and_packed(self) -> None:
        data = log(*[row(f"{t / 10:.1f}", "270" if t == 7 else "240") for t in range(50)])
        whole = judge.judged(Log([data]), lambda joint, run: WINDOW)
        pieces = judge.judged(Log([data[i : i + 7] for i in range(0, len(data), 7)]), lambda joint, run: WINDOW)
        packed = judge.judged(Log([gzip.compress(data)]), lambda joint, run: WINDOW)
        assert [r.plain() for r in whole] == [r.plain() for r in pieces] == [r.plain() for r in packed]

    def test_commas_tabs_and_other_words(self) -> None:
        assert separator("time\trun\tcurrent") == "\t"
        assert places(["Timestamp", "Seam", "Pass", "I [A]", "U [V]"]) == {
            "time": 0, "joint": 1, "run": 2, "current": 3, "voltage": 4,
        }  # fmt: skip
        assert figure("240,5") == D("240.5")

    @pytest.mark.parametrize(
        ("text", "wanted"), [("1.5", 1_500_000), ("0", 0), ("0,25", 250_000), ("12.345678", 12_345_678)]
    )
    def test_times(self, text: str, wanted: int) -> None:
        assert micros(text) == wanted

    def test_moments(self) -> None:
        assert micros("2026-11-25T14:00:00.250") - micros("2026-11-25T13:59:59") == 1_250_000
        assert micros("2026-11-25T14:00:00+01:00") == micros("2026-11-25T13:00:00")

    @pytest.mark.parametrize("texts", [["0.1", "0.20", "3"], ["1.00", "2.50"], ["1", "2"], ["-1.00", "1.00"]])
    def test_many_times_are_the_single_ones(self, texts: list[str]) -> None:
        assert micros_of(texts) == [micros(text) for text in texts]


def plainly(rows: Iterable[tuple[str, str, D]], window: Interval) -> tuple[int, int, D]:
    """(microseconds outside, places, greatest distance) of the current, sample by sample."""
    held = list(rows)
    outside = times = 0
    by, was = D(0), False
    for at, (time, _, current) in enumerate(held):
        until = micros(held[at + 1][0]) if at + 1 < len(held) else micros(time) + micros(time) - micros(held[at - 1][0])
        assert window.lo is not None
        assert window.hi is not None
        off = max(window.lo - current, current - window.hi, D(0))
        if off and current > window.hi:
            outside += until - micros(time)
            times += not was
            by = max(by, off)
        was = bool(off and current > window.hi)
    return outside, times, by


@pytest.mark.parametrize("seed", range(20))
def test_blocks_agree_with_samples_one_by_one(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judge, "BLOCK", 7)
    random = Random(seed)
    rows = [(f"{at / 10:.1f}", "1", D(random.randint(2500, 2700)) / 10) for at in range(60)]
    run = one(*[row(time, str(current)) for time, _, current in rows])
    excursion = run.excursions["current", "above"]
    assert (excursion.micros, excursion.times, excursion.by) == plainly(rows, WINDOW["current"])


@pytest.mark.django_db
class TestPages:
    def send(self, client: Client, job: int, data: bytes, revision: int) -> Any:
        file = SimpleUploadedFile("cell.csv", data)
        return client.post(reverse("joints:weld_values", args=[job]), {"revision": revision, "file": file})

    def test_from_log_to_finding(self, client_of: Callable[[str], Client]) -> None:
        joint, revision = make_joint(number="1"), make_procedure()
        supervisor = client_of("supervisor")
        data = log(
            row("0.0"),
            row("0.1", "271"),
            row("0.2"),
            row("5.0", run="fill"),
            row("5.1", run="fill"),
            row("6", run="FILL"),
            row("7", run="FILL"),
        )
        answer = self.send(supervisor, joint.assembly.job_id, data, revision.pk)
        assert answer.status_code == 302
        first, fill, again = WeldRunFinding.objects.order_by("order")
        assert (first.outcome, first.joint, first.samples) == ("outside", joint, 3)
        assert (fill.outcome, again.outcome) == ("covered", "covered")
        said = client_of("auditor").get(answer.url).content.decode()
        assert "Current above 260 A for 0.1 s in one place, up to 271 A (11 A above" in said
        assert "1 of 3 runs left the ranges" in said
        listed = client_of("auditor").get(reverse("joints:weld_values", args=[joint.assembly.job_id])).content.decode()
        assert "cell.csv" in listed
        assert "Judge a log" not in listed

    @pytest.mark.parametrize("word", ["9" * 5000, "\u0663" * 5000, "x" * 5000], ids=["figures", "others", "letters"])
    def test_a_word_that_is_no_run(self, client_of: Callable[[str], Client], word: str) -> None:
        revision, job = make_procedure(), make_joint().assembly.job
        data = log(row("0", run=word), row("1", run=word))
        assert self.send(client_of("supervisor"), job.pk, data, revision.pk).status_code == 302
        assert WeldRunFinding.objects.get(job=job).outcome == "not stated"

    def test_the_same_log_once(self, client_of: Callable[[str], Client]) -> None:
        joint, revision = make_joint(), make_procedure()
        supervisor = client_of("supervisor")
        data = log(row("0.0"), row("0.1"))
        self.send(supervisor, joint.assembly.job_id, data, revision.pk)
        again = self.send(supervisor, joint.assembly.job_id, data, revision.pk)
        assert again.status_code == 422
        assert "already" in again.content.decode()
        assert WeldRunFinding.objects.count() == 1

    def test_a_bad_row_keeps_nothing(self, client_of: Callable[[str], Client]) -> None:
        joint, revision = make_joint(), make_procedure()
        answer = self.send(client_of("supervisor"), joint.assembly.job_id, log(row("0.0"), row("x")), revision.pk)
        assert answer.status_code == 422
        assert "Row 3" in answer.content.decode()
        assert not WeldRunFinding.objects.exists()

    def test_a_finding_is_written_once(self) -> None:
        joint, revision = make_joint(), make_procedure()
        facts = {"outcome": "covered", "samples": 1, "arc_seconds": 1, "order": 0, "sha256": "0" * 64}
        made = WeldRunFinding.objects.create(job=joint.assembly.job, revision=revision, **facts)
        with pytest.raises(ValueError, match="written once"):
            made.save()


@pytest.mark.parametrize("typed", ["1e999999", "1e400", "1e-999999999", "9" * 5000 + ".1"])
def test_a_figure_no_instrument_writes_is_refused_where_it_stands(typed: str) -> None:
    """Written out, the third is a text of a thousand million noughts."""
    for rows in ((row("0"), row("1", typed)), (row(typed), row(typed))):
        with pytest.raises(Refusal, match=r"Row \d: .* is not a figure"):
            found(*rows)

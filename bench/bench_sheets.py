"""A sheet rendered the plain way, the way the register renders it, and one that was issued and is served.

"Plain" is data, template and a fresh renderer with the same fonts and rules: drawings inside the HTML, columns laid out
by their content, one size of type after the other until all is on one side. "Ours" is `wps.sheets.sheet`. The two take
turns, so that a busy machine slows both. "Served" is the whole request by an auditor: session, guard, queries, bytes.
`share` is the part of the plain way's median; the promise is at most a half, for the sheets together. A sheet that fits
with the largest type saves no attempt: its share is close to the renderer's own floor (docs/measured.md).
"""

import os
import re
import time
from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from bench.database import p50, p95, scratch_database, times_ms

NAME = "Sheet for the cell, three runs (ms; rendering in CPU ms)"
ON = date(2026, 3, 2)
TURNS, SERVED, BATCH = 15, 200, 500
ADDRESS = "https://register.example/sheets/{code}/"


def main() -> list[dict[str, Any]]:
    with scratch_database():
        return list(rows())


def rows() -> Iterator[dict[str, Any]]:
    from django.test import Client

    from register.demo import make_sign_ins
    from wps import issued
    from wps.sheets import Choice, sheet

    samples = (("A4, SI", Choice()), ("Letter, US", Choice(paper="letter", units="us")))

    people = make_sign_ins()
    revision = approved_revision(*list(people.values())[:2])
    base, found = 0.0, []
    for name, choice in samples:
        plain, ours = in_turns(
            (plain_way(revision, choice), lambda choice=choice: sheet(revision, choice, ON, ADDRESS))
        )
        base = base or p50(plain)
        found.append((plain, ours))
        yield row(f"{name}: rendered plainly", plain, plain)
        yield row(f"{name}: rendered by us, warm", ours, plain)
    together = [[ms for pair in found for ms in pair[at]] for at in (0, 1)]
    yield {**row("all: rendered by us, warm", together[1], together[0]), "limit_share": 0.5}
    yield from batch(revision)
    reader = Client(HTTP_HOST="localhost")
    reader.force_login(next(iter(people.values())))
    url = f"/procedures/revisions/{revision.pk}/sheet/"
    issued.issue(revision, Choice(), next(iter(people.values())), ADDRESS)
    etag = reader.get(url).headers["ETag"]
    ways = (
        ("served, whole request", lambda: reader.get(url)),
        ("served, browser has it (304)", lambda: reader.get(url, headers={"If-None-Match": etag})),
    )
    for name, act in ways:
        taken = times_ms(act, repeats=SERVED)
        yield {"what": name, "p50": p50(taken), "p95": p95(taken), "share": p50(taken) / base, "limit_share": 0.5}


def in_turns(acts: tuple[Callable[[], Any], ...]) -> list[list[float]]:
    """CPU time of each act [ms], one after the other, again and again, after a first round that does not count."""
    taken: list[list[float]] = [[] for _ in acts]
    for turn in range(TURNS + 1):
        for act, times in zip(acts, taken, strict=True):
            start = time.process_time()
            act()
            if turn:
                times.append((time.process_time() - start) * 1000)
    return taken


def batch(revision: Any) -> Iterator[dict[str, Any]]:
    """So many sheets through both cores: wall-clock ms a sheet, beside one process; and what memory does meanwhile.

    The limit on memory is the share of what it was when a fifth of the batch was done.
    """
    from register.base.pdf_many import ToRender, render_many
    from wps.sheet_files import STYLESHEET
    from wps.sheets import Choice, before_rendering

    def made(number: int) -> ToRender:
        ready = before_rendering(revision, Choice(), ON, ADDRESS)
        return ToRender(number, ready.html, STYLESHEET, "210mm 297mm", ready.day, (ready.attached,), ready.sizes)

    alone = 0.0
    for name, processes, number in (("one process", 1, BATCH // 10), ("both cores", 0, BATCH)):
        start, held = time.perf_counter(), []
        for _ in render_many(map(made, range(number)), processes):
            held.append(memory_mb())
        each = (time.perf_counter() - start) * 1000 / number
        alone = alone or each
        row = {"what": f"{number} sheets, {name}: ms each", "p50": each, "p95": each, "share": each / alone}
        yield {**row, "limit_share": None}
    early, late = held[len(held) // 5], held[-1]
    grown = {"what": f"memory of {BATCH} sheets, MB at a fifth and at the end", "p50": early, "p95": late}
    yield {**grown, "share": late / early, "limit_share": 1.15}


def memory_mb() -> float:
    """Resident memory of this process and of those it started [MB]."""
    me = os.getpid()
    found = 0
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = path.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(path.parent.name) == me or int(fields[1]) == me:
            found += int(fields[21]) * os.sysconf("SC_PAGESIZE")
    return found / 1024**2


def row(what: str, taken: list[float], plain: list[float]) -> dict[str, Any]:
    share = p50(taken) / p50(plain)
    return {"what": what, "p50": p50(taken), "p95": p95(taken), "share": share, "limit_share": None}


def plain_way(revision: Any, choice: Any) -> Callable[[], bytes]:
    """Nothing kept, drawings inside the HTML, columns by their content, sizes of type tried from the largest on."""
    from weasyprint import CSS, HTML, Attachment
    from weasyprint.text.fonts import FontConfiguration

    from register.base.pdf import OPTIONS, PAPERS
    from wps.sheet_content import canonical, check_code, code_as_shown, sheet_content
    from wps.sheet_files import OwnFiles, url_of
    from wps.sheet_render import TYPE_SIZES
    from wps.sheets import sheet_html

    def act() -> bytes:
        content = sheet_content(revision)
        code = check_code(content)
        html = sheet_html(revision, choice, ON, code_as_shown(code), ADDRESS.replace("{code}", code))
        html = re.sub("<colgroup>.*?</colgroup>", "", html)
        for size in TYPE_SIZES:
            files, fonts = OwnFiles(), FontConfiguration()
            rules = f"@page {{ size: {PAPERS[choice.paper][1]}; }} html {{ font-size: {size}; }}"
            rules += ".runs table { table-layout: auto; } .big svg { height: 12.5mm; } .sketches svg { height: 55mm; }"
            own = CSS(url=url_of("sheet.css"), url_fetcher=files, font_config=fonts)
            source = HTML(string=html, url_fetcher=files)
            document = source.render(font_config=fonts, stylesheets=[own, CSS(string=rules)], **OPTIONS)
            if len(document.pages) == 1:
                break
        data = canonical({"check_code": code, "content": content})
        document.metadata.attachments.append(Attachment(string=data, name="data.json", relationship="Data"))
        return document.write_pdf(**OPTIONS)

    return act


def approved_revision(author: Any, approver: Any) -> Any:
    """A butt weld of three runs, approved. Invented."""
    from wps.models import Procedure, ProcedureRevision, ProcedureRun, Status

    window = {
        "process": ["135"], "mechanisation": ["partly_mechanised"], "weld_type": ["butt_cjp"], "joint_type": ["butt"],
        "product": ["plate"], "steels": [{"group": "1.2", "yield_mpa": "355", "grade": "S355J2+N"}],
        "parent_t": {"min": "6", "max": "24"}, "position": ["PA", "PC", "PF"], "weld_detail": ["ss_nb"],
        "run_type": ["multi_run"], "filler_designation": "ISO 14341-A G 42 4 M21 3Si1", "gas": ["M21"],
        "current_type": ["DC+"], "preheat": "20", "interpass": "250", "pwht": ["no"],
    }  # fmt: skip
    preparation = {"kind": "single_v", "angle_deg": "60", "gap_mm": "2", "root_face_mm": "1", "method": "ground clean"}
    procedure = Procedure.objects.create(number="WPS 014", title="Butt welds of flange plates")
    revision = ProcedureRevision.objects.create(
        procedure=procedure, letter="A", code="ISO 15614-1:2017", window=window, preparation=preparation,
        author=author, author_name="Marta Kowalczyk",
    )  # fmt: skip
    for order, layer in enumerate(("root", "fill 2-3", "cap 4-5"), start=1):
        ProcedureRun.objects.create(
            revision=revision, order=order, layer=layer, process="135", filler_designation="G 42 4 M21 3Si1",
            diameter_mm=Decimal("1.2"), current_type="DC+", current_min_a=Decimal(200), current_max_a=Decimal(240),
            voltage_min_v=Decimal(24), voltage_max_v=Decimal(27), speed_min_mm_min=Decimal(250),
            speed_max_mm_min=Decimal(350), gas_flow_min_l_min=Decimal(14), gas_flow_max_l_min=Decimal(18),
        )  # fmt: skip
    revision.status, revision.checked_by, revision.checked_on = Status.CHECKED, approver, ON
    revision.checked_name = "Jonas Feld"
    revision.save()
    revision.status, revision.approved_by, revision.approved_on = Status.APPROVED, approver, ON
    revision.approved_name = "Ines Duarte"
    revision.save()
    return revision

"""Take the pictures of the README and the guide from the running demonstration, so that they never go stale.

    make demo && .venv/bin/python scripts/pictures.py [http://127.0.0.1:8000]

Needs Chromium, Playwright and pdftoppm (all installed by `make test`). Writes docs/pictures/*.png.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import django

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "register.settings")
os.environ.setdefault("VAR_DIR", str(ROOT / "var" / "demo"))
django.setup()

from django.db.models import Count  # noqa: E402
from django.urls import reverse  # noqa: E402
from playwright.sync_api import Page, sync_playwright  # noqa: E402

from joints.models import AssemblyGeometry, Job, Joint  # noqa: E402
from qualifications.models import Certificate, Person  # noqa: E402
from register.demo import PASSWORD  # noqa: E402
from wps.models import ProcedureRevision  # noqa: E402

TARGET = ROOT / "docs" / "pictures"
FLAGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync"]
WIDTH, HEIGHT = 1100, 720


def addresses() -> dict[str, str]:
    """Name of each picture and the page it shows."""
    outside = Joint.objects.filter(remarks__icontains="tack").first() or Joint.objects.first()
    approved = ProcedureRevision.objects.filter(status="approved").order_by("pk").first()
    busiest = Person.objects.filter(certificates__isnull=False).order_by("pk").first()
    if outside is None or approved is None or busiest is None:
        raise SystemExit("The demonstration is not loaded here: run make demo first.")
    return {
        "home": reverse("joints:home"),
        "joint": reverse("joints:joint", kwargs={"pk": outside.pk}),
        "assembly": reverse("joints:assembly", kwargs={"pk": outside.assembly_id}),
        "procedure": reverse("wps:revision", kwargs={"pk": approved.pk}),
        "person": reverse("qualifications:person", kwargs={"pk": busiest.pk}),
        "due": reverse("qualifications:due"),
        "readings": reverse("held:readings"),
        "clauses": reverse("held:clauses"),
        "confirm": reverse("qualifications:confirm_many"),
        "trail": reverse("trail:list"),
    }


def papers() -> dict[str, str]:
    """Name of each picture and the paper whose first side it shows. A pack is made first, on its page."""
    approved = ProcedureRevision.objects.filter(status="approved").order_by("pk").first()
    beam = AssemblyGeometry.objects.order_by("assembly_id").first()
    held = Certificate.objects.order_by("pk").first()
    # A job of the works of whoever signs in: the smallest of all is another's.
    jobs = Job.objects.filter(plant=beam.assembly.job.plant_id) if beam else Job.objects.none()
    job = jobs.annotate(n=Count("assemblies")).filter(n__gt=0).order_by("n", "pk").first()
    if approved is None or beam is None or held is None or job is None:
        raise SystemExit("The demonstration is not loaded here: run make demo first.")
    return {
        "sheet": reverse("wps:revision_sheet", kwargs={"pk": approved.pk}),
        "weld_map": reverse("joints:weld_map", kwargs={"pk": beam.assembly_id}),
        "certificate": reverse("qualifications:certificate_sheet", kwargs={"pk": held.pk}),
        "record": reverse("wps:record_sheet", kwargs={"pk": approved.records.order_by("pk")[0].pk}),
        "pack": reverse("joints:audit_pack", kwargs={"pk": job.pk}),
    }


def sign_in(page: Page, base: str) -> None:
    page.goto(f"{base}{reverse('login')}")
    page.fill("input[name=username]", "marta")
    page.fill("input[name=password]", PASSWORD)
    page.press("input[name=password]", "Enter")
    page.wait_for_load_state()


def paper(page: Page, base: str, address: str) -> bytes:
    """The paper at an address; a pack is asked for with the page's button, and is there when the work is done."""
    answer = page.request.get(base + address)
    if answer.headers["content-type"] == "application/pdf":
        return answer.body()
    page.goto(base + address)
    page.click("form.entry button[type=submit]")
    link = page.locator("a[href*='/made/']").first
    link.wait_for(timeout=300_000)
    return page.request.get(f"{base}{link.get_attribute('href')}").body()


def paper_picture(pdf: bytes, target: Path) -> None:
    """The first side of a paper as a picture, in grey, which is what a paper has."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sheet.pdf"
        file.write_bytes(pdf)
        subprocess.run(
            ["pdftoppm", "-png", "-gray", "-r", "90", "-singlefile", str(file), str(target.with_suffix(""))], check=True
        )


def main(base: str) -> None:
    pages, printed = addresses(), papers()
    TARGET.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        page = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT}, locale="en-GB")
        sign_in(page, base)
        for name, address in printed.items():
            paper_picture(paper(page, base, address), TARGET / f"{name}.png")
            print(f"docs/pictures/{name}.png  {address}")
        for name, address in pages.items():
            page.goto(base + address)
            page.wait_for_load_state("networkidle")  # parts that come after the page stands
            page.screenshot(path=str(TARGET / f"{name}.png"))
            print(f"docs/pictures/{name}.png  {address}")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8000")

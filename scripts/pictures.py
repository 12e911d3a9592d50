"""Take the pictures of the README and the guide from the running demonstration, so that they never go stale.

    make demo && .venv/bin/python scripts/pictures.py [http://127.0.0.1:8000]

Needs Chromium and pdftoppm (both installed by `make test`). Writes docs/pictures/*.png.
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

from django.urls import reverse  # noqa: E402
from playwright.sync_api import Page, sync_playwright  # noqa: E402

from joints.models import Joint  # noqa: E402
from qualifications.models import Person  # noqa: E402
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
    } | {"sheet": reverse("wps:revision_sheet", kwargs={"pk": approved.pk})}


def sign_in(page: Page, base: str) -> None:
    page.goto(f"{base}{reverse('login')}")
    page.fill("input[name=username]", "marta")
    page.fill("input[name=password]", PASSWORD)
    page.press("input[name=password]", "Enter")
    page.wait_for_load_state()


def sheet_picture(pdf: bytes, target: Path) -> None:
    """The first side of a sheet as a picture."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sheet.pdf"
        file.write_bytes(pdf)
        subprocess.run(
            ["pdftoppm", "-png", "-r", "90", "-singlefile", str(file), str(target.with_suffix(""))], check=True
        )


def main(base: str) -> None:
    pages = addresses()
    TARGET.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        page = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT})
        sign_in(page, base)
        sheet_picture(page.request.get(base + pages.pop("sheet")).body(), TARGET / "sheet.png")
        for name, address in pages.items():
            page.goto(base + address)
            page.screenshot(path=str(TARGET / f"{name}.png"))
            print(f"docs/pictures/{name}.png  {address}")
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8000")

"""Photograph pages of the running demonstration: every width, dark, and as printed on A4.

    .venv/bin/python scripts/look/photograph.py [--base URL] [--user marta] [--units si|us] [--part 1/2]
        [--modes 1280,dark,820,390,print]

Reads var/look/USER.txt (see addresses.py), writes var/look/pictures/MODE/USER-UNITS-N[-SIDE].png and the list of what
N is. The units are a choice of the account: photograph in one system after the other. `--part 2/3` takes every third
address from the second on, for several processes beside one another.
"""

import argparse
import subprocess
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

FOLDER = Path(__file__).resolve().parents[2] / "var" / "look"
PASSWORD = "show me the welds"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-sync",
    "--hide-scrollbars",
]
MODES = "1280,dark,820,390,print"
A4 = {"format": "A4", "margin": {"top": "12mm", "bottom": "12mm", "left": "10mm", "right": "10mm"}}


def sign_in(page: Page, base: str, user: str) -> None:
    page.goto(f"{base}/")
    page.fill("[name=username]", user)
    page.fill("[name=password]", PASSWORD)
    with page.expect_navigation(wait_until="load"):
        page.press("[name=password]", "Enter")


def choose_units(page: Page, base: str, units: str) -> None:
    page.goto(f"{base}/accounts/units/")
    page.select_option("[name=units]", units)
    with page.expect_navigation(wait_until="load"):
        page.click("main form button[type=submit]")


def printed(page: Page, target: Path) -> None:
    """The page as it comes out of a printer, side by side."""
    page.emulate_media(media="print", color_scheme="light")
    page.set_viewport_size({"width": 762, "height": 1000})
    sides = target.with_suffix(".pdf")
    page.pdf(path=str(sides), print_background=True, **A4)  # type: ignore[arg-type]
    subprocess.run(["pdftoppm", "-r", "80", "-png", str(sides), str(target.with_suffix(""))], check=True)
    sides.unlink()


def photograph(page: Page, address: str, name: str, modes: list[str]) -> None:
    """One address in every mode."""
    page.set_viewport_size({"width": 1280, "height": 900})
    page.emulate_media(media="screen", color_scheme="light")
    page.goto(address, wait_until="load")
    for mode in modes:
        target = FOLDER / "pictures" / mode / f"{name}.png"
        target.parent.mkdir(parents=True, exist_ok=True)
        if mode == "print":
            printed(page, target)
            continue
        page.emulate_media(media="screen", color_scheme="dark" if mode == "dark" else "light")
        page.set_viewport_size({"width": 1280 if mode == "dark" else int(mode), "height": 900})
        page.wait_for_timeout(60)
        page.screenshot(path=str(target), full_page=True, animations="disabled")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--base", default="http://127.0.0.1:8000")
    asked.add_argument("--user", default="marta")
    asked.add_argument("--units", default="si", choices=("si", "us"))
    asked.add_argument("--part", default="1/1")
    asked.add_argument("--modes", default=MODES)
    given = asked.parse_args()
    first, step = (int(number) for number in given.part.split("/"))
    addresses = (FOLDER / f"{given.user}.txt").read_text(encoding="utf-8").split()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        page = browser.new_page(viewport={"width": 1280, "height": 900}, reduced_motion="reduce", locale="en-GB")
        sign_in(page, given.base, given.user)
        choose_units(page, given.base, given.units)
        for number, address in list(enumerate(addresses))[first - 1 :: step]:
            name = f"{given.user}-{given.units}-{number:04d}"
            asked_in = address.replace("units=si", f"units={given.units}")  # an address that names units sets them
            try:
                photograph(page, given.base + asked_in, name, given.modes.split(","))
            except Exception as failure:  # the rest is worth having: one page that hangs is named
                print(f"{address}: {str(failure).splitlines()[0]}", flush=True)
        browser.close()


if __name__ == "__main__":
    main()

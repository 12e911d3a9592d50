"""Accessibility, asked of the page in the browser: axe-core, the rules of WCAG 2.2 level AA and axe's good practice."""

from functools import cache
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

AXE = Path(__file__).parent / "vendor" / "axe.min.js"
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


@cache
def axe_source() -> str:
    """The vendored axe-core, read once."""
    return AXE.read_text(encoding="utf-8")


def axe_violations(page: Page, rules: tuple[str, ...] = RULES) -> list[dict[str, Any]]:
    """What axe finds on the page as it stands now, by all of RULES or by single rules that are named.

    Works under a strict content security policy.
    """
    if not page.evaluate("typeof axe !== 'undefined'"):
        page.evaluate(axe_source())
    result = page.evaluate(
        "({type, values}) => axe.run(document, {runOnly: {type, values}, resultTypes: ['violations']})",
        {"type": "tag" if rules is RULES else "rule", "values": list(rules)},
    )
    found: list[dict[str, Any]] = result["violations"]
    return found


def assert_no_axe_violations(page: Page, rules: tuple[str, ...] = RULES) -> None:
    """Fail with every violation: rule, what helps, and where it stands."""
    lines = [
        f"{found['id']} ({found['impact']}): {found['help']}\n    {node['target']}: {node['html'][:160]}"
        for found in axe_violations(page, rules)
        for node in found["nodes"]
    ]
    assert not lines, f"axe on {page.url}:\n" + "\n".join(lines)


def assert_fits_the_width(page: Page) -> None:
    """Fail if the page scrolls sideways: nothing may be cut off or need a second direction."""
    wide, room = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    assert wide <= room, f"{page.url} is {wide} px wide in a window of {room} px"

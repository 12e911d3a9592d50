"""What no line ends in, in a browser: at once and in parts that come later, the text as it was sent."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

pytestmark = pytest.mark.django_db(transaction=True)

SENT = """async () => {
  const page = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
  return page.querySelector("main").textContent;
}"""
TORN = """() => Array.from(document.querySelectorAll("main kept-whole"))
  .filter(one => one.getClientRects().length > 1).map(one => one.textContent)"""
LATER = """() => {
  const part = document.createElement("p");
  part.style = "width: 1px; display: flex";
  part.append("t = 12 mm to ISO 9606-1:2012");
  document.querySelector("main").append(part);
  document.dispatchEvent(new CustomEvent("htmx:load", { detail: { elt: part } }));
  const kept = Array.from(part.querySelectorAll("kept-whole"), one => one.textContent);
  return [part.textContent, part.childNodes.length, kept];
}"""


def test_no_line_of_a_phone_ends_in_a_designation_and_the_text_is_as_sent(
    page: Page, sign_in: Callable[[str], Page]
) -> None:
    sign_in("auditor")
    page.set_viewport_size({"width": 320, "height": 640})
    page.goto("/codes/clauses/")
    assert page.locator("main kept-whole", has_text="ISO 15614-1:2017").count()
    assert page.evaluate(TORN) == []
    assert page.locator("main").text_content() == page.evaluate(SENT)


def test_a_part_that_comes_later_is_kept_too_and_a_row_of_boxes_gets_no_further_ones(
    page: Page, sign_in: Callable[[str], Page]
) -> None:
    sign_in("auditor")
    text, boxes, kept = page.evaluate(LATER)
    assert (text, boxes) == ("t = 12 mm to ISO 9606-1:2012", 1)
    assert kept == ["t = 12 mm", "ISO 9606-1:2012"]

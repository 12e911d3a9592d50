// Small helps; every page works without them.
"use strict";

// A form with unsaved entries asks before it is left.
document.querySelectorAll("form[data-keep]").forEach(function (form) {
  let changed = false;
  form.addEventListener("input", function () { changed = true; });
  form.addEventListener("submit", function () { changed = false; });
  form.addEventListener("kept", function () { changed = false; });
  window.addEventListener("beforeunload", function (event) {
    if (changed) { event.preventDefault(); }
  });
});

// What went wrong is read out and scrolled to, wherever the address pointed before.
const wrong = document.querySelector("[data-focus]");
if (wrong) {
  if (location.hash) { history.replaceState(null, "", location.pathname + location.search); }
  wrong.focus();
}

// Buttons that print the page.
document.querySelectorAll("[data-print]").forEach(function (button) {
  button.hidden = false;
  button.addEventListener("click", function () { window.print(); });
});

// On paper a form is what it states: beside each entry its value, which the style sheet shows there in place of the box.
const ENTRIES = "main :is(input:not([type=hidden], [type=checkbox], [type=radio], [type=password], [type=file]), select, textarea)";
window.addEventListener("beforeprint", function () {
  document.querySelectorAll(ENTRIES).forEach(function (entry) {
    const chosen = Array.from(entry.selectedOptions || [], function (one) { return one.value && one.text; }).filter(Boolean);
    const value = entry.selectedOptions ? chosen.join("; ") : entry.value.trim();
    const stated = document.createElement("span");
    stated.className = value ? "stated" : "stated none";
    stated.textContent = value || "–";
    entry.after(stated);
    keepWhole(stated);
  });
});
window.addEventListener("afterprint", function () {
  document.querySelectorAll(".stated").forEach(function (one) { one.remove(); });
});

// "/" goes to the search box of a list, unless something is being typed.
document.addEventListener("keydown", function (event) {
  const box = document.querySelector("form.filters input[name=q]");
  const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement.tagName);
  if (event.key === "/" && box && !typing && !event.ctrlKey && !event.metaKey) {
    event.preventDefault();
    box.focus();
  }
});

// Escape closes the menu of a narrow window and goes back to the word that opened it.
document.addEventListener("keydown", function (event) {
  const menu = document.querySelector("details.narrow[open]");
  if (event.key === "Escape" && menu) {
    menu.open = false;
    menu.querySelector("summary").focus();
  }
});

// Where the sign-in has ended, a part that was asked for brings the page to sign in: it stays out, and what was typed stays.
document.addEventListener("htmx:beforeSwap", function (event) {
  if (!/^\/accounts\/(login|second\/code)\//.test(new URL(event.detail.xhr.responseURL, location.href).pathname)) { return; }
  event.detail.shouldSwap = false;
  document.querySelector("#ended").hidden = false;
});

// A part of the page that comes anew keeps the focus: on the same link, button or fold, or on what stands there now.
const MEANT = "a[href], button, summary, input, select, textarea";
function called(node) { return node.tagName + (node.id || node.name || node.getAttribute("href") || node.textContent.trim()); }
document.addEventListener("htmx:beforeSwap", function (event) {
  const at = document.activeElement;
  const part = event.detail.target;
  if (!event.detail.shouldSwap || at === document.body || !part.contains(at)) { return; }
  const around = part.parentElement;
  const told = called(at);
  document.addEventListener("htmx:afterSettle", function () {
    if (document.activeElement !== document.body || !around.isConnected) { return; }
    const ways = Array.from(around.querySelectorAll(MEANT));
    const next = ways.find(function (way) { return called(way) === told; }) || ways[0];
    if (next) { next.focus({ preventScroll: true }); }
  }, { once: true });
});

// What the last act did stands on the page from the start, and how work ended comes with its part: a screen reader passes
// over both, so they are said once more.
const said = document.querySelector("#said");
function say(text) {
  if (!said || !text) { return; }
  window.setTimeout(function () { said.textContent = text; }, 300);
  window.setTimeout(function () { if (said.textContent === text) { said.textContent = ""; } }, 5000);
}
function read(parts) { return Array.from(parts, function (one) { return one.textContent.trim(); }).join(" ").trim(); }
function stands() { return read(document.querySelectorAll("main [role=status]")); }
say(read(document.querySelectorAll("#messages > *")));
let stood = stands();
document.addEventListener("htmx:afterSettle", function () {
  const now = stands();
  if (now !== stood) { say(now); }
  stood = now;
});

// A designation, a figure with its unit and a day stay on one line: what the list of the page finds (register/base/untorn.py) is
// put into an element that does not break. The text stays as it is.
const UNTORN = new RegExp(document.currentScript.dataset.untorn, "g");
function keepWhole(part) {
  const texts = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
  const found = [];
  while (texts.nextNode()) {
    const text = texts.currentNode;
    const ends = Array.from(text.data.matchAll(UNTORN), function (one) { return [one.index, one.index + one[0].length]; });
    const around = text.parentElement;
    if (ends.length === 0 || around.closest("svg, textarea, option, pre, code, kept-whole, script, style")) { continue; }
    found.push({ text: text, ends: ends, parted: /flex|grid/.test(getComputedStyle(around).display) });
  }
  found.forEach(function (one) {
    // The text of a row of boxes is one box: in pieces it would be several.
    if (one.parted) {
      const box = document.createElement("span");
      one.text.replaceWith(box);
      box.append(one.text);
    }
    one.ends.reverse().forEach(function (end) {
      one.text.splitText(end[1]);
      const whole = document.createElement("kept-whole");
      whole.append(one.text.splitText(end[0]));
      one.text.after(whole);
    });
  });
}
keepWhole(document.body);
document.addEventListener("htmx:load", function (event) { keepWhole(event.detail.elt); });

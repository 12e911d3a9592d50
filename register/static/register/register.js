// Small helps; every page works without them.
"use strict";

// A form with unsaved entries asks before it is left.
document.querySelectorAll("form[data-keep]").forEach(function (form) {
  let changed = false;
  form.addEventListener("input", function () { changed = true; });
  form.addEventListener("submit", function () { changed = false; });
  window.addEventListener("beforeunload", function (event) {
    if (changed) { event.preventDefault(); }
  });
});

// What went wrong is read out and scrolled to.
const wrong = document.querySelector("[data-focus]");
if (wrong) { wrong.focus(); }

// Buttons that print the page.
document.querySelectorAll("[data-print]").forEach(function (button) {
  button.hidden = false;
  button.addEventListener("click", function () { window.print(); });
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

// A long list of boxes or lines is one stop of the Tab key: arrow keys go on within it, Home and End to its ends. Without
// this file each box is a stop of its own.
"use strict";

(function () {
  const GROUP = "[data-one-stop]";
  const WAYS = "a[href], input:not(:disabled)";

  // The ways of a group line by line: the rows of a table, else each by itself.
  function linesOf(group) {
    const rows = Array.from(group.querySelectorAll("tr"));
    const lines = rows.length
      ? rows.map(function (row) { return Array.from(row.querySelectorAll(WAYS)); })
      : Array.from(group.querySelectorAll(WAYS), function (way) { return [way]; });
    return lines.filter(function (line) { return line.length; });
  }

  function stopAt(group, at) {
    linesOf(group).flat().forEach(function (way) { way.tabIndex = way === at ? 0 : -1; });
  }

  const told = document.querySelector("#arrows");

  function begin(part) {
    part.querySelectorAll(GROUP).forEach(function (group) {
      const ways = linesOf(group).flat();
      if (ways.length < 2) { return; }
      stopAt(group, ways.find(function (way) { return way.checked; }) || ways[0]);
      if (told) {
        told.hidden = false;
        group.setAttribute("aria-describedby", told.id);
      }
    });
  }

  // The line above or below is entered where this one was left: at its box, or at its link.
  function like(line, at) {
    return line && (line.find(function (way) { return way.tagName === at.tagName; }) || line[0]);
  }

  function next(lines, at, key) {
    const row = lines.findIndex(function (line) { return line.includes(at); });
    const place = lines[row].indexOf(at);
    switch (key) {
      case "ArrowDown": return like(lines[row + 1], at);
      case "ArrowUp": return like(lines[row - 1], at);
      case "ArrowRight": return lines[row][place + 1];
      case "ArrowLeft": return lines[row][place - 1];
      case "Home": return like(lines[0], at);
      case "End": return like(lines[lines.length - 1], at);
      default: return null;
    }
  }

  document.addEventListener("focusin", function (event) {
    const group = event.target.closest(GROUP);
    if (group && event.target.matches(WAYS)) { stopAt(group, event.target); }
  });

  document.addEventListener("keydown", function (event) {
    const group = event.target.closest(GROUP);
    if (!group || !event.target.matches(WAYS) || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) { return; }
    const to = next(linesOf(group), event.target, event.key);
    if (to) {
      event.preventDefault();
      to.focus();
    }
  });

  begin(document);
  document.addEventListener("htmx:load", function (event) { begin(event.detail.elt); });
}());

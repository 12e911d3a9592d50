// What was typed into a long form is kept in this tab while the form is sent, and put back where the sign-in had ended.
"use strict";

(function () {
  const KEY = "kept-entries";
  const LASTS = 12 * 60 * 60 * 1000;
  const user = document.body.dataset.user || "";
  // Signed out, or a page that says why nothing was done: what was sent is not dealt with yet.
  const unanswered = !user || document.querySelector("[data-unanswered]") !== null;
  const form = document.querySelector("form[data-put-back]");
  const here = location.pathname + location.search;

  function kept() {
    try { return JSON.parse(sessionStorage.getItem(KEY)); } catch (refused) { return null; }
  }
  function keep(found) {
    // A browser that keeps nothing, or a form too large for it: as if there were no such help.
    try { sessionStorage.setItem(KEY, JSON.stringify(found)); } catch (refused) { forget(); }
  }
  function forget() {
    try { sessionStorage.removeItem(KEY); } catch (refused) { /* nothing is kept then */ }
  }
  function entries() {
    const secret = new Set(["csrfmiddlewaretoken", "put_back"]);
    form.querySelectorAll("input[type=password], input[autocomplete=one-time-code]").forEach(function (box) { secret.add(box.name); });
    return Array.from(new FormData(form)).filter(function (one) { return typeof one[1] === "string" && !secret.has(one[0]); });
  }
  function keepForm(isLost) {
    keep({ user: user, at: Date.now(), address: here, entries: entries(), lost: isLost });
  }
  function hidden(name, value) {
    const box = document.createElement("textarea");
    box.name = name;
    box.value = value;
    box.hidden = true;
    return box;
  }
  function putBack(found) {
    const sent = document.createElement("form");
    sent.method = "post";
    sent.enctype = form.enctype;
    found.entries.forEach(function (one) { sent.append(hidden(one[0], one[1])); });
    sent.append(hidden("csrfmiddlewaretoken", form.querySelector("[name=csrfmiddlewaretoken]").value), hidden("put_back", "1"));
    document.body.append(sent);
    sent.submit();
  }

  const found = kept();
  if (found) {
    if (Date.now() - found.at > LASTS || (user && found.user !== user)) {
      forget();
    } else if (unanswered) {
      keep(Object.assign(found, { lost: true }));
    } else if (!found.lost) {
      // It was answered: saved, or shown again with what is wrong.
      forget();
    } else if (form && found.address === here) {
      keep(Object.assign(found, { lost: false }));
      putBack(found);
    }
  }
  if (user && form) {
    form.addEventListener("submit", function () { keepForm(false); });
    document.querySelectorAll("#ended a").forEach(function (way) {
      way.addEventListener("click", function () {
        keepForm(true);
        form.dispatchEvent(new Event("kept"));
      });
    });
  }
  document.querySelectorAll("form.who").forEach(function (out) { out.addEventListener("submit", forget); });
})();

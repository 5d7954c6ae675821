// Everything is on the page without this script; it only hides what is not asked for, and opens what is linked to.
(function () {
  "use strict";
  var form = document.getElementById("filter");
  if (!form) { return; }
  var entries = Array.prototype.slice.call(document.querySelectorAll("[data-entry]"));
  var cards = Array.prototype.slice.call(document.querySelectorAll("[data-card]"));
  var groups = Array.prototype.slice.call(document.querySelectorAll("[data-group]"));
  var told = document.getElementById("shown");
  form.hidden = false;
  function value(name) { return form.elements[name].value; }
  function fits(one) {
    var text = value("text").trim().toLowerCase();
    return (!value("state") || one.dataset.state.split(" ").indexOf(value("state")) >= 0) &&
      (!value("severity") || one.dataset.severity === value("severity")) &&
      (!value("set") || one.dataset.sets.split(" / ").indexOf(value("set")) >= 0) &&
      (!value("subject") || one.dataset.subject === value("subject")) &&
      (!text || one.dataset.text.indexOf(text) >= 0);
  }
  function apply() {
    var shown = 0;
    entries.forEach(function (one) { one.hidden = !fits(one); if (!one.hidden) { shown += 1; } });
    cards.forEach(function (one) {
      one.hidden = (value("state") && one.dataset.state !== value("state")) ||
        (value("set") && one.dataset.card !== value("set"));
    });
    groups.forEach(function (one) { one.hidden = !one.querySelector("[data-entry]:not([hidden])"); });
    told.textContent = shown + " of " + entries.length + " matters and questions shown";
  }
  function reveal() {
    var wanted = null;
    try { wanted = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch (error) { return; }
    if (!wanted) { return; }
    for (var one = wanted; one; one = one.parentElement) {
      if (one.tagName === "DETAILS") { one.open = true; }
      if (one.hidden) { form.reset(); apply(); }
    }
    var first = wanted.querySelector("details");
    if (first && wanted.hasAttribute("data-entry")) { first.open = true; }
    wanted.scrollIntoView();
  }
  form.addEventListener("input", apply);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.addEventListener("reset", function () { setTimeout(apply, 0); });
  window.addEventListener("hashchange", reveal);
  apply();
  reveal();
}());

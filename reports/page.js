// Everything is on the page without this script; it only hides what is not asked for, and opens what is linked to.
(function () {
  "use strict";
  var form = document.getElementById("filter");
  if (!form) { return; }
  function all(what) { return Array.prototype.slice.call(document.querySelectorAll(what)); }
  var entries = all("[data-entry]"), cards = all("[data-card]"), groups = all("[data-group]");
  var told = document.getElementById("shown"), words = new Map(), states = new Map();
  cards.forEach(function (one) { states.set(one.dataset.card, one.dataset.state); });
  form.hidden = false;
  function value(name) { return form.elements[name].value; }
  function sets(one) { return one.dataset.sets.split(" / "); }
  function says(one, text) {
    if (!words.has(one)) { words.set(one, one.textContent.toLowerCase()); }
    return words.get(one).indexOf(text) >= 0;
  }
  function apply() {
    var result = value("result"), state = value("state"), severity = value("severity"), set = value("set");
    var subject = value("subject"), text = value("text").trim().toLowerCase();
    var narrow = result || severity || subject || text, hit = {}, shown = 0;
    entries.forEach(function (one) {
      var mine = sets(one);
      one.hidden = !((!result || one.dataset.result === result) && (!severity || one.dataset.severity === severity) &&
        (!set || mine.indexOf(set) >= 0) && (!subject || one.dataset.subject === subject) &&
        (!state || mine.some(function (key) { return states.get(key) === state; })) && (!text || says(one, text)));
      if (!one.hidden) { shown += 1; mine.forEach(function (key) { hit["=" + key] = true; }); }
    });
    cards.forEach(function (one) {
      one.hidden = Boolean((state && one.dataset.state !== state) || (set && one.dataset.card !== set) ||
        (narrow && !hit["=" + one.dataset.card]));
    });
    groups.forEach(function (one) { one.hidden = !one.querySelector("[data-entry]:not([hidden]), [data-card]:not([hidden])"); });
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
    var entry = wanted.closest("[data-entry]"), first = entry && entry.querySelector("details");
    if (first) { first.open = true; }
    arrive(wanted, 8);
  }
  // A card is laid out only when it comes near; each may push the wanted one on, so the page looks again.
  function arrive(wanted, times) {
    wanted.scrollIntoView();
    if (times) { requestAnimationFrame(function () { arrive(wanted, times - 1); }); }
  }
  form.addEventListener("input", apply);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.addEventListener("reset", function () { setTimeout(apply, 0); });
  window.addEventListener("hashchange", reveal);
  apply();
  reveal();
}());

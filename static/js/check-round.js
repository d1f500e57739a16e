// Where Enter goes in a check: from one field that is asked for to the next, and at last to saving.
"use strict";

window.leeboardRound = (() => {
  const says = window.leeboardSays;
  if (!says) return null;
  const form = document.querySelector("form[data-keys]");
  const save = form.querySelector("button.first");
  const passed = new Set(); // left open on purpose: Enter in an empty field that cannot be confirmed

  const visible = (control) => control.offsetParent !== null;
  const stops = () => says.stops().filter(visible);
  const beside = (control, what) => control.closest(".field")?.querySelector(what);

  function answered(control) {
    return control.value.trim() !== "" || Boolean(beside(control, ".keep input")?.checked)
      || Boolean(beside(control, ".reason")?.value);
  }
  function isAsked(control) {
    const others = control.dataset.askedWith;
    if (!others) return "asked" in control.dataset;
    return others.split(" ").some((name) => form.elements[name]?.value.trim());
  }
  const isOpen = (control) => isAsked(control) && !answered(control);
  const waits = (control) => says.holdsUp(control) || (isOpen(control) && !passed.has(control.name));

  function go(control) {
    control.focus();
    control.select?.();
  }

  /** Up or down by one, whatever is asked. */
  function step(from, by) {
    const all = [...stops(), save];
    const to = all[all.indexOf(from) + by];
    if (to) go(to);
  }

  /** The next field that waits, ahead first; then saving. */
  function next(from) {
    const all = stops();
    const at = all.indexOf(from);
    const ahead = all.slice(at + 1).find(waits) ?? all.slice(0, Math.max(at, 0)).find(waits);
    if (ahead) go(ahead);
    else finish(from, all);
  }

  // The last Enter of a walk saves; one in the middle of a whole form only leads to the button.
  function finish(from, all) {
    const over = document.querySelector(".say input[name=accept]:not(:checked)");
    if (over) {
      over.focus();
      return;
    }
    const last = all.filter(isAsked).at(-1);
    const whole = !all.some((control) => isOpen(control) || says.holdsUp(control));
    if (whole && from === last) form.requestSubmit(save);
    else save.focus();
  }

  // Only a setting that stands empty is confirmed, and only the one that is looked at.
  function keepIfEmpty(control) {
    const keep = beside(control, ".keep input");
    if (!keep || keep.checked || control.value !== "") return;
    keep.checked = true;
    keep.dispatchEvent(new Event("change", { bubbles: true }));
  }

  /** Enter: confirm what may be confirmed, wait for a word where one is needed, and go on. */
  async function leave(control) {
    keepIfEmpty(control);
    if (!answered(control)) passed.add(control.name);
    if (says.needsAWord(control)) {
      await says.wait(control);
      if (says.holdsUp(control)) return false;
    }
    next(control);
    return true;
  }

  function tally() {
    const all = says.stops().filter((control) => control.closest(".field"));
    const asked = all.filter(isAsked);
    const refused = form.querySelectorAll(".says:not([data-stale]) .refused").length;
    const open = form.querySelectorAll(".says:not([data-stale]) .asked input:not(:checked)").length;
    const words = [`${asked.filter(answered).length} of ${asked.length} in`];
    if (refused) words.push(`${refused} refused`);
    if (open) words.push(`${open} asked`);
    const left = asked.filter((control) => isOpen(control) && passed.has(control.name));
    const place = document.getElementById("tally");
    const names = document.getElementById("left-open");
    place.hidden = false;
    place.textContent = words.join(", ");
    names.hidden = !left.length;
    names.textContent = left.length ? `left open: ${left.map(nameOf).join(", ")}` : "";
  }
  const nameOf = (control) => control.labels[0]?.textContent.trim() ?? control.name;

  // A form that came back is about what holds it up; what was left open is one question over it.
  if (document.querySelector("[data-focus-first]")) {
    for (const control of stops().filter(isOpen)) passed.add(control.name);
  }

  for (const kind of ["input", "change", "judged", "focusin"]) form.addEventListener(kind, tally);
  tally();
  return { go, step, next, leave, answered, beside, nameOf, passed };
})();

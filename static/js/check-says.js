// A check while it is typed: asks the server what the numbers mean so far, puts what it says beside
// each field, and never touches what somebody types or where they are.
"use strict";

window.leeboardSays = (() => {
  const form = document.querySelector("form[data-keys]");
  if (!form) return null;
  const live = document.getElementById("live");
  const LONGEST_WAIT = 3000;
  let waiting = null;
  let turn = 0; // counts questions to the server: an answer is about what stood there when it was put
  const typedIn = new Map(); // field to the last question put before its text changed

  const saysOf = (control) => document.getElementById(`says-${control.name}`);
  const isStale = (control) => saysOf(control)?.hasAttribute("data-stale");
  const stops = () => [...form.querySelectorAll("[data-stop]")];

  /** What is said beside the field holds the form up: refused, or asked and nobody has answered. */
  function holdsUp(control) {
    const says = saysOf(control);
    if (!says || isStale(control)) return false;
    return Boolean(says.querySelector(".refused, .asked input:not(:checked)"));
  }

  /** A bare number that the field takes unasked; anything else waits for the server's word. */
  function isUsual(control) {
    const text = control.value.trim().replace(",", ".");
    if (!control.dataset.usual || !/^-?\d{1,5}(\.\d{1,2})?$/.test(text)) return false;
    const [low, high] = control.dataset.usual.split(":");
    return (low === "" || Number(text) >= Number(low)) && (high === "" || Number(text) <= Number(high));
  }

  function needsAWord(control) {
    return control.matches("input.is-number") && control.value.trim() !== ""
      && isStale(control) && !isUsual(control);
  }

  /** Ask about this field now; resolves when the server has judged it, or cannot be asked. */
  function wait(control) {
    return new Promise((resolve) => {
      const timer = setTimeout(release, LONGEST_WAIT);
      const done = () => { clearTimeout(timer); waiting = null; resolve(); };
      waiting = { control, after: turn, release: done };
      htmx.trigger(live, "ask");
    });
  }
  function release() { waiting?.release(); }

  // A text in hand is half a text: the server is told not to judge it yet.
  function inHand() {
    const control = document.activeElement;
    const typing = !waiting && control?.matches("input[data-stop]") && isStale(control);
    return typing && control.value.trim() !== "" ? control.name : "";
  }
  const isLive = (event) => event.detail.elt === live;
  document.addEventListener("htmx:configRequest", (event) => {
    if (!isLive(event)) return;
    turn += 1;
    event.detail.parameters.at = inHand();
    event.detail.parameters.turn = turn;
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!isLive(event)) return;
    const { xhr, requestConfig } = event.detail;
    if (xhr.status === 0) return;
    const of = Number(requestConfig.parameters.turn);
    for (const [name, last] of typedIn) {
      if (last >= of) document.getElementById(`says-${name}`)?.setAttribute("data-stale", "");
    }
    judged();
    if (waiting && of > waiting.after) release();
  });
  document.addEventListener("htmx:sendError", release);
  document.addEventListener("htmx:timeout", release);

  let held = new Set();
  function judged() {
    const now = new Set();
    for (const control of stops()) {
      if (!isStale(control)) {
        if (saysOf(control)?.querySelector(".refused")) control.setAttribute("aria-invalid", "true");
        else control.removeAttribute("aria-invalid");
      }
      if (holdsUp(control)) now.add(control.name);
    }
    const fresh = [...now].filter((name) => !held.has(name));
    held = now;
    if (fresh.length) aloud(fresh.map((name) => wordsOf(name)).join(" "));
    form.dispatchEvent(new CustomEvent("judged"));
  }
  const wordsOf = (name) => [...document.querySelectorAll(`#says-${CSS.escape(name)} strong`)]
    .map((each) => each.textContent).join(" ");
  function aloud(words) { document.getElementById("aloud").textContent = words; }

  form.addEventListener("input", (event) => {
    if (!event.target.matches("[data-stop]")) return;
    typedIn.set(event.target.name, turn);
    saysOf(event.target)?.setAttribute("data-stale", "");
  });

  // Other fields are brought (another mode, another time): what was typed meanwhile stays.
  let kept = null;
  const isFields = (event) => event.detail.target?.id === "fields";
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (isFields(event)) kept = new Map(stops().map((each) => [each.name, each.value]));
  });
  document.addEventListener("htmx:afterSwap", (event) => {
    if (!isFields(event) || !kept) return;
    for (const control of stops()) {
      if (kept.has(control.name)) control.value = kept.get(control.name);
    }
    kept = null;
    judged();
  });

  for (const control of stops()) if (holdsUp(control)) held.add(control.name);
  return { holdsUp, needsAWord, wait, aloud, stops, saysOf };
})();

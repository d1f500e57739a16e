// A check from the keyboard: which key does what, in which field. The list is in the page (“?”).
"use strict";

(() => {
  const says = window.leeboardSays;
  const round = window.leeboardRound;
  if (!says || !round) return;
  const form = document.querySelector("form[data-keys]");
  const { beside } = round;
  let before = "";
  let queue = null; // keys pressed while the server is asked about the field that is left

  function changed(control) {
    for (const kind of ["input", "change"]) control.dispatchEvent(new Event(kind, { bubbles: true }));
  }

  // ---------- what single letters do ----------
  function acceptBy(letter, control) {
    const boxes = says.saysOf(control)?.querySelectorAll(".asked input:not(:checked)") ?? [];
    const box = [...boxes].find((each) => each.dataset.letter === letter);
    if (!box || !says.holdsUp(control)) return false;
    box.checked = true;
    changed(box);
    if (!says.holdsUp(control)) round.next(control);
    return true;
  }
  function chooseBy(letter, list) {
    const option = [...list.options].find((each) => each.dataset.letter === letter);
    if (!option) return false;
    list.value = option.value;
    changed(list);
    round.next(list.matches(".reason") ? list.closest(".field").querySelector("[data-stop]") : list);
    return true;
  }
  function notMeasured(control) {
    const reason = beside(control, ".reason");
    if (!reason || control.value !== "") return false;
    reason.focus();
    return true;
  }
  function undo(control) {
    const keep = beside(control, ".keep input");
    const reason = beside(control, ".reason");
    if (control.value !== before) control.value = before;
    else if (keep?.checked) keep.checked = false;
    else if (reason?.value) reason.value = "";
    round.passed.delete(control.name);
    changed(control);
  }

  const KEYS = {
    Enter: (control) => { leave(control); return true; },
    ArrowDown: (control) => { round.step(control, 1); return true; },
    ArrowUp: (control) => { round.step(control, -1); return true; },
    Escape: (control) => { undo(control); return true; },
    n: notMeasured,
    "/": (control) => (control.value === "" || control.matches("select")) && openJump(control),
    "?": () => openKeys(),
  };

  /** Whether the key did something here; otherwise it is text. */
  function press(key, control) {
    if (control.matches(".reason")) return pressInReasons(key, control);
    if (control.matches("select") && chooseBy(key, control)) return true;
    if (key.length === 1 && acceptBy(key, control)) return true;
    const isText = control.matches("input:not(.is-number)");
    if (key.length === 1 && isText && control.value !== "") return false;
    return Object.hasOwn(KEYS, key) ? KEYS[key](control) !== false : false;
  }
  function pressInReasons(key, list) {
    const control = list.closest(".field").querySelector("[data-stop]");
    if (key === "Escape") { list.value = ""; changed(list); round.go(control); return true; }
    if (key === "Enter") { round.next(control); return true; }
    return chooseBy(key, list);
  }

  async function leave(control) {
    queue = [];
    const went = await round.leave(control);
    const typed = queue;
    queue = null;
    // Keys meant for the next field follow there; if this one holds up, they were meant for nothing.
    if (went) replay(typed);
  }
  function replay(keys) {
    for (const [at, key] of keys.entries()) {
      const control = document.activeElement;
      if (!control?.matches("[data-stop], .reason")) return;
      if (press(key, control)) {
        if (queue) { queue.push(...keys.slice(at + 1)); return; }
      } else if (key.length === 1 && control.matches("input")) {
        control.setRangeText(key, control.selectionStart, control.selectionEnd, "end");
        control.dispatchEvent(new Event("input", { bubbles: true }));
      }
    }
  }

  form.addEventListener("keydown", (event) => {
    const control = event.target;
    if (!control.matches("[data-stop], .reason")) return;
    if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
    if (queue) {
      if (event.key === "Tab") return;
      event.preventDefault();
      queue.push(event.key);
    } else if (press(event.key, control)) event.preventDefault();
  });

  // A question about the whole form, answered over it; the time, left with Enter.
  document.addEventListener("keydown", (event) => {
    const box = event.target;
    if (box.matches?.("input[name=accept]") && event.key === box.dataset.letter) {
      event.preventDefault();
      box.checked = true;
      changed(box);
      round.next(box.closest(".field")?.querySelector("[data-stop]") ?? null);
    } else if (box.matches?.(".check-head :is(input, select):not([data-stop])") && event.key === "Enter") {
      event.preventDefault();
      round.next(null);
    }
  });

  form.addEventListener("focusin", (event) => {
    if (event.target.matches("[data-stop]")) before = event.target.value;
    letters(event.target);
  });
  // What is typed is no longer "kept", and what is measured is no longer "not measured".
  form.addEventListener("input", (event) => {
    if (!event.target.matches("[data-stop]") || event.target.value === "") return;
    const keep = beside(event.target, ".keep input");
    const reason = beside(event.target, ".reason");
    if (keep) keep.checked = false;
    if (reason) reason.value = "";
    round.passed.delete(event.target.name);
  });
  // A wheel scrolls the page and changes no value.
  form.addEventListener("wheel", (event) => {
    if (!event.target.matches("select, input[type=date]")) return;
    event.preventDefault();
    window.scrollBy(0, event.deltaY);
  }, { passive: false });

  /** The letters of a short list stand in the bar at the foot while the list has the focus. */
  function letters(control) {
    const place = document.getElementById("letters");
    const options = control.matches("select") ? [...control.options] : [];
    const known = options.filter((each) => each.dataset.letter);
    place.replaceChildren(...known.map((each) => {
      const hint = document.createElement("span");
      const key = document.createElement("kbd");
      key.textContent = each.dataset.letter;
      hint.append(key, ` ${each.textContent}`);
      return hint;
    }));
    document.getElementById("hints").hidden = known.length > 0;
  }

  // ---------- the two small windows ----------
  const keysWindow = document.getElementById("keys-window");
  const jumpWindow = document.getElementById("jump-window");
  const jumpTo = document.getElementById("jump-to");
  const jumpList = document.getElementById("jump-list");
  const MOST_SHOWN = 8;
  let from = null;

  function openKeys() { keysWindow.showModal(); }

  function openJump(control) {
    from = control;
    jumpTo.value = "";
    fill();
    jumpWindow.showModal();
    jumpTo.focus();
  }
  function found() {
    const wanted = jumpTo.value.trim().toLowerCase();
    const named = says.stops().map((control) => [round.nameOf(control), control]);
    const rank = ([name]) => name.toLowerCase().indexOf(wanted);
    return named.filter((each) => rank(each) >= 0).sort((a, b) => rank(a) - rank(b)).slice(0, MOST_SHOWN);
  }
  function fill() {
    jumpList.replaceChildren(...found().map(([name]) => {
      const line = document.createElement("li");
      line.textContent = name;
      return line;
    }));
  }
  jumpTo.addEventListener("input", fill);
  jumpTo.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    const to = found()[0]?.[1];
    jumpWindow.close();
    if (!to) return;
    const folded = to.closest("details");
    if (folded) folded.open = true;
    round.go(to);
  });
  jumpWindow.addEventListener("close", () => {
    if (document.activeElement === document.body) from?.focus();
  });

  form.querySelector("[data-keys-help]")?.removeAttribute("hidden");
  form.querySelector("button.show").hidden = true;
  // A fresh form begins at its first field; a finger opens the pad itself.
  const isFresh = !document.querySelector("[data-focus-first]");
  if (isFresh && matchMedia("(pointer: fine)").matches) {
    const first = says.stops().find((control) => "asked" in control.dataset && control.offsetParent);
    if (first) round.go(first);
  }
})();

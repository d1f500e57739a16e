// What the pages do beyond HTML: ages of times, one save per press, and a board that says when it
// could not be read. Every page works without this file.
"use strict";

(() => {
  const MINUTE = 60_000;
  const root = document.documentElement;
  // The server's clock rules: a tablet with a wrong clock must not show wrong ages.
  const ahead = Date.parse(root.dataset.now) - Date.now();
  const now = () => Date.now() + ahead;

  function age(milliseconds) {
    const minutes = Math.floor(milliseconds / MINUTE);
    if (minutes < 1) return "just now";
    if (minutes < 60) return `${minutes} min ago`;
    const hours = Math.floor(minutes / 60);
    if (hours < 48) return `${hours} h ${String(minutes % 60).padStart(2, "0")} ago`;
    return `${Math.floor(hours / 24)} days ago`;
  }

  function writeAges() {
    for (const time of document.querySelectorAll("time[data-age]")) {
      const past = now() - Date.parse(time.dateTime);
      let words = time.querySelector(".ago");
      if (past < 0 || Number.isNaN(past)) {
        words?.remove();
        continue;
      }
      if (!words) {
        words = document.createElement("span");
        words.className = "ago";
        time.append(words);
      }
      words.textContent = ` (${age(past)})`;
    }
  }

  // One press, one row: the second press of an impatient hand is dropped.
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.matches("[data-theme-form]")) return;
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "yes";
    for (const button of form.querySelectorAll("button")) button.setAttribute("aria-disabled", "true");
  });
  window.addEventListener("pageshow", () => {
    for (const form of document.querySelectorAll("form[data-sent]")) {
      delete form.dataset.sent;
      for (const button of form.querySelectorAll("button")) button.removeAttribute("aria-disabled");
    }
  });

  // Changing the light must not cost anybody a half-typed check, so the page stays.
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("[data-theme-form]") || !event.submitter) return;
    event.preventDefault();
    const theme = event.submitter.value;
    const body = new URLSearchParams(new FormData(form));
    body.set("theme", theme);
    fetch(form.action, { method: "POST", body, redirect: "manual", credentials: "same-origin" });
    if (theme === "auto") delete root.dataset.theme;
    else root.dataset.theme = theme;
    for (const button of form.querySelectorAll("button")) {
      button.setAttribute("aria-pressed", String(button === event.submitter));
    }
  });

  // ---------- the keys of this page ----------
  // A key of one letter may be in the way of somebody who speaks to the page, so it can be turned off.
  const keysWindow = document.getElementById("keys-window");
  const isTyped = (place) => place.matches?.("textarea, select, input:not([type=checkbox], [type=radio])");
  const isOff = () => {
    try { return localStorage.getItem("leeboard-keys") === "off"; } catch { return false; } // a locked-down browser
  };

  function openKeys(event) {
    event.preventDefault();
    if (!keysWindow.open) keysWindow.showModal();
  }
  function sayOff() {
    const button = keysWindow.querySelector("[data-keys-off]");
    button.textContent = isOff() ? "Turn the ? key on again" : "Turn the ? key off on this device";
  }
  if (keysWindow) {
    document.addEventListener("keydown", (event) => {
      const other = event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented;
      if (event.key === "?" && !other && !isOff() && !isTyped(event.target)) openKeys(event);
    });
    document.querySelector("[data-keys-way]")?.addEventListener("click", openKeys);
    keysWindow.querySelector("[data-close]").addEventListener("click", () => keysWindow.close());
    keysWindow.querySelector("[data-keys-off]").addEventListener("click", () => {
      localStorage.setItem("leeboard-keys", isOff() ? "on" : "off");
      sayOff();
    });
    sayOff();
  }

  // ---------- beds below each other ----------
  // A row holds many numbers that open, so Tab alone is a long way; the arrows go from bed to bed.
  document.addEventListener("keydown", (event) => {
    const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const held = event.ctrlKey || event.altKey || event.metaKey || event.shiftKey;
    const row = event.target.closest?.("[data-bed-row]");
    if (!by || held || !row || event.defaultPrevented) return;
    const rows = [...document.querySelectorAll("[data-bed-row]")];
    const way = rows[rows.indexOf(row) + by]?.querySelector("[data-bed-way]");
    if (!way) return;
    event.preventDefault();
    way.focus();
  });

  // ---------- the board's refresh ----------
  const isBoard = (event) => event.detail.elt?.id === "board";

  function say(id, words) {
    const place = document.getElementById(id);
    if (place) place.textContent = words;
  }

  function boardAnswered(read) {
    const place = document.getElementById("board-lost");
    if (!place) return;
    const time = document.querySelector("#board-read time");
    if (read && time) time.dateTime = new Date(now()).toISOString();
    place.hidden = read;
    writeAges();
  }

  document.addEventListener("htmx:beforeRequest", (event) => {
    if (isBoard(event) && document.hidden) event.preventDefault();
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!isBoard(event)) return;
    const status = event.detail.xhr.status;
    boardAnswered(status === 304 || (status >= 200 && status < 300));
  });
  document.addEventListener("htmx:afterSwap", (event) => {
    if (isBoard(event)) say("board-news", "The board has changed.");
    writeAges();
  });

  // A refresh that was led elsewhere (the session has ended) must not land inside the page.
  document.addEventListener("htmx:beforeSwap", (event) => {
    const { xhr, requestConfig } = event.detail;
    const asked = new URL(requestConfig.path, location.href).pathname;
    if (xhr.responseURL && new URL(xhr.responseURL).pathname !== asked) {
      event.detail.shouldSwap = false;
      location.reload();
    }
  });

  // A link that names a function key is opened by it. No letter is taken: they are for typing, and
  // for whoever speaks to the browser (WCAG 2.1.4).
  document.addEventListener("keydown", (event) => {
    const held = event.ctrlKey || event.altKey || event.metaKey || event.shiftKey || event.repeat;
    if (held || !/^F\d+$/.test(event.key)) return;
    const link = document.querySelector(`a[aria-keyshortcuts="${event.key}"]`);
    if (!link) return;
    event.preventDefault();
    link.click();
  });

  document.querySelector("[data-focus-first]")?.focus();
  // Beside the page the answer is in sight from the start; under it, reading comes first.
  if (!document.querySelector("[data-focus-first]") && matchMedia("(min-width: 80rem)").matches) {
    document.querySelector("[data-focus-wide]")?.focus({ preventScroll: true });
  }
  writeAges();
  setInterval(writeAges, MINUTE);
})();

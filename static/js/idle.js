// The lock of a page that nobody touches. The server ends the sign-in; this file warns before it,
// keeps a half-typed check, and empties the page, since a page left open shows patients.
"use strict";

(() => {
  const root = document.documentElement;
  if (!root.dataset.locksAt) return;

  const SECOND = 1000;
  const MINUTE = 60 * SECOND;
  const WARN_BEFORE = 2 * MINUTE;
  const TOUCH_EVERY = MINUTE; // the server notes no more than one a minute
  const ahead = Date.parse(root.dataset.now) - Date.now();
  const now = () => Date.now() + ahead;

  const line = document.getElementById("idle");
  const stay = document.querySelector("[data-stay]");
  const draft = document.querySelector("form[data-draft]");
  let locksAt = Date.parse(root.dataset.locksAt);
  let touchedAt = now();
  let asking = false;
  let locked = false;

  function heard(moment) {
    if (!moment) return;
    locksAt = Date.parse(moment);
    warn();
  }

  function warn() {
    const left = locksAt - now();
    const words = `${Math.max(1, Math.ceil(left / MINUTE))} min`;
    const place = document.getElementById("idle-left");
    if (place.textContent !== words) place.textContent = words;
    line.hidden = left > WARN_BEFORE;
  }

  async function touch() {
    touchedAt = now();
    const body = new URLSearchParams(new FormData(stay));
    const answer = await fetch("/still-here", { method: "POST", body, redirect: "manual" });
    heard(answer.headers.get("X-Locks-At"));
  }

  stay.addEventListener("submit", (event) => {
    event.preventDefault();
    event.stopPropagation();
    touch().catch(() => {}); // unheard, the page locks as it said it would
  });

  // Whoever types is here. What the page asks for by itself never counts.
  document.addEventListener("input", () => {
    if (now() - touchedAt >= TOUCH_EVERY) touch().catch(() => {});
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    heard(event.detail.xhr?.getResponseHeader("X-Locks-At"));
  });

  // ---------- the half-typed check ----------
  let typed = false;
  const keep = (event) => {
    if (event.target.closest("form[data-draft]")) typed = true;
  };
  document.addEventListener("input", keep);
  document.addEventListener("change", keep);
  document.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.elt?.id === "draft-said" && event.detail.successful) typed = false;
  });

  function keepDraft() {
    if (!draft || !typed || draft.dataset.sent) return;
    typed = false;
    navigator.sendBeacon(draft.dataset.draft, new URLSearchParams(new FormData(draft)));
  }
  window.addEventListener("pagehide", keepDraft);

  // ---------- the lock ----------
  function lock() {
    if (locked) return;
    locked = true;
    document.body.replaceChildren();
    location.replace(`/sign-in?next=${encodeURIComponent(location.pathname + location.search)}`);
  }

  // Another page of the same person may have kept the sign-in: ask before anything is taken away.
  async function askOrLock() {
    if (asking || locked) return;
    asking = true;
    try {
      const answer = await fetch("/still-here", { redirect: "manual", cache: "no-store" });
      if (answer.status === 204) heard(answer.headers.get("X-Locks-At"));
      else lock();
    } catch {
      lock(); // a page that cannot ask must not go on showing patients
    } finally {
      asking = false;
    }
  }

  function look() {
    warn();
    const left = locksAt - now();
    if (left <= 10 * SECOND) keepDraft();
    if (left <= 0) askOrLock();
  }

  setInterval(look, SECOND);
  window.addEventListener("pageshow", look);
  document.addEventListener("visibilitychange", look);
  warn();
})();

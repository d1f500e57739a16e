// The connection can drop while somebody types. A form is sent only once the server answers; until
// then the page says so plainly, keeps every letter, and sends the form when the server is back.
"use strict";

(() => {
  const line = document.getElementById("lost");
  if (!line) return;
  const words = document.getElementById("lost-words");
  const stop = document.getElementById("lost-stop");
  const AGAIN_AFTER = 3000;
  const LONGEST_WAIT = 5000;
  const GATEWAY = [502, 503, 504]; // a proxy's word that nobody is behind it

  let asking = false;
  let waiting = null; // the form to be sent, with the button that sends it
  let unkept = null; // the form whose draft did not arrive
  let timer = 0;

  /** Whether the server can be reached. Any answer of its own will do. */
  async function reached() {
    try {
      const signal = AbortSignal.timeout(LONGEST_WAIT);
      const answer = await fetch("/healthz/live", { cache: "no-store", signal });
      return !GATEWAY.includes(answer.status);
    } catch {
      return false;
    }
  }

  function say(text, stoppable) {
    if (words.textContent !== text) words.textContent = text;
    stop.hidden = !stoppable;
    line.hidden = text === "";
  }

  function tell() {
    if (waiting) {
      say("Not saved: the server cannot be reached. What you typed stands here and is sent as soon as it can be.", true);
    } else if (unkept) {
      say("Not kept: the server cannot be reached. What you type stands on this page only. Leave it open.", false);
    } else {
      say("", false);
    }
  }

  function send({ form, button }) {
    waiting = null;
    form.dataset.reached = "yes";
    form.requestSubmit(button);
  }

  async function tryAgain() {
    clearTimeout(timer);
    if (asking || !(waiting || unkept)) return;
    asking = true;
    const found = await reached();
    asking = false;
    if (found && waiting) {
      send(waiting);
    } else if (found && unkept) {
      // The draft's own request says whether it arrived.
      const form = unkept;
      unkept = null;
      form.dispatchEvent(new Event("change"));
    }
    tell();
    if (!found) timer = setTimeout(tryAgain, AGAIN_AFTER);
  }

  // Before anybody else hears of the press: what cannot be sent was not sent.
  window.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("form[method=post]:not([data-theme-form], [data-stay], [hx-post])")) return;
    if (form.dataset.reached) {
      delete form.dataset.reached;
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
    if (waiting || form.dataset.sent) return;
    waiting = { form, button: event.submitter };
    tryAgain();
  }, { capture: true });

  function leaveIt() {
    if (!waiting || line.hidden) return;
    waiting = null;
    say("Not saved, and not sent any more: press the button again when you are ready.", false);
  }
  // A form that changes under a pending press is not what was pressed for.
  document.addEventListener("input", (event) => {
    if (waiting?.form.contains(event.target)) leaveIt();
  });
  stop.addEventListener("click", leaveIt);

  const isDraft = (event) => event.detail.elt?.id === "draft-said";
  function draftLost(event) {
    if (!isDraft(event)) return;
    unkept = document.querySelector("form[data-draft]");
    tell();
    timer = setTimeout(tryAgain, AGAIN_AFTER);
  }
  document.addEventListener("htmx:sendError", draftLost);
  document.addEventListener("htmx:timeout", draftLost);
  document.addEventListener("htmx:afterRequest", (event) => {
    if (!isDraft(event) || !event.detail.successful) return;
    unkept = null;
    tell();
  });
  window.addEventListener("online", tryAgain);
  window.addEventListener("pageshow", () => {
    waiting = null;
    tell();
  });
})();

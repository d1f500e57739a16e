"use strict";

/* A trend is read by keyboard or pointer: the nearest value is named in the line under its picture.
   The same values stand in the table, so nothing is lost without this. */
(() => {
  const SVG = "http://www.w3.org/2000/svg";

  const walk = (holder) => {
    const plot = holder.querySelector(".plot");
    const line = holder.parentElement.querySelector("[data-trend-said]");
    const marks = [...plot.querySelectorAll("[data-said]")];
    if (!marks.length || !line) return;
    const summary = line.textContent;
    const cursor = document.createElementNS(SVG, "line");
    cursor.setAttribute("class", "cursor");
    cursor.setAttribute("y1", "0");
    cursor.setAttribute("y2", "100%");
    let at = -1;

    const leave = () => {
      at = -1;
      cursor.remove();
      line.textContent = summary;
    };
    const show = (number) => {
      at = Math.max(0, Math.min(marks.length - 1, number));
      const x = marks[at].getAttribute("x");
      cursor.setAttribute("x1", x);
      cursor.setAttribute("x2", x);
      plot.append(cursor);
      line.textContent = marks[at].dataset.said;
    };
    const nearest = (event) => {
      const box = plot.getBoundingClientRect();
      const share = (100 * (event.clientX - box.left)) / box.width;
      const far = marks.map((mark) => Math.abs(parseFloat(mark.getAttribute("x")) - share));
      show(far.indexOf(Math.min(...far)));
    };
    const keys = {
      ArrowLeft: () => show(at < 0 ? marks.length - 1 : at - 1),
      ArrowRight: () => show(at < 0 ? marks.length - 1 : at + 1),
      Home: () => show(0),
      End: () => show(marks.length - 1),
      Escape: leave,
    };

    plot.setAttribute("tabindex", "0");
    line.setAttribute("aria-live", "polite");
    plot.addEventListener("keydown", (event) => {
      if (!keys[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      keys[event.key]();
    });
    plot.addEventListener("pointermove", nearest);
    plot.addEventListener("pointerdown", nearest);
    plot.addEventListener("pointerleave", leave);
    plot.addEventListener("blur", leave);
  };

  document.querySelectorAll("[data-trend]").forEach(walk);
})();

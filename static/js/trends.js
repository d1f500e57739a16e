"use strict";

/* Trends, drawn by uPlot from the data that the page brings along. Inks and type are the page's
   own, by day, by night and in forced colours. Where this does not run, small pictures stand there;
   every value stands in a table in any case. */
(() => {
  const brought = document.getElementById("trend-data");
  if (!brought || typeof uPlot === "undefined") return;
  const all = JSON.parse(brought.textContent);
  const heard = document.getElementById("trend-heard");
  const plots = [];
  const LEFT_OF_PLOT = 44;

  /* ---- inks ---- */

  const probe = document.createElement("span");
  probe.className = "trend-ink";
  probe.hidden = true;
  document.body.append(probe);
  let inks = {};
  const mix = () => {
    const known = ["paper", "lift", "ink", "ink-2", "ink-3", "rule", "hair", "worry"];
    inks = Object.fromEntries(
      known.map((name) => {
        probe.style.color = `var(--${name})`;
        return [name, getComputedStyle(probe).color];
      }),
    );
  };
  const drawAnew = () => {
    mix();
    for (const plot of plots) plot.redraw(false, true);
  };
  const font = (weight = 400) => {
    const body = getComputedStyle(document.body);
    return `${weight} ${Math.round(0.8125 * parseFloat(body.fontSize))}px ${body.fontFamily}`;
  };

  /* ---- what is drawn under and over the library's own line ---- */

  const canvasX = (plot, at) => Math.round(plot.valToPos(at, "x", true));
  const canvasY = (plot, value) => Math.round(plot.valToPos(value, "y", true));

  const band = (plot, limit) => {
    const { ctx, bbox } = plot;
    const [left, right] = [canvasX(plot, limit.from_at), canvasX(plot, limit.to_at)];
    const beyond = (end, from, to) => {
      ctx.fillStyle = inks.lift;
      ctx.fillRect(left, from, right - left, to - from);
      ctx.fillStyle = inks.rule;
      ctx.fillRect(left, canvasY(plot, end), right - left, uPlot.pxRatio);
    };
    if (limit.over !== null) beyond(limit.over, bbox.top, canvasY(plot, limit.over));
    if (limit.under !== null)
      beyond(limit.under, canvasY(plot, limit.under), bbox.top + bbox.height);
  };

  const markEvents = (plot) => {
    const { ctx, bbox } = plot;
    ctx.strokeStyle = inks.rule;
    ctx.lineWidth = uPlot.pxRatio;
    ctx.setLineDash([uPlot.pxRatio, 3 * uPlot.pxRatio]);
    ctx.fillStyle = inks["ink-2"];
    ctx.font = font(650).replace(/[\d.]+px/, (size) => `${parseFloat(size) * uPlot.pxRatio}px`);
    ctx.textAlign = "center";
    ctx.textBaseline = "bottom";
    for (const event of all.events) {
      for (const at of [event.at, event.until]) {
        if (at === null || at >= all.to_at) continue;
        const x = canvasX(plot, at);
        ctx.beginPath();
        ctx.moveTo(x, bbox.top);
        ctx.lineTo(x, bbox.top + bbox.height);
        ctx.stroke();
      }
    }
    for (const { x, words } of numbers(plot)) ctx.fillText(words, x, bbox.top - 2 * uPlot.pxRatio);
  };

  /** The numbers over the marks; those too close to be read apart are one, "2–3". */
  const numbers = (plot) => {
    const rows = [];
    for (const { at, number } of all.events) {
      const x = canvasX(plot, at);
      const before = rows.at(-1);
      if (before && x - before.x < 28 * uPlot.pxRatio) before.words = `${before.first}–${number}`;
      else rows.push({ x, first: number, words: number });
    }
    return rows;
  };

  const CROSS = "M-4-4 4 4M-4 4 4-4";
  const SHAPES = {
    over: [new Path2D("M0-6 5 4H-5Z"), "worry"],
    under: [new Path2D("M0 6 5-4H-5Z"), "worry"],
    struck: [new Path2D(CROSS)],
    was: [new Path2D(CROSS)],
    none: [new Path2D("M0 0V-8")],
  };
  const DOT = new Path2D("M3.2 0A3.2 3.2 0 1 1-3.2 0 3.2 3.2 0 1 1 3.2 0Z");

  const mark = (plot, drawn, at, value) => {
    const { ctx, bbox } = plot;
    const y = value === null ? bbox.top + bbox.height : canvasY(plot, value);
    const [shape, ink] = SHAPES[drawn] || [DOT, "ink"];
    ctx.save();
    ctx.translate(canvasX(plot, at), y);
    ctx.scale(uPlot.pxRatio, uPlot.pxRatio);
    ctx.lineWidth = 1.5;
    ctx.strokeStyle = ink ? inks.paper : inks["ink-3"];
    ctx.stroke(shape);
    if (ink) {
      ctx.fillStyle = inks[ink];
      ctx.fill(shape);
    }
    ctx.restore();
  };

  const under = (plot) => {
    plot.ctx.save();
    for (const limit of plot.trend.limits) band(plot, limit);
    markEvents(plot);
    plot.ctx.restore();
  };

  const over = (plot) => {
    const steps = plot.trend.kind === "step";
    for (const point of plot.trend.points) {
      if (point.was !== null) mark(plot, "was", point.at, point.was);
      const plain = point.drawn === "held" || (steps && point.drawn === "point");
      if (!plain) mark(plot, point.drawn, point.at, point.value);
    }
  };

  const lasting = (plot) => {
    const { ctx, bbox } = plot;
    ctx.fillStyle = inks.rule;
    for (const event of all.events) {
      if (event.until === null) continue;
      const [from, to] = [canvasX(plot, event.at), canvasX(plot, event.until)];
      ctx.fillRect(from, bbox.top + bbox.height * 0.6, to - from, bbox.height * 0.3);
    }
  };

  /* ---- reading ---- */

  const nearest = (plot, at) => {
    const { points, kind } = plot.trend;
    const before = points.filter((point) => point.at <= at);
    if (kind === "step" && before.length) return before[before.length - 1];
    const far = points.map((point) => Math.abs(point.at - at));
    return points[far.indexOf(Math.min(...far))];
  };
  const tell = (plot) => {
    const away = plot.cursor.left < 0;
    const point = away ? null : plot.chosen || nearest(plot, plot.posToVal(plot.cursor.left, "x"));
    plot.line.textContent = point ? point.said : plot.trend.summary;
  };
  const leave = (plot) => {
    plot.chosen = null;
    plot.setCursor({ left: -10, top: -10 }, true, true);
    heard.textContent = "";
  };
  const walk = (plot, holder) => {
    const stops = plot.trend.points.filter((point) => point.drawn !== "held");
    const show = (number) => {
      plot.chosen = stops[Math.max(0, Math.min(stops.length - 1, number))];
      const left = plot.valToPos(plot.chosen.at, "x");
      plot.setCursor({ left, top: plot.over.clientHeight / 2 }, true, true);
      heard.textContent = `${plot.trend.label}: ${plot.chosen.said}`;
    };
    const here = () => stops.indexOf(plot.chosen);
    const keys = {
      ArrowLeft: () => show(here() < 0 ? stops.length - 1 : here() - 1),
      ArrowRight: () => show(here() < 0 ? stops.length - 1 : here() + 1),
      Home: () => show(0),
      End: () => show(stops.length - 1),
      Escape: () => leave(plot),
    };
    if (!stops.length) return;
    holder.tabIndex = 0;
    holder.addEventListener("keydown", (event) => {
      if (!keys[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      keys[event.key]();
    });
    holder.addEventListener("blur", () => leave(plot));
    holder.addEventListener("pointermove", () => {
      plot.chosen = null;
    });
  };

  /* ---- one drawing ---- */

  const range = ({ points, limits }) => {
    const every = [
      ...points.flatMap((point) => [point.value, point.was]),
      ...limits.flatMap((limit) => [limit.over, limit.under]),
    ].filter((value) => value !== null);
    if (!every.length) return [0, 1];
    const [low, high] = [Math.min(...every), Math.max(...every)];
    const room = 0.12 * (high - low) || Math.max(1, 0.1 * Math.abs(high));
    return [low < 0 ? low - room : Math.max(0, low - room), high + room];
  };
  const PATHS = { step: uPlot.paths.stepped({ align: 1 }), line: uPlot.paths.linear() };

  const options = (trend, width, height) => ({
    width,
    height,
    padding: [18, 12, 0, 0],
    legend: { show: false },
    cursor: {
      y: false,
      drag: { x: false, y: false },
      points: { show: false },
      sync: { key: "trends", scales: ["x", null] },
    },
    scales: {
      x: { time: false, range: () => [all.from_at, all.to_at] },
      y: { range: () => range(trend) },
    },
    series: [
      {},
      {
        paths: PATHS[trend.kind] || (() => null),
        points: { show: false },
        stroke: () => inks[trend.kind === "step" ? "ink" : "ink-2"],
        width: trend.kind === "step" ? 2 : 1.5,
      },
    ],
    axes: [
      {
        splits: () => all.ticks.map((tick) => tick.at),
        values: () => all.ticks.map((tick) => tick.text),
        stroke: () => inks["ink-3"],
        grid: { stroke: () => inks.hair, width: 1 },
        ticks: { show: false },
        border: { show: true, stroke: () => inks.hair, width: 1 },
        font: font(),
        gap: 6,
        size: 24,
      },
      {
        values: trend.kind === "strip" ? () => [] : undefined,
        stroke: () => inks["ink-3"],
        grid: { show: trend.kind !== "strip", stroke: () => inks.hair, width: 1 },
        ticks: { show: false },
        font: font(),
        gap: 8,
        size: LEFT_OF_PLOT,
        space: 26,
      },
    ],
    hooks: {
      drawClear: [under],
      draw: [trend.kind === "strip" ? lasting : over],
      setCursor: [tell],
    },
  });

  const draw = (holder, trend, height) => {
    const section = holder.closest(".trend");
    holder.hidden = false;
    section.classList.add("drawn");
    const measured = trend.kind === "point";
    const rows = measured
      ? [trend.points.map((point) => point.at), trend.points.map((point) => point.value)]
      : [trend.at, trend.values];
    const made = new uPlot(options(trend, holder.clientWidth, height), rows, (plot, begin) => {
      plot.trend = trend;
      plot.line = section.querySelector("[data-trend-said]");
      holder.append(plot.root);
      begin();
    });
    holder.setAttribute("role", "application");
    holder.setAttribute("aria-roledescription", "drawing");
    holder.setAttribute("aria-label", trend.summary);
    walk(made, holder);
    plots.push(made);
    new ResizeObserver(() => {
      if (holder.clientWidth) made.setSize({ width: holder.clientWidth, height });
    }).observe(holder);
  };

  mix();
  const strip = document.querySelector("[data-trend-events]");
  if (strip) {
    const points = all.events.map(({ at, said }) => ({ at, said, value: null, was: null }));
    const summary = "What happened, marked by number.";
    const row = { label: "What happened", kind: "strip", at: [], values: [], limits: [] };
    draw(strip, { ...row, points, summary }, 62);
  }
  for (const trend of all.series) {
    draw(document.querySelector(`[data-trend="${trend.key}"]`), trend, 150);
  }

  for (const words of document.querySelectorAll("[data-drawn-only]")) words.hidden = false;

  for (const wish of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) {
    matchMedia(wish).addEventListener("change", drawAnew);
  }
  matchMedia("(prefers-contrast: more)").addEventListener("change", drawAnew);
  const light = { attributes: true, attributeFilter: ["data-theme"] };
  new MutationObserver(drawAnew).observe(document.documentElement, light);
})();

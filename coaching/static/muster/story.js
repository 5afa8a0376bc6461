// Draws the story's charts from the figures in the page; the numbers stand in tables beside them.
(() => {
  "use strict";

  const figures = JSON.parse(document.getElementById("story-figures")?.textContent ?? "{}");
  const charts = [...document.querySelectorAll("[data-figure]")];
  const options = { displayModeBar: false, responsive: true, showTips: false };

  // Figures name the page's colours; the page knows what they are in light, in the dark and on paper.
  function colourFinder() {
    const probe = document.createElement("span");
    probe.hidden = true;
    document.body.append(probe);
    const known = new Map();
    const find = (name) => {
      if (!known.has(name)) {
        probe.style.color = name;
        known.set(name, getComputedStyle(probe).color);
      }
      return known.get(name);
    };
    return { find, done: () => probe.remove() };
  }

  function coloured(value, find) {
    if (typeof value === "string") return value.startsWith("var(--") ? find(value) : value;
    if (Array.isArray(value)) return value.map((one) => coloured(one, find));
    if (value === null || typeof value !== "object") return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, coloured(one, find)]));
  }

  // Numbers over bars need room; the table has them anyway.
  const isTooNarrow = (chart, trace) => trace.mode === "text" && chart.clientWidth < 600;

  function draw(chart) {
    const colours = colourFinder();
    const { data, layout } = coloured(figures[chart.dataset.figure], colours.find);
    colours.done();
    const shown = data.filter((trace) => !isTooNarrow(chart, trace));
    return Plotly.react(chart, shown, layout, options).then(() => scaleOnPaper(chart));
  }

  // On paper the drawing takes the width it gets there.
  function scaleOnPaper(chart) {
    for (const svg of chart.querySelectorAll(".main-svg")) {
      svg.setAttribute("viewBox", `0 0 ${svg.getAttribute("width")} ${svg.getAttribute("height")}`);
    }
    chart.dataset.drawn = "";
  }

  const isShown = (chart) => chart.offsetWidth > 0;
  const redraw = () => charts.filter((chart) => "drawn" in chart.dataset).forEach(draw);

  // One after the other, so that the page stays responsive meanwhile.
  async function drawAll(some) {
    for (const chart of some.filter((one) => isShown(one) && !("drawn" in one.dataset))) {
      await draw(chart);
      chart.on?.("plotly_afterplot", () => scaleOnPaper(chart));
      await new Promise((resolve) => setTimeout(resolve));
    }
  }

  // A fold may show drawings that had no room before, or change the room of those that are there.
  for (const fold of document.querySelectorAll("details")) {
    fold.addEventListener("toggle", () => {
      if (fold.open) drawAll(charts.filter((chart) => fold.contains(chart)));
      const chart = fold.parentElement.querySelector("[data-drawn]");
      if (chart && isShown(chart)) Plotly.Plots.resize(chart);
    });
  }
  for (const query of ["(prefers-color-scheme: dark)", "print"]) {
    matchMedia(query).addEventListener("change", redraw);
  }
  if (window.Plotly) drawAll(charts);
})();

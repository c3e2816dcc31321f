// The value of a plot's curves under finger or pointer, or by arrow keys. Plots say their scale in data-plot.

const BAR = "http://www.w3.org/2000/svg";

export function readPlots() {
  document.addEventListener("pointermove", (event) => follow(event));
  document.addEventListener("pointerdown", (event) => follow(event));
  document.addEventListener("pointerout", (event) => {
    const plot = event.target.closest?.("svg[data-plot]");
    if (plot && !plot.contains(event.relatedTarget)) clear(plot);
  });
}

function follow(event) {
  const plot = event.target.closest?.("svg[data-plot]");
  if (!plot) return;
  const scale = scaleOf(plot);
  if (!scale) return;
  const matrix = plot.getScreenCTM();
  if (!matrix) return;
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
  show(plot, scale, at.x);
}

const scales = new WeakMap();
function scaleOf(plot) {
  if (!scales.has(plot)) {
    try {
      scales.set(plot, JSON.parse(plot.dataset.plot));
    } catch {
      scales.set(plot, null);
    }
  }
  return scales.get(plot);
}

function show(plot, scale, xMm) {
  const [left, top, width, height] = scale.rect;
  const share = Math.min(1, Math.max(0, (xMm - left) / width));
  const x = scale.x.from + share * (scale.x.to - scale.x.from);
  bar(plot, left + share * width, top, height);
  const lines = [scale, scale.below].filter(Boolean).flatMap((part) => part.series
    .map((series) => [series.name, valueAt(series.points, x)])
    .filter(([name, y]) => name && y !== null)
    .map(([name, y]) => `${name} ${text(y, part.y)}`));
  tell(plot, `${text(x, scale.x)}`, lines);
}

function text(value, axis) {
  const number = value.toFixed(axis.decimals).replace("-", "\u2212");
  return axis.unit === "°" ? `${number}°` : `${number}\u202f${axis.unit}`;
}

function valueAt(points, x) {
  for (let i = 1; i < points.length; i += 1) {
    const [[x0, y0], [x1, y1]] = [points[i - 1], points[i]];
    if ((x0 <= x && x <= x1) || (x1 <= x && x <= x0)) {
      return x1 === x0 ? y1 : y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);
    }
  }
  return null;
}

function bar(plot, x, top, height) {
  let line = plot.querySelector(".reading");
  if (!line) {
    line = document.createElementNS(BAR, "line");
    line.setAttribute("class", "line measure reading");
    plot.append(line);
  }
  for (const [name, value] of [["x1", x], ["x2", x], ["y1", top], ["y2", top + height]]) line.setAttribute(name, value);
}

function tell(plot, head, lines) {
  const figure = plot.parentElement;
  const box = figure.querySelector(".read");
  if (!box) return;
  const strong = document.createElement("b");
  strong.textContent = head;
  box.replaceChildren(strong, ` ${lines.join(" · ")}`);
}

function clear(plot) {
  plot.querySelector(".reading")?.remove();
  plot.parentElement.querySelector(".read")?.replaceChildren();
}

// Sliders redraw valve gear and port. The program draws; this asks for the drawing and puts it in place.

const FULL_SWEEP_MS = 5000;

export function moveDrawings() {
  const section = document.querySelector("[data-drawing]");
  if (!section) return;
  const form = section.querySelector("form");
  const redraw = latestOnly(async (signal) => {
    const query = new URLSearchParams(new FormData(form));
    const answer = await fetch(`${section.dataset.drawing}?${query}`, { signal });
    if (answer.ok) swap(section, await answer.text());
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => {
    showValues(form);
    redraw();
  });
  for (const button of form.querySelectorAll("[data-play]")) playWith(button, form, redraw);
}

function showValues(form) {
  for (const output of form.querySelectorAll("output")) {
    const slider = form.elements[output.htmlFor.value];
    output.textContent = `${Number(slider.value).toFixed(Number(output.dataset.decimals))}${output.dataset.unit ?? "°"}`;
  }
}

// Like for like: text keeps its live region, pictures keep their place, nothing else is touched.
function swap(section, html) {
  const fresh = document.createElement("template");
  fresh.innerHTML = html;
  for (const part of fresh.content.querySelectorAll("[data-part]")) {
    const old = section.querySelector(`[data-part="${part.dataset.part}"]`);
    if (!old) continue;
    if (part.dataset.part === "told") {
      if (old.textContent !== part.textContent) old.textContent = part.textContent;
    } else {
      // The readout under a plot stays, with what it last said. A part may also have come empty.
      const [before, after] = [old.querySelector("svg"), part.querySelector("svg")];
      if (before && after) before.replaceWith(after);
      else old.replaceChildren(...part.childNodes);
    }
  }
}

// One request at a time; while it runs only the newest wish waits.
function latestOnly(task) {
  let running = false;
  let again = false;
  return async function run() {
    if (running) {
      again = true;
      return;
    }
    running = true;
    try {
      await task(AbortSignal.timeout(10000));
    } catch {
      // The program was stopped: the last drawing stays.
    } finally {
      running = false;
      if (again) {
        again = false;
        run();
      }
    }
  };
}

// Actuator travel goes to and fro, the crank turns on.
function playWith(button, form, redraw) {
  const slider = form.elements[button.dataset.play];
  const toAndFro = button.dataset.play === "travel";
  let frame = 0;
  let last = 0;
  let direction = 1;
  let value = 0;
  const stop = () => {
    cancelAnimationFrame(frame);
    frame = 0;
    button.setAttribute("aria-pressed", "false");
  };
  const step = (now) => {
    const high = Number(slider.max);
    value += direction * high * ((now - last) / (Number(button.dataset.sweepMs) || FULL_SWEEP_MS));
    last = now;
    if (value > high) [value, direction] = toAndFro ? [high, -1] : [value - high, 1];
    if (value < 0) [value, direction] = [0, 1];
    slider.value = String(value);
    showValues(form);
    redraw();
    frame = requestAnimationFrame(step);
  };
  button.addEventListener("click", () => {
    if (frame) return stop();
    value = Number(slider.value);
    if (toAndFro && value >= Number(slider.max)) direction = -1;
    last = performance.now();
    button.setAttribute("aria-pressed", "true");
    frame = requestAnimationFrame(step);
  });
  slider.addEventListener("pointerdown", stop);
  slider.addEventListener("keydown", stop);
}

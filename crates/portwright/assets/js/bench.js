// Small helps at the bench: a timer that types what it took, and answers to questions about odd readings.

export function workAtTheBench() {
  for (const button of document.querySelectorAll("[data-timer]")) takeTime(button);
  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-confirms]");
    if (button) confirmReading(button);
  });
  for (const chooser of document.querySelectorAll("[data-reads]")) readFile(chooser);
  const ranking = document.querySelector("[data-ranking]");
  if (ranking) document.addEventListener("saved", () => rankAgain(ranking));
}

// Folded parts that were opened stay open; a ranking that comes late and is overtaken is dropped.
let newest = 0;
async function rankAgain(ranking) {
  const mine = ++newest;
  const answer = await fetch(ranking.dataset.ranking);
  if (!answer.ok || mine !== newest) return;
  const open = [...ranking.querySelectorAll("details")].map((part) => part.open);
  ranking.innerHTML = await answer.text();
  ranking.querySelectorAll("details").forEach((part, at) => { part.open = open[at] ?? false; });
}

function takeTime(button) {
  const words = button.textContent;
  let from = null;
  let ticking = 0;
  const seconds = () => ((performance.now() - from) / 1000).toFixed(1);
  button.addEventListener("click", () => {
    if (from === null) {
      from = performance.now();
      ticking = setInterval(() => { button.textContent = `Stop: ${seconds()} s`; }, 100);
      return;
    }
    clearInterval(ticking);
    const field = document.getElementById(button.dataset.timer);
    // A hand on a button is good for about a fifth of a second.
    field.value = `${seconds()} \u00b1 0.2 s`;
    from = null;
    button.textContent = words;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  });
}

// The confirmation is an entry of its own; what was read stays as it was written.
async function confirmReading(button) {
  const form = button.closest("form");
  const body = new URLSearchParams({ key: button.dataset.confirms, text: "yes", version: "", step: form.dataset.step });
  const answer = await fetch(form.dataset.save, { method: "POST", body });
  if (answer.ok) location.reload();
}

// The file of a meter goes into the field as text, where it can be looked at and is saved like everything else.
function readFile(chooser) {
  chooser.addEventListener("change", async () => {
    const [file] = chooser.files;
    if (!file) return;
    const field = document.getElementById(chooser.dataset.reads);
    field.value = await file.text();
    for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
  });
}

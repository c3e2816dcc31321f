// Line numbers that keep up with the text, and links that go to a line.

export function numberLines() {
  const text = document.querySelector(".lines textarea");
  if (!text) return;
  const gutter = document.querySelector(".gutter");
  text.addEventListener("input", () => number(text, gutter));
  for (const link of document.querySelectorAll("[data-line]")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      goTo(text, Number(link.dataset.line));
    });
  }
}

function number(text, gutter) {
  const rows = text.value.split("\n").length + 1;
  if (text.rows === rows) return;
  text.rows = rows;
  // Marks of errors would now stand beside the wrong lines.
  gutter.textContent = Array.from({ length: rows }, (_, i) => `${i + 1}\n`).join("");
}

function goTo(text, line) {
  const lines = text.value.split("\n");
  const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
  text.focus({ preventScroll: true });
  text.setSelectionRange(start, start + (lines[line - 1] ?? "").length);
  const height = text.getBoundingClientRect().height / text.rows;
  const top = text.getBoundingClientRect().top + scrollY + (line - 1) * height;
  scrollTo({ top: top - innerHeight / 3, behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
}

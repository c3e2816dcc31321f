// Long parts are open where there is room, and always on paper.

export function openForPaper() {
  if (matchMedia("(min-width: 860px)").matches) {
    for (const details of document.querySelectorAll("details.wide-open")) details.open = true;
  }
  addEventListener("beforeprint", () => {
    for (const details of document.querySelectorAll("details")) details.open = true;
  });
  for (const button of document.querySelectorAll("[data-print]")) {
    button.addEventListener("click", () => print());
  }
}

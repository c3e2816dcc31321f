// Long parts are open where there is room, where a link leads to them, and always on paper.

export function openForPaper() {
  if (matchMedia("(min-width: 860px)").matches) {
    for (const details of document.querySelectorAll("details.wide-open")) details.open = true;
  }
  const unfold = () => {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const details = target && (target.closest("details") ?? target.querySelector("details"));
    if (details) details.open = true;
  };
  addEventListener("hashchange", unfold);
  unfold();
  addEventListener("beforeprint", () => {
    for (const details of document.querySelectorAll("details")) details.open = true;
  });
  // What is printed is kept, with the inputs that made it.
  const keep = document.querySelector("[data-keep]");
  if (keep) addEventListener("afterprint", () => fetch(keep.dataset.keep, { method: "POST", redirect: "manual", keepalive: true }).catch(() => {}));
  for (const button of document.querySelectorAll("[data-print]")) {
    button.addEventListener("click", () => print());
  }
}

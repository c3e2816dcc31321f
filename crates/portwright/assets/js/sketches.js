// The drawing of what a field asks for comes when it is needed: in sight where there is room, or with the field.

export function drawSketches() {
  const sketches = [...document.querySelectorAll("details[data-sketch]")];
  if (!sketches.length) return;
  const wide = matchMedia("(min-width: 780px)").matches;
  const seen = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target } of entries) {
      if (!isIntersecting) continue;
      seen.unobserve(target);
      target.open = true;
    }
  }, { rootMargin: "400px" });
  for (const sketch of sketches) {
    sketch.addEventListener("toggle", () => sketch.open && fill(sketch));
    const field = sketch.closest(".field");
    field.addEventListener("focusin", (event) => event.target.matches("[data-key]") && (sketch.open = true));
    field.addEventListener("saved", () => sketch.open && fill(sketch, true));
    if (wide) seen.observe(sketch);
  }
}

async function fill(sketch, again = false) {
  const room = sketch.querySelector(".sketch-room");
  if (room.childElementCount && !again) return;
  try {
    const answer = await fetch(sketch.dataset.sketch);
    if (answer.ok) room.innerHTML = await answer.text();
  } catch {
    // The program is away: the words beside the field say it too.
  }
}

// Long work: asks how far it is until it has ended, then loads the page with what came of it.

const BETWEEN_MS = 500;

export function watchProgress() {
  const place = document.querySelector("[data-progress]");
  if (!place) return;
  const ask = async () => {
    try {
      const answer = await fetch(place.dataset.progress, { signal: AbortSignal.timeout(10000) });
      if (answer.ok) {
        const fresh = document.createElement("template");
        fresh.innerHTML = await answer.text();
        if (fresh.content.querySelector("[data-ended]")) return location.reload();
        // The bar stays the same element, so that it is not read out anew each time.
        const [bar, next] = [place.querySelector("progress"), fresh.content.querySelector("progress")];
        const [words, said] = [place.querySelector("p"), fresh.content.querySelector("p")];
        if (bar && next) bar.value = next.value;
        if (words && said && words.textContent !== said.textContent) words.textContent = said.textContent;
      }
    } catch {
      // The program was stopped: what was run is kept; the page waits for it to come back.
    }
    setTimeout(ask, BETWEEN_MS);
  };
  setTimeout(ask, BETWEEN_MS);
}

// Texts that the program has not confirmed yet wait here, in the browser's own store, until it has.

const PREFIX = "portwright.unsent ";

const nameOf = (address, key) => `${PREFIX}${address} ${key}`;

// Some browsers refuse the store (private windows): then the page itself holds the text.
function guarded(act) {
  try {
    return act();
  } catch {
    return null;
  }
}

export function keepUnsent(address, key, entry) {
  guarded(() => localStorage.setItem(nameOf(address, key), JSON.stringify(entry)));
}

export function unsentOf(address, key) {
  return guarded(() => JSON.parse(localStorage.getItem(nameOf(address, key))));
}

export function dropUnsent(address, key) {
  guarded(() => localStorage.removeItem(nameOf(address, key)));
}

export async function send(address, key, { text, version, step }, keepalive = false) {
  const body = new URLSearchParams({ key, text, version, step });
  const answer = await fetch(address, { method: "POST", body, keepalive, signal: AbortSignal.timeout(10000) });
  return { status: answer.status, told: answer.ok ? await answer.json() : null };
}

// What was typed on another page while the program was away is sent from here; a clash waits for its own page.
export async function sendLeftovers() {
  const names = guarded(() => Object.keys(localStorage).filter((name) => name.startsWith(PREFIX))) ?? [];
  for (const name of names) {
    const [address, key] = name.slice(PREFIX.length).split(" ");
    if (document.querySelector(`form[data-save="${address}"] [data-key="${key}"]`)) continue;
    const entry = unsentOf(address, key);
    if (!entry) continue;
    try {
      const { status, told } = await send(address, key, entry);
      // A job card that is gone for good takes nothing any more.
      if ((told && !told.clash) || status === 404) dropUnsent(address, key);
    } catch {
      return;
    }
  }
}

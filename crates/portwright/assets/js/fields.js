// Each entry is saved as it is left. What the program has not confirmed waits in the browser and is sent again.
import { dropUnsent, keepUnsent, send, unsentOf } from "./unsent.js";

const STILL_MS = 1500;
const AGAIN_MS = 4000;

export function saveFields() {
  const form = document.querySelector("form[data-save]");
  if (!form) return;
  const page = {
    form,
    address: form.dataset.save,
    step: form.dataset.step,
    status: form.querySelector("#saved"),
    waiting: new Set(),
    busy: new Set(),
    timers: new Map(),
  };
  for (const control of controlsOf(form)) watch(page, control);
  typeWithButtons(form);
  addEventListener("online", () => sendWaiting(page));
  setInterval(() => sendWaiting(page), AGAIN_MS);
  addEventListener("pagehide", () => sendLast(page));
  focusTarget();
}

const versionOf = (page, control) => page.form.elements[`v:${control.dataset.key}`];
const entryOf = (page, control) => ({ text: textOf(control), version: versionOf(page, control).value, step: page.step });
const isSaved = (control) => textOf(control) === control.dataset.saved;

// A box says yes or nothing; of several choices the chosen one speaks for all.
function textOf(control) {
  if (control.type === "checkbox") return control.checked ? control.value : "";
  if (control.type === "radio") return choicesOf(control).find((choice) => choice.checked)?.value ?? "";
  return control.value;
}

function setText(control, text) {
  if (control.type === "checkbox") control.checked = text === control.value;
  else if (control.type === "radio") for (const choice of choicesOf(control)) choice.checked = choice.value === text;
  else control.value = text;
}

const choicesOf = (control) => [...control.form.elements].filter((other) => other.type === "radio" && other.name === control.name);

// Of several choices the first stands for all.
function controlsOf(form) {
  const seen = new Set();
  return [...form.elements].filter((control) => {
    const key = control.dataset.key;
    if (!key || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function watch(page, control) {
  const key = control.dataset.key;
  const left = unsentOf(page.address, key);
  if (left && left.text !== control.dataset.saved) {
    setText(control, left.text);
    versionOf(page, control).value = left.version;
    save(page, control);
  } else if (left) {
    dropUnsent(page.address, key);
  }
  for (const part of control.type === "radio" ? choicesOf(control) : [control]) {
    part.addEventListener("input", () => {
      keepUnsent(page.address, key, entryOf(page, control));
      clearTimeout(page.timers.get(key));
      page.timers.set(key, setTimeout(() => save(page, control), STILL_MS));
    });
    part.addEventListener("change", () => save(page, control));
    part.addEventListener("blur", () => save(page, control));
  }
}

async function save(page, control) {
  const key = control.dataset.key;
  clearTimeout(page.timers.get(key));
  if (isSaved(control)) {
    dropUnsent(page.address, key);
    page.waiting.delete(control);
    return;
  }
  // One at a time for each entry, so that versions come in their order.
  if (page.busy.has(key) || control.dataset.clash) return;
  const entry = entryOf(page, control);
  keepUnsent(page.address, key, entry);
  page.busy.add(key);
  say(page, "Saving …");
  try {
    const { status, told } = await send(page.address, key, entry);
    if (told) take(page, control, entry, told);
    else refuse(page, control, status);
  } catch {
    page.waiting.add(control);
    say(page, "The program does not answer. What you typed is kept in this browser and is sent when it answers again.", true);
  } finally {
    page.busy.delete(key);
  }
  if (!isSaved(control) && !page.waiting.has(control)) {
    page.timers.set(key, setTimeout(() => save(page, control), STILL_MS));
  }
}

function take(page, control, entry, told) {
  page.waiting.delete(control);
  if (told.clash) {
    askWhich(page, control, told);
    return;
  }
  control.dataset.saved = entry.text;
  versionOf(page, control).value = told.version;
  if (textOf(control) === entry.text) dropUnsent(page.address, control.dataset.key);
  showNotes(page.form, told.notes);
  control.dispatchEvent(new Event("saved", { bubbles: true }));
  say(page, page.waiting.size ? `${page.waiting.size} entries are still to be sent.` : "Saved.");
}

function refuse(page, control, status) {
  // Asking again would not help; the text stays in the field and in the browser.
  if (status >= 500) page.waiting.add(control);
  else control.dataset.saved = textOf(control);
  say(page, `This entry was not saved (answer ${status}). Your text stands in the field; load the page again.`, true);
}

function sendWaiting(page) {
  for (const control of [...page.waiting]) save(page, control);
}

// The page is being left: a last word for what was typed a moment ago.
function sendLast(page) {
  for (const control of controlsOf(page.form)) {
    if (isSaved(control) || control.dataset.clash) continue;
    send(page.address, control.dataset.key, entryOf(page, control), true).catch(() => {});
  }
}

function showNotes(form, notes) {
  for (const [key, [html, applies]] of Object.entries(notes)) {
    const row = document.querySelector(`[data-field="${key}"]`);
    if (!row) continue;
    row.hidden = !applies;
    const note = row.querySelector(".note");
    // A clash that waits for an answer stays; a note that says the same is not read out again.
    if (note.querySelector(".clash") || note.dataset.html === html) continue;
    note.dataset.html = html;
    note.innerHTML = html;
    const control = row.querySelector("[data-key]");
    if (!control) continue;
    if (note.querySelector(".said.bad")) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
  }
}

function askWhich(page, control, told) {
  const note = control.closest(".field").querySelector(".note");
  control.dataset.clash = "yes";
  const box = document.createElement("div");
  box.className = "clash";
  const words = document.createElement("p");
  words.textContent = `Changed elsewhere on ${told.clash.when}. There it says \u201c${told.clash.text}\u201d; yours is \u201c${textOf(control)}\u201d.`;
  const choose = (label, act) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button";
    button.textContent = label;
    button.addEventListener("click", () => {
      delete control.dataset.clash;
      box.remove();
      versionOf(page, control).value = told.version;
      control.dataset.saved = told.clash.text;
      act();
      note.dataset.html = "";
      if (isSaved(control)) {
        dropUnsent(page.address, control.dataset.key);
        showNotes(page.form, told.notes);
      } else save(page, control);
      control.focus();
    });
    return button;
  };
  const buttons = document.createElement("p");
  buttons.className = "actions";
  buttons.append(choose("Keep mine", () => {}), choose("Take theirs", () => setText(control, told.clash.text)));
  box.append(words, buttons);
  note.replaceChildren(box);
  say(page, "An entry was changed elsewhere. Choose which text stays.", true);
}

function typeWithButtons(form) {
  for (const button of form.querySelectorAll("[data-types]")) {
    // The field keeps the focus, so that the keyboard of a phone stays open.
    button.addEventListener("pointerdown", (event) => event.preventDefault());
    button.addEventListener("click", () => {
      const control = document.getElementById(button.dataset.types);
      control.value = typed(control.value, button.dataset);
      control.dispatchEvent(new Event("input", { bubbles: true }));
      control.focus();
    });
  }
}

function typed(text, { insert, whole, listed }) {
  if (whole !== undefined) return insert;
  if (listed !== undefined) return text.trim() ? `${text.trimEnd().replace(/,$/, "")}, ${insert}` : insert;
  // The minus stands first, whenever it is pressed.
  if (insert === "\u2212") return text.startsWith("\u2212") ? text.slice(1) : `\u2212${text}`;
  return `${text.trimEnd()}${insert}`;
}

function focusTarget() {
  const target = document.getElementById(location.hash.slice(1));
  if (!target?.matches("[data-key]")) return;
  target.closest("details")?.setAttribute("open", "");
  target.focus();
}

function say(page, words, bad = false) {
  page.status.textContent = words;
  page.status.classList.toggle("bad", bad);
}

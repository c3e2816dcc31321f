// An engine file may be dropped anywhere on a page that has a field for one.

export function takeDrops() {
  const form = document.querySelector(".chooser");
  if (!form) return;
  const field = form.querySelector("input[type=file]");
  const root = document.documentElement;
  let inside = 0;
  const hasFile = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  const leave = () => {
    inside = 0;
    root.classList.remove("dropping");
  };
  addEventListener("dragenter", (event) => {
    if (!hasFile(event)) return;
    inside += 1;
    root.classList.add("dropping");
  });
  addEventListener("dragleave", (event) => {
    if (hasFile(event) && (inside -= 1) <= 0) leave();
  });
  addEventListener("dragover", (event) => {
    if (hasFile(event)) event.preventDefault();
  });
  addEventListener("drop", (event) => {
    if (!hasFile(event)) return;
    event.preventDefault();
    leave();
    field.files = event.dataTransfer.files;
    form.requestSubmit();
  });
  // A file that was chosen is meant to be read.
  field.addEventListener("change", () => field.files.length && form.requestSubmit());
}

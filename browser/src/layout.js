// Faults of layout that can be measured on the page; `smallest` is the least height of a control in pixels.
(smallest) => {
  const faults = [];
  const name = (node) => {
    const words = (node.textContent || "").trim().replace(/\s+/g, " ").slice(0, 40);
    const id = node.id ? "#" + node.id : "";
    return node.tagName.toLowerCase() + id + (words ? ` "${words}"` : "");
  };
  const shown = (node) => node.checkVisibility({ visibilityProperty: true, opacityProperty: true });

  const page = document.documentElement;
  if (page.scrollWidth > page.clientWidth) {
    faults.push(`the page is ${page.scrollWidth} px wide in a window of ${page.clientWidth} px`);
    for (const node of document.querySelectorAll("body *")) {
      const right = node.getBoundingClientRect().right + window.scrollX;
      if (shown(node) && right > page.clientWidth + 1 && !node.closest("svg svg, svg *")) {
        faults.push(`reaches to ${Math.round(right)} px: ${name(node)}`);
        if (faults.length > 8) break;
      }
    }
  }

  for (const node of document.querySelectorAll("button, select, summary, input:not([type=hidden]), a[role=button]")) {
    // A box to tick may be small when the label around it is not.
    const own = node.getBoundingClientRect();
    const label = node.closest("label");
    const height = Math.max(own.height, label ? label.getBoundingClientRect().height : 0);
    const hidden = getComputedStyle(node).position === "absolute" && own.width <= 1;
    if (shown(node) && !hidden && own.height > 0 && height < smallest) {
      faults.push(`only ${Math.round(height)} px high, at least ${smallest} needed: ${name(node)}`);
    }
  }

  for (const picture of document.querySelectorAll("svg")) {
    const frame = picture.getBoundingClientRect();
    if (!shown(picture) || frame.width === 0) continue;
    for (const text of picture.querySelectorAll("text")) {
      const box = text.getBoundingClientRect();
      const out = Math.max(frame.left - box.left, box.right - frame.right, frame.top - box.top, box.bottom - frame.bottom);
      if (box.width > 0 && out > 1.5) faults.push(`${out.toFixed(1)} px outside its drawing: ${name(text)}`);
    }
  }

  for (const node of document.querySelectorAll("p, li, td, th, label, button, summary, h1, h2, h3, dt, dd, input, select")) {
    if (shown(node) && parseFloat(getComputedStyle(node).fontSize) < 12) faults.push(`smaller than 12 px: ${name(node)}`);
  }
  return faults;
};

// Small helpers for the document. Text reaches it through textContent and no other way.

export const byId = (id) => document.getElementById(id);

export function make(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "on") for (const [name, act] of Object.entries(value)) node.addEventListener(name, act);
    else if (value === true) node.setAttribute(key, "");
    else if (value !== false && value !== null) node.setAttribute(key, value);
  }
  node.append(...children);
  return node;
}

// Set text only where it changed, so that a screen reader is not told the same again.
export function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

export function button(text, act, spoken = null) {
  return make("button", { type: "button", "aria-label": spoken, on: { click: act } }, text);
}

export function later(act, milliseconds) {
  let waiting = 0;
  return (...given) => {
    clearTimeout(waiting);
    waiting = setTimeout(() => act(...given), milliseconds);
  };
}

// Places in a text come counted in whole characters, as Python counts them.
export const letters = (text) => Array.from(text);

export function replaced(text, start, end, by) {
  const all = letters(text);
  return all.slice(0, start).join("") + by + all.slice(end).join("");
}

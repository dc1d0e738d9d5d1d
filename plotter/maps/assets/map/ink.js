// Small helpers to draw in SVG. Text reaches the page through textContent and no other way.

const SVG_NAMESPACE = "http://www.w3.org/2000/svg";

export function ink(parent, name, attributes = {}, text = null) {
  const node = document.createElementNS(SVG_NAMESPACE, name);
  for (const key in attributes) node.setAttribute(key, attributes[key]);
  if (text !== null) node.textContent = text;
  parent.appendChild(node);
  return node;
}

export function wipe(node) {
  while (node.firstChild) node.removeChild(node.firstChild);
}

export function one(value) {
  return Math.round(value * 10) / 10;
}

const pencil = document.createElement("canvas").getContext("2d");
const widths = new Map();

// Width of a word as it will be lettered [px]; measured once a word and font.
export function widthOf(text, font) {
  const key = font + "|" + text;
  if (!widths.has(key)) {
    pencil.font = font;
    widths.set(key, pencil.measureText(text).width);
  }
  return widths.get(key);
}

export function pairs(flat) {
  const points = [];
  for (let i = 0; i < flat.length; i += 2) points.push([flat[i], flat[i + 1]]);
  return points;
}

export function stillPlease() {
  return window.matchMedia("(prefers-reduced-motion: reduce)").matches;
}

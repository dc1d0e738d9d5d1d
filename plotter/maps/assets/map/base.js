// The offline base: cells of whole-number coordinates, drawn from the coarsest tier to the finest.

const ALPHABET = Array.from({ length: 95 }, (_, i) => String.fromCharCode(32 + i))
  .filter((letter) => !'"\\<>&'.includes(letter)).join("");
const DIGIT = new Map([...ALPHABET].map((letter, digit) => [letter, digit]));
const BASE = 45;

// Text of whole numbers: base 45, lowest digit first, 45 and over where more digits follow.
function numbers(text) {
  const found = [];
  let value = 0, place = 1;
  for (const letter of text) {
    const digit = DIGIT.get(letter);
    value += (digit % BASE) * place;
    place *= BASE;
    if (digit < BASE) {
      found.push(value % 2 ? -(value + 1) / 2 : value / 2);
      value = 0;
      place = 1;
    }
  }
  return found;
}

// A ring or line is x0, y0, dx1, dy1, ... in units of a degree, x east and y north.
export function unpack(text) {
  const flat = numbers(text), points = [];
  let x = 0, y = 0;
  for (let i = 0; i < flat.length; i += 2) points.push([(y += flat[i + 1]), (x += flat[i])]);
  return points;
}

// The edge of an area without the sides that only its cutting made: those straight along one of
// the lines the cell was cut at (to 3 units, the hair by which cells overlap).
function edge(ring, cell) {
  const cut = (a, b, axis, lines) => a[axis] === b[axis] && lines.some((at) => Math.abs(at - a[axis]) <= 3);
  const runs = [];
  let open = null;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i], b = ring[(i + 1) % ring.length];
    if (cut(a, b, 1, cell.x) || cut(a, b, 0, cell.y)) open = null;
    else if (open) open.push(b);
    else runs.push((open = [a, b]));
  }
  return runs;
}

function rectangle([south, west, north, east]) {
  return [[south, west], [south, east], [north, east], [north, west]];
}

// One tier as lists of shapes a layer; areas stay apart by cell, so cells may overlap.
export function readTier(tier, turns) {
  const read = { box: tier.box, land: [], lake: [], coast: [], shore: [], river: [], state: [], border: [] };
  for (const cell of tier.cells) {
    for (const name in cell.layers) {
      const shapes = cell.layers[name].map(unpack);
      const line = { land: "coast", lake: "shore" }[name];
      for (const turn of turns) {
        const place = (points) => points.map(([y, x]) => [y * tier.unit, x * tier.unit + cell.shift + turn]);
        if (line) {
          read[name].push(shapes.map(place));
          for (const ring of shapes) read[line].push(...edge(ring, cell).map(place));
        } else {
          read[name].push(...shapes.map(place));
        }
      }
    }
  }
  return read;
}

export function drawTier(map, read, pen) {
  const area = (shape, name) => L.polygon(shape, { ...pen, className: "base " + name }).addTo(map);
  const lines = (shape, name) => {
    if (shape.length) L.polyline(shape, { ...pen, className: "base " + name }).addTo(map);
  };
  if (read.box) area(rectangle(read.box), "sea");
  lines(read.coast, "shallows");
  for (const rings of read.land) area(rings, "land");
  for (const rings of read.lake) area(rings, "lake");
  lines(read.shore, "shore");
  lines(read.river, "river");
  lines(read.state, "state");
  lines(read.border, "border");
  lines(read.coast, "coast");
}

export function drawBase(map, base, middle) {
  map.createPane("base").style.zIndex = 200;
  const pen = {
    renderer: L.svg({ pane: "base", padding: 0.35 }), pane: "base", interactive: false,
    smoothFactor: 0.8, fillRule: "evenodd",
  };
  for (const tier of base.layers) {
    drawTier(map, readTier(tier, tier.box ? [0] : turnsFor(tier, middle)), pen);
  }
}

// The world is drawn twice, so that there is land on either side as far as the map can pan.
function turnsFor(tier, middle) {
  const home = tier.cells.length ? tier.cells[0].shift : 0;
  return [0, middle >= home ? 360 : -360];
}

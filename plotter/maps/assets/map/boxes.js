// Turned boxes on the sheet, and whether a new one would lie on an old one.

const CELL = 64;

export function box(x, y, width, height, degrees = 0) {
  const turn = (degrees * Math.PI) / 180;
  const ux = (Math.cos(turn) * width) / 2, uy = (Math.sin(turn) * width) / 2;
  const vx = (-Math.sin(turn) * height) / 2, vy = (Math.cos(turn) * height) / 2;
  const reachX = Math.abs(ux) + Math.abs(vx), reachY = Math.abs(uy) + Math.abs(vy);
  return {
    turn, width, height, x, y, axes: turn ? axes(turn) : null,
    left: x - reachX, right: x + reachX, top: y - reachY, bottom: y + reachY,
    corners: [
      [x + ux + vx, y + uy + vy], [x + ux - vx, y + uy - vy],
      [x - ux - vx, y - uy - vy], [x - ux + vx, y - uy + vy],
    ],
  };
}

function axes(turn) {
  return [turn, turn + Math.PI / 2].map((angle) => [Math.cos(angle), Math.sin(angle)]);
}

const UPRIGHT = [[1, 0], [0, 1]];

// Separating axes: two convex shapes are apart if some side of one has the other beyond it.
function apartAlong(a, b) {
  let across = a.width / 2;
  for (const [cos, sin] of a.axes || UPRIGHT) {
    const middle = a.x * cos + a.y * sin;
    let low = Infinity, high = -Infinity;
    for (const [x, y] of b.corners) {
      const at = x * cos + y * sin - middle;
      low = Math.min(low, at);
      high = Math.max(high, at);
    }
    if (low >= across || high <= -across) return true;
    across = a.height / 2;
  }
  return false;
}

function touching(a, b) {
  if (a.left >= b.right || b.left >= a.right || a.top >= b.bottom || b.top >= a.bottom) return false;
  if (!a.axes && !b.axes) return true; // neither is turned
  return !apartAlong(a, b) && !apartAlong(b, a);
}

export class Boxes {
  constructor() {
    this.cells = new Map();
  }

  *keys(item) {
    for (let i = Math.floor(item.left / CELL); i <= Math.floor(item.right / CELL); i++) {
      for (let j = Math.floor(item.top / CELL); j <= Math.floor(item.bottom / CELL); j++) {
        yield i + ":" + j;
      }
    }
  }

  add(item, owner = null) {
    item.owner = owner;
    for (const key of this.keys(item)) {
      if (!this.cells.has(key)) this.cells.set(key, []);
      this.cells.get(key).push(item);
    }
  }

  // What lies beneath, apart from what belongs to `owner`.
  *under(item, owner) {
    for (const key of this.keys(item)) {
      for (const other of this.cells.get(key) || []) {
        if ((owner === null || other.owner !== owner) && touching(item, other)) yield other;
      }
    }
  }

  free(item, owner = null) {
    return this.under(item, owner).next().done;
  }

  beneath(item, owner = null) {
    return new Set(this.under(item, owner)).size;
  }

  take(item, owner = null) {
    if (!this.free(item, owner)) return false;
    this.add(item, owner);
    return true;
  }
}

// What a plan says of single legs stays with its leg when points come and go.

// One altitude a leg: where a leg comes or goes, its altitude does too.
export function heights(given, edit) {
  const all = Array.isArray(given) ? [...given] : null;
  if (!all || !edit || !all.length) return given;
  const at = Math.max(0, Math.min(edit.index - (edit.kind === "remove" ? 0 : 1), all.length - 1));
  if (edit.kind === "insert" || edit.kind === "write-in") all.splice(at, 0, all[at]);
  else if (edit.kind === "remove" && all.length > 1) all.splice(at, 1);
  else if (edit.kind === "reverse") all.reverse();
  return all;
}

// Figures typed for a leg keep to the stretch between its two points; where one of these changes
// they are left out, for a course or distance of another stretch would be wrong.
export function notes(rows, edit, points) {
  if (!Array.isArray(rows) || !edit) return rows;
  return rows.map((row) => ({ ...row, number: after(row.number, edit, points) })).filter((row) => row.number);
}

function after(leg, { kind, index }, points) {
  if (kind === "name") return leg;
  if (kind === "move" || kind === "write") return leg === index || leg === index + 1 ? null : leg;
  if (kind === "remove") {
    if (leg === index || leg === index + 1) return null;
    return leg > index ? leg - 1 : leg;
  }
  if (kind === "insert" || kind === "write-in") {
    if (leg === index && index < points) return null;
    return leg >= index && index < points ? leg + 1 : leg;
  }
  return null;
}

// In words, for the pilot to see which leg is meant.
export function said(rows, words) {
  return (Array.isArray(rows) ? rows : []).map(({ number, ...keys }) => {
    const stretch = words[number] ? `, ${words[number - 1]} to ${words[number]}` : ", which is not on the route";
    return `Typed for leg ${number}${stretch}: ${Object.entries(keys).map(([key, value]) => `${key} = ${value}`).join(", ")}`;
  });
}

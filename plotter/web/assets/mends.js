// What mends a fault of the plan that came with a change of the route, in one press.

const named = (word) => word.split("=")[0].toUpperCase();

// The words of the button and the plan as it makes it; null where there is no such way.
export function mend(key, value, { words, legs }) {
  if (key === "flight.cruise_altitude_ft") return heightsFor(value, legs.length);
  const [, table, number] = /^(weather|stop)\.(\d+)(?:\.point)?$/.exec(key) || [];
  const rows = table ? value[table] : null, row = rows?.[number - 1];
  if (!row?.point || words.some((word) => named(word) === named(row.point))) return null;
  const { [table]: old, ...rest } = value, left = rows.filter((each) => each !== row);
  return {
    text: `Take the ${table} ${table === "stop" ? "at" : "of"} ${row.point} out of the plan`,
    value: left.length ? { ...rest, [table]: left } : rest,
  };
}

// As many altitudes as legs: the last again for those that came, none for those that are gone.
function heightsFor(value, count) {
  const all = value.flight.cruise_altitude_ft;
  if (!Array.isArray(all) || !all.length || !count || all.length === count) return null;
  const next = Array.from({ length: count }, (_, index) => all[Math.min(index, all.length - 1)]);
  return { text: `Write ${next.join(" ")}`, value: { ...value, flight: { ...value.flight, cruise_altitude_ft: next } } };
}

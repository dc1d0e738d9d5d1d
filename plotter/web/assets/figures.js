// A figure as it is typed, for every field that takes one. What could be read in two ways is refused.

const PLAIN = /^[+-]?(\d+(\.\d+)?|\.\d+)$/;
const THOUSANDS = /^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/;
const LISTED = /[\s;]+|,\s+/;

// { value, text } for a figure, {} for nothing, { wrong } with what to type instead. `whole` is for
// feet: decimals there are a thousands' point.
export function figure(typed, { whole = false, example = "4500" } = {}) {
  const text = typed.trim().replace("−", "-");
  if (!text) return {};
  const plain = THOUSANDS.test(text) ? text.replaceAll(",", "") : text;
  if (!PLAIN.test(plain)) return { wrong: refused(text, example) };
  const [before, decimals] = plain.split(".");
  if (whole && decimals !== undefined) {
    const meant = decimals.length === 3 ? before + decimals : before || example;
    return { wrong: `${text} feet is doubtful: write whole feet without a point, as ${meant}` };
  }
  return { value: Number(plain), text: plain };
}

// Several figures with spaces between: { values }, or { wrong } for the first that is none.
export function figures(typed, wish = {}) {
  const read = typed.trim().split(LISTED).filter(Boolean).map((word) => figure(word, wish));
  const wrong = read.find((each) => each.wrong)?.wrong;
  return wrong ? { wrong } : { values: read.map(({ value }) => value) };
}

function refused(text, example) {
  if (/^[+-]?\d+,\d+$/.test(text)) {
    return `${text} could be read in two ways: write decimals with a point, as ${text.replace(",", ".")}, and thousands as 4,500`;
  }
  return `“${text}” is not a figure: write digits alone, as ${example}`;
}

// Says at a field what is wrong with it, or that nothing is.
export function tellAt(field, fault, words) {
  if (fault.textContent !== words) fault.textContent = words;
  fault.hidden = !words;
  field.setAttribute("aria-invalid", String(Boolean(words)));
}

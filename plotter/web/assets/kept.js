// What is kept in this browser: of this tab first, so that two open at once do not disturb each
// other, then of whichever was changed last.

const stores = () => ["sessionStorage", "localStorage"].map((name) => {
  try {
    return window[name];
  } catch {
    return null; // a browser that refuses
  }
});

// Every text kept under a key, this tab's own first.
export function kept(key) {
  return stores().flatMap((store) => {
    const text = store?.getItem(key);
    return text ? [text] : [];
  });
}

// Whether it is kept beyond this tab.
export function keep(key, text) {
  const well = stores().map((store) => {
    try {
      store.setItem(key, text);
      return true;
    } catch {
      return false;
    }
  });
  return well[1];
}

// The last plans of several tabs, each tab's newest: whatever one does, those of the others stay.
export const OTHERS = "plotter.plans";
const TAB = "plotter.tab", MOST = 6;
const again = ["reload", "back_forward"].includes(performance.getEntriesByType("navigation")[0]?.type);
const [session, local] = stores();
const own = (again && session?.getItem(TAB)) || `${Date.now()}-${Math.random()}`;

function listed() {
  try {
    const found = JSON.parse(local.getItem(OTHERS));
    return found.filter(({ tab, text }) => typeof tab === "string" && typeof text === "string");
  } catch {
    return [];
  }
}

function list(entries) {
  try {
    local.setItem(OTHERS, JSON.stringify(entries.slice(-MOST)));
    session.setItem(TAB, own);
  } catch {
    // a browser that refuses; the page says so of the plan itself
  }
}

// What this tab keeps now. When it opens, the same text of another is this plan, taken up here.
let opening = true;
export function remember(text, tab = own) {
  const taken = (each) => opening && tab === own && each.text === text;
  list([...listed().filter((each) => each.tab !== tab && !taken(each)), { tab, text }]);
  if (tab === own) opening = false;
}

export const forgetOther = (text) => list(listed().filter((each) => each.text !== text));

// Those of other tabs, the newest last.
export const othersKept = () => listed().filter(({ tab }) => tab !== own).map(({ text }) => text);

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

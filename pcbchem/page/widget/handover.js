// What goes from a page to another one, or into a file.

const HANDOVER = 3600000; // ms for which values handed over by another page can be used

// Pages hand values over in the browser's own storage; where that is forbidden, nothing is handed.
function withStorage(work) {
  try {
    return work(window.localStorage);
  } catch {
    return null;
  }
}

const storageKey = (name) => `pcbchem ${name}`;

function handOver(name, values) {
  const text = JSON.stringify({ ...values, at: Date.now() });
  withStorage((storage) => storage.setItem(storageKey(name), text));
}

// What was handed over is used up when its reader has entered something else.
function useUp(name) {
  withStorage((storage) => storage.removeItem(storageKey(name)));
}

// What another page handed over within the hour, for a page that was opened after that: a page that
// was open before keeps what its reader has entered.
function handedOver(name) {
  return withStorage((storage) => {
    const values = JSON.parse(storage.getItem(storageKey(name)));
    if (!values || Date.now() - values.at >= HANDOVER) return null;
    // a second more: the two pages may read different clocks
    return values.at <= performance.timeOrigin + 1000 ? values : null;
  });
}

const FILE_TYPES = { csv: "text/csv", json: "application/json" };

// Saves a text, or bytes, as a file of the type that its name's ending says.
function download(text, name) {
  const ending = name.split(".").at(-1).toLowerCase();
  const file = new Blob([text], { type: FILE_TYPES[ending] ?? "text/plain" });
  const link = make("a", { href: URL.createObjectURL(file), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000); // the browser has read it by then
}

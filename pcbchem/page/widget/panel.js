// A panel in the page: controls, one picture swapped in when it is ready, a live sentence, errors that are shown.
const KEYS = { "data-lm-suppress-shortcuts": "true" };   // JupyterLab takes arrow keys from whatever lacks it
const PATIENCE = 8000, LOST = 30000;                       // ms without an answer before the page says it waits, and that nobody answers
const STALE = 900;                                         // ms after which an old answer is hidden until the new one is there
const SMALL = 560;                                         // px: a panel this narrow gets the narrow picture

function make(tag, attributes = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) if (value !== undefined) made.setAttribute(name, value);
  made.append(...inside);
  return made;
}

const fresh = () => "c" + Math.random().toString(36).slice(2);
const spoken = c => c.unit ? `${c.label} (${c.unit})` : c.label;
const written = value => value === null || value === undefined ? "" : String(+(+value).toPrecision(10));

// A number as people write it, with a point or a comma; NaN for anything else, null for nothing.
function number(text) {
  const plain = text.replace(/[\s\u00a0]/g, "").replace("\u2212", "-").replace(",", ".");
  if (plain === "") return null;
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? +plain : NaN;
}

// The text field of a slider or of a field: its own message beside it; `doubt` hears whether it shows what is in use.
function entry(c, use, current, doubt) {
  const id = fresh(), note = make("span", { class: "note", id: id + "n", role: "alert" });
  const box = make("input", { ...KEYS, id, type: "text", inputmode: "decimal", autocomplete: "off", spellcheck: "false",
    size: 7, "aria-label": c.kind === "slider" ? `${spoken(c)}, number` : spoken(c), "aria-describedby": id + "n" });
  const complain = words => { note.textContent = words; box.setAttribute("aria-invalid", words ? "true" : "false"); };
  const typed = () => {
    const value = number(box.value), blank = value === null && c.start === null;
    if (blank || (value !== null && value >= c.low && value <= c.high)) {
      complain(""); doubt(false);
      if (value !== current()) use(value);                 // leaving a field after Enter asks for nothing new
      return;
    }
    const allowed = `${written(c.low)} to ${written(c.high)}${c.unit ? " " + c.unit : ""}`;
    const still = written(current());
    complain(`${c.label}: a number from ${allowed}, please.${still ? ` Still used: ${still}.` : ""}`); doubt(true);
  };
  box.addEventListener("input", () => doubt(number(box.value) !== current()));
  box.addEventListener("change", typed);
  box.addEventListener("keydown", e => {
    if (e.key === "Enter") { typed(); e.preventDefault(); }
    const way = { ArrowUp: 1, ArrowDown: -1 }[e.key];
    if (!way) return;
    e.preventDefault();
    const from = number(box.value), base = Number.isFinite(from) && from !== null ? from : c.low;
    box.value = written(Math.min(c.high, Math.max(c.low, Math.round((base + way * c.step) / c.step * 1e6) / 1e6 * c.step)));
    typed();
  });
  return { id, box, note, put: value => { box.value = written(value); complain(""); doubt(false); } };
}

// One control: what stands in the page, and how a value is put into it.
function control(c, model, send, doubt) {
  const current = () => model.get("values")[c.name];
  if (c.kind === "choice") {
    const options = make("div", { class: "options" }), set = make("fieldset", {}, make("legend", {}, c.label), options), name = fresh(), boxes = {};
    for (const [value, words] of c.options) {
      const box = boxes[value] = make("input", { ...KEYS, type: "radio", name, value });
      box.addEventListener("change", () => send({ [c.name]: value }));
      options.append(make("label", {}, box, make("span", {}, words)));
    }
    return { whole: set, put: value => { if (boxes[value]) boxes[value].checked = true; } };
  }
  if (c.kind === "field") {
    const e = entry(c, value => send({ [c.name]: value }), current, yes => doubt(c.name, yes));
    const row = make("div", { class: "field" }, make("label", { for: e.id }, c.label), e.box, make("span", { class: "unit" }, c.unit), e.note);
    return { whole: row, put: e.put };
  }
  const range = make("input", { ...KEYS, type: "range", min: c.low, max: c.high, step: c.step, "aria-label": spoken(c) });
  const moved = () => {
    const value = +range.value;
    e.put(value); range.setAttribute("aria-valuetext", `${written(value)} ${c.unit}`);
    send({ [c.name]: value });
  };
  const e = entry(c, value => { range.value = value; moved(); }, current, () => {});
  range.addEventListener("input", moved);
  const row = make("div", { class: "slider" }, make("label", { for: e.id }, c.label), range, e.box, make("span", { class: "unit" }, c.unit), e.note);
  return { whole: row, put: value => { range.value = value; range.setAttribute("aria-valuetext", `${written(value)} ${c.unit}`); e.put(value); } };
}

// Controls and groups of them, each group under its heading or folded.
function rows(given, model, send, puts, doubt) {
  return given.map(c => {
    if (c.kind !== "group") {
      const made = control(c, model, send, doubt);
      puts.push({ ...c, ...made });
      return made.whole;
    }
    const inside = rows(c.controls, model, send, puts, doubt);
    return c.folded ? make("details", { class: "group" }, make("summary", KEYS, c.legend), ...inside)
      : make("section", { class: "group", "aria-label": c.legend }, make("h4", {}, c.legend), ...inside);
  });
}

// Where another page of this library lies, as an address.
function page(name) {
  if (/\.(ipynb|html)$/.test(location.pathname)) return name;
  const config = document.getElementById("jupyter-config-data");
  const base = config ? JSON.parse(config.textContent).baseUrl || "/" : "";
  return base ? `${base}doc/tree/${name}` : name;
}

function store(work) { try { return work(window.localStorage); } catch { return null; } }   // may be forbidden

// What another page handed over within the hour, for a page that was opened after it: none that was open before.
const FRESH = 3600000;                                     // ms
function handed(name) {
  return store(kept => {
    const found = JSON.parse(kept.getItem(`pcbchem ${name}`));
    return found && found.at <= performance.timeOrigin + 1000 && Date.now() - found.at < FRESH ? found : null;
  });
}

function render({ model, el }) {
  const puts = [], watch = {}; let url, whole, turn = 0, answers = model.get("done"), local = {};
  const img = make("img", { alt: "" }), head = make("div", { class: "head" }), notes = make("div", { class: "notes" });
  const readout = make("output", { "aria-live": "polite" }), guess = make("p", { class: "guess" });
  const wrong = make("p", { class: "wrong", role: "alert" }), error = make("pre", { class: "error", role: "alert" });
  const near = make("p", { class: "wrong", "aria-hidden": "true", hidden: "" });   // again, beside many fields
  const lost = make("p", { class: "lost", role: "status", hidden: "" },
    "No answer from Python. Choose Run, then Run All Cells. What you have entered here is kept until then.");
  const working = make("p", { class: "working", role: "status", hidden: "" }, "Working it out. If the page is still running its cells, this waits for them.");
  const filled = make("p", { class: "filled", role: "status", hidden: "" });
  const hint = make("p", { class: "working", role: "status", hidden: "" }, "Press Enter: then it is worked out.");

  const unsure = new Set(), doubt = (name, yes) => {       // no verdict stands beside a number that is not counted in it
    if (yes) unsure.add(name); else unsure.delete(name);
    hint.hidden = !unsure.size; whole?.classList.toggle("unsure", unsure.size > 0);
  };

  const unanswered = () => model.get("done") !== model.get("asked");
  const stale = yes => { clearTimeout(watch.stale); whole.classList.toggle("stale", yes); working.hidden = !yes; };
  const ask = () => {
    model.set("asked", model.get("asked") + 1); model.save_changes();
    clearTimeout(watch.timer);
    // before its first answer a panel waits for the cells after it to run
    watch.timer = setTimeout(() => { working.hidden = true; lost.hidden = false; side.inert = false; }, answers ? PATIENCE : LOST);
  };
  const send = changed => {                                // an old verdict must not stand beside new inputs
    local = { ...model.get("values"), ...local, ...changed }; model.set("values", local); shown(); ask();
    clearTimeout(watch.stale); watch.stale = setTimeout(() => stale(true), STALE);
    filled.hidden = true; if (save) save.disabled = true;
  };
  const shown = () => {                                    // fields that another choice calls for
    const values = { ...model.get("values"), ...local };
    for (const c of puts) if (c.when) c.whole.hidden = !c.when[1].includes(values[c.when[0]]);
  };
  const put = () => {
    const values = model.get("values");
    for (const c of puts) if (opening || !c.whole.contains(document.activeElement)) c.put(values[c.name]);
    opening = false; side.inert = false; shown();
  };

  const buttons = make("div", { class: "buttons" }), button = (words, work) => {
    const made = make("button", { ...KEYS, type: "button" }, words);
    made.addEventListener("click", work); buttons.append(made); return made;
  };
  button("Reset", () => { for (const c of puts) c.put(c.start); send(Object.fromEntries(puts.map(c => [c.name, c.start]))); });
  let save, opening = false;
  if (model.get("keeps")) {
    save = button("Save these inputs as a file", () => {
      if (unanswered() || unsure.size) return;
      const link = make("a", { href: URL.createObjectURL(new Blob([model.get("file")], { type: "application/json" })), download: "bath.json" });
      link.click(); setTimeout(() => URL.revokeObjectURL(link.href), 1000);
    });
    const pick = make("input", { ...KEYS, type: "file", accept: ".json,application/json", class: "away", tabindex: "-1", "aria-hidden": "true" });
    pick.addEventListener("change", async () => {
      if (!pick.files[0]) return;
      const text = await pick.files[0].text();
      opening = true; local = {}; filled.hidden = true; side.inert = true; stale(true);
      model.set("opened", text); ask(); pick.value = "";
    });
    button("Open a saved file", () => pick.click()); buttons.append(pick);
  }

  const side = make("div", { class: "rows" }, ...rows(model.get("groups"), model, send, puts, doubt), buttons, near, hint, working, lost, filled);
  const link = model.get("link");
  const onward = link.length ? make("a", { ...KEYS, class: "onward", href: page(link[1]), target: "_blank", rel: "noopener" }, link[0]) : "";
  if (onward) onward.addEventListener("click", e => {
    if (unanswered()) return e.preventDefault();           // what would be handed over is the bath before
    store(s => s.setItem(`pcbchem ${link[1]}`, JSON.stringify({ ...model.get("handed"), at: Date.now() })));
  });
  const words = make("div", { class: "words" }, head, wrong, error, guess, readout, onward);
  whole = make("section", { class: `lesson-panel ${model.get("layout_of")}`, "aria-label": model.get("title") },
    make("div", { class: "both" }, side, words, img), notes);
  el.append(whole);

  const shown_before = new Map(), html = (where, text) => {    // what the reader has opened stays open
    if (shown_before.get(where) === text) return;
    const open = [...where.querySelectorAll("details")].map(d => d.open);
    shown_before.set(where, text); where.innerHTML = text;
    where.querySelectorAll("details").forEach((d, k) => { d.open = Boolean(open[k]); d.querySelector("summary")?.setAttribute("data-lm-suppress-shortcuts", "true"); });
  };
  const say = () => {
    html(head, model.get("head")); html(notes, model.get("notes"));
    img.alt = model.get("alt"); readout.textContent = model.get("readout"); guess.textContent = model.get("predicted");
    wrong.textContent = model.get("wrong"); error.textContent = model.get("error");
    near.textContent = model.get("layout_of") === "fields" ? model.get("wrong") || model.get("error") : "";
    for (const part of [wrong, error, guess, near]) part.hidden = !part.textContent;
    img.hidden = Boolean(model.get("wrong")) || !model.get("png") || !model.get("readout");
    if (save) save.disabled = !model.get("file") || unanswered();
    if (onward) onward.hidden = !Object.keys(model.get("handed")).length;
  };
  const paint = async () => {                              // swap in a picture that is already decoded: no blank frame
    const mine = ++turn, next = URL.createObjectURL(new Blob([model.get("png")], { type: "image/png" })), probe = new Image();
    probe.src = next; await probe.decode().catch(() => {});
    if (mine !== turn) return URL.revokeObjectURL(next);
    img.src = next; if (url) URL.revokeObjectURL(url); url = next;
  };
  const answered = () => {
    if (unanswered()) return;
    answers += 1; clearTimeout(watch.timer); stale(false); lost.hidden = true; local = {}; put();
    if (save) save.disabled = !model.get("file");
  };
  model.on("change:png", paint);
  model.on("change:alt change:readout change:head change:notes change:wrong change:error change:predicted change:file change:handed", say);
  model.on("change:done", answered);

  const size = () => {
    const narrow = el.clientWidth > 0 && el.clientWidth < SMALL;
    if (narrow !== model.get("narrow") || window.devicePixelRatio !== model.get("dpr")) {
      model.set("narrow", narrow); model.set("dpr", window.devicePixelRatio); ask();
    }
  };
  const watching = new ResizeObserver(size); watching.observe(el);
  const anew = model.get("asked") === 0, given = anew && model.get("receives") && handed(model.get("receives"));
  say(); put(); paint(); size();
  if (given) {
    const { why, at, ...values } = given, known = Object.fromEntries(Object.entries(values).filter(([name]) => puts.some(c => c.name === name)));
    for (const c of puts) if (c.name in known) c.put(known[c.name]);
    send(known); stale(true);
    filled.textContent = String(why || "Filled in from another page."); filled.hidden = false;
  }
  return () => { watching.disconnect(); clearTimeout(watch.timer); clearTimeout(watch.stale); if (url) URL.revokeObjectURL(url); };
}
export default { render };

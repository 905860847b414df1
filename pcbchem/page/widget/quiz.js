// Predict and check yourself: radio buttons or text fields in the page; Python keeps and judges.
const KEYS = { "data-lm-suppress-shortcuts": "true" };   // JupyterLab takes keys from whatever lacks it
const PATIENCE = 8000, MORE = 30000;                       // ms without an answer before the page says so; and before it gives up a page still running
const WAITS = "The page is still running: your answer waits.", LOST = "No answer from Python. Choose Run, then Run All Cells.";
const PAUSE = 900;                                         // ms an arrow key rests on an answer before it counts

function make(tag, attributes = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...inside);
  return made;
}

const fresh = () => "q" + Math.random().toString(36).slice(2);

// What both share: a way to send a message, an error, and a notice when Python does not answer.
function frame(model, el, title, answered) {
  const error = make("pre", { class: "error", role: "alert" });
  const lost = make("p", { class: "lost", role: "status", hidden: "" });
  // a prediction is a named group already: as a region it would stand twice under one name on a page that asks twice
  const whole = title ? make("section", { class: "lesson-panel lesson-quiz", "aria-label": title }) : make("div", { class: "lesson-panel lesson-quiz" });
  const open = new Map();                                  // messages that wait for an answer, by number
  let timer;
  const say = words => { lost.textContent = words; lost.hidden = false; };
  const wait = () => {
    clearTimeout(timer); lost.hidden = true;
    if (open.size) timer = setTimeout(() => {
      if (model.get("done")) return say(LOST);             // Python has answered before, so it is not the page's first run
      say(WAITS); timer = setTimeout(say, MORE, LOST);
    }, PATIENCE);
  };
  const send = (message, place) => {                       // as a message of its own: the values of a widget are merged while Python is busy
    const number = fresh();
    place.after(lost, error); open.set(number, message);
    if (open.size === 1) wait();
    try { model.send({ ...message, number, seen: model.get("error") }); } catch { clearTimeout(timer); say(LOST); }
  };
  const wrong = () => { error.textContent = model.get("error"); error.hidden = !model.get("error"); };
  model.on("change:error", wrong);
  model.on("change:done", () => {
    const message = open.get(model.get("done"));
    if (!message) return;                                  // another view of this widget has asked
    open.delete(model.get("done")); wait(); answered(message);
  });
  wrong(); whole.append(lost, error); el.append(whole);
  return { whole, send, waiting: () => [...open.values()], stop: () => clearTimeout(timer) };
}

function prediction(model, el) {
  const { whole, send, waiting, stop } = frame(model, el, "", () => show());
  const name = fresh(), boxes = {}, said = make("p", { class: "said", role: "status" });
  const set = make("fieldset", {}, make("legend", {}, model.get("question")));
  let arrow = false, resting;
  const current = () => (waiting().at(-1) ?? { choice: model.get("choice") }).choice;
  const keep = choice => { clearTimeout(resting); resting = undefined; if (choice !== current()) send({ choice }, set); };
  const chosen = () => Object.keys(boxes).find(key => boxes[key].checked);
  for (const [key, words] of model.get("choices")) {
    const box = boxes[key] = make("input", { ...KEYS, type: "radio", name, value: key });
    // arrow keys pass over answers on their way: only the one they rest on, or leave by Tab or Enter, is kept
    box.addEventListener("change", () => { clearTimeout(resting); if (arrow) resting = setTimeout(() => keep(key), PAUSE); else keep(key); });
    set.append(make("label", {}, box, make("span", {}, words)));
  }
  set.addEventListener("keydown", e => {
    arrow = e.key.startsWith("Arrow");
    if (e.key === "Enter" && e.target.type === "radio") { e.preventDefault(); e.target.checked = true; keep(e.target.value); }
  });
  set.addEventListener("pointerdown", () => { arrow = false; });
  set.addEventListener("focusout", e => { if (resting && chosen() && e.relatedTarget !== skip) keep(chosen()); });
  const skip = make("button", { ...KEYS, type: "button", class: "skip" });
  skip.addEventListener("click", e => {
    if (e.detail > 1) return;                              // the second half of a double click would take it back
    for (const box of Object.values(boxes)) box.checked = false;
    keep(current() ? "" : "-");
  });
  const show = () => {
    said.textContent = model.get("said"); whole.classList.toggle("done", Boolean(model.get("choice")));
    skip.textContent = model.get("choice") ? "Ask me again" : "Show me without a prediction";
    if (!resting && !waiting().length) for (const [key, box] of Object.entries(boxes)) box.checked = key === model.get("choice");
  };
  model.on("change:choice change:said", show);
  set.append(skip, said); whole.append(set);
  show();
  return () => { stop(); clearTimeout(resting); };
}

function checks(model, el) {
  const { whole, send, stop } = frame(model, el, "Check yourself", ({ key }) => { if (key) judged(key); });
  const list = make("ol", { class: "asks" }), news = make("p", { class: "said", role: "status" });
  let rows = {};
  const build = () => {
    rows = {};
    list.replaceChildren(...model.get("asks").map((ask, place) => {
      const id = fresh(), box = make("input", { ...KEYS, id, type: "text", autocomplete: "off", spellcheck: "false", "aria-describedby": `${id}t ${id}c` });
      const button = make("button", { ...KEYS, type: "button", "aria-label": `Check answer ${place + 1}` }, "Check");
      const verdict = make("p", { class: "verdict", role: "status" });
      const look = () => {
        if (box.value.trim()) send({ key: ask.key, text: box.value, seed: model.get("seed") }, verdict);
        else { verdict.dataset.found = "unread"; verdict.textContent = "Write an answer first."; box.focus(); }
      };
      button.addEventListener("click", look);
      box.addEventListener("input", () => { verdict.textContent = ""; });    // a verdict must not stand beside another answer
      box.addEventListener("keydown", e => { if (e.key === "Enter") { e.preventDefault(); look(); } });
      rows[ask.key] = { box, verdict };
      const text = ask.text.split("\n").map(line => make("p", {}, line));
      if (ask.from) text.unshift(make("p", { class: "from" }, `Back to an earlier lesson: ${ask.from}`));
      const how = make("details", {}, make("summary", { ...KEYS, "aria-label": `Show how answer ${place + 1} is worked out` }, "Show how it is worked out"),
        make("ol", {}, ...ask.steps.map(step => make("li", {}, step))));
      return make("li", {}, make("div", { id: id + "t" }, ...text),
        make("div", { class: "entry" }, make("label", { for: id }, ask.label), box, button),
        make("p", { class: "counts", id: id + "c" }, ask.counts), verdict, how);
    }));
    for (const [key, { text }] of Object.entries(model.get("verdicts"))) {
      if (rows[key]) { rows[key].box.value = text; judged(key); }
    }
  };
  const judged = key => {                                  // of this answer alone, and only if it still stands there
    const given = model.get("verdicts")[key], { box, verdict } = rows[key] ?? {};
    if (!given || !box || box.value !== given.text) return;
    news.textContent = ""; verdict.dataset.found = given.found; verdict.textContent = given.words;
  };
  const again = make("button", { ...KEYS, type: "button" }, "New numbers");
  again.addEventListener("click", () => send({ new: true, seed: model.get("seed") }, news));
  model.on("change:asks", () => { build(); news.textContent = "New numbers are in the questions above."; });
  whole.append(make("p", {}, model.get("intro")), list, make("div", { class: "buttons" }, again), news, make("p", { class: "practice" }, model.get("practice")));
  build();
  return stop;
}

export default { render: ({ model, el }) => (model.get("kind") === "predict" ? prediction : checks)(model, el) };

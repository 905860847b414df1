// Predict and check yourself: radio buttons or text fields in the page; Python keeps and judges.
const KEYS = { "data-lm-suppress-shortcuts": "true" };   // JupyterLab takes keys from whatever lacks it
const PATIENCE = 8000;                                     // ms without an answer before the page says so
const PAUSE = 900;                                         // ms an arrow key rests on an answer before it counts

function make(tag, attributes = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...inside);
  return made;
}

const fresh = () => "q" + Math.random().toString(36).slice(2);

// What both share: a way to send a message, an error, and a notice when Python does not answer.
function frame(model, el, title) {
  const error = make("pre", { class: "error", role: "alert" });
  const lost = make("p", { class: "lost", role: "status", hidden: "" }, "No answer from Python. Choose Run, then Run All Cells.");
  // a prediction is a named group already: as a region it would stand twice under one name on a page that asks twice
  const whole = title ? make("section", { class: "lesson-panel lesson-quiz", "aria-label": title }) : make("div", { class: "lesson-panel lesson-quiz" });
  let timer;
  const send = (message, place) => {                       // what goes wrong is said where the reader just was
    place.after(lost, error);
    model.set("sent", message); model.set("asked", model.get("asked") + 1); model.save_changes();
    clearTimeout(timer); timer = setTimeout(() => { lost.hidden = false; }, PATIENCE);
  };
  const wrong = () => { error.textContent = model.get("error"); error.hidden = !model.get("error"); };
  model.on("change:error", wrong);
  model.on("change:done", () => { clearTimeout(timer); lost.hidden = true; });
  wrong(); whole.append(lost, error); el.append(whole);
  return { whole, send, stop: () => clearTimeout(timer) };
}

function prediction(model, el) {
  const { whole, send, stop } = frame(model, el, "");
  const name = fresh(), boxes = {}, said = make("p", { class: "said", role: "status" });
  const set = make("fieldset", {}, make("legend", {}, model.get("question")));
  let arrow = false, waiting;
  const keep = choice => { clearTimeout(waiting); waiting = undefined; if (choice !== model.get("choice")) send({ choice }, set); };
  const chosen = () => Object.keys(boxes).find(key => boxes[key].checked);
  for (const [key, words] of model.get("choices")) {
    const box = boxes[key] = make("input", { ...KEYS, type: "radio", name, value: key });
    // arrow keys pass over answers on their way: only the one they rest on, or leave by Tab or Enter, is kept
    box.addEventListener("change", () => { clearTimeout(waiting); if (arrow) waiting = setTimeout(() => keep(key), PAUSE); else keep(key); });
    set.append(make("label", {}, box, make("span", {}, words)));
  }
  set.addEventListener("keydown", e => {
    arrow = e.key.startsWith("Arrow");
    if (e.key === "Enter" && e.target.type === "radio") { e.preventDefault(); e.target.checked = true; keep(e.target.value); }
  });
  set.addEventListener("pointerdown", () => { arrow = false; });
  set.addEventListener("focusout", e => { if (waiting && chosen() && e.relatedTarget !== skip) keep(chosen()); });
  const skip = make("button", { ...KEYS, type: "button", class: "skip" });
  skip.addEventListener("click", e => {
    if (e.detail > 1) return;                              // the second half of a double click would take it back
    for (const box of Object.values(boxes)) box.checked = false;
    keep(model.get("choice") ? "" : "-");
  });
  const show = () => {
    said.textContent = model.get("said"); whole.classList.toggle("done", Boolean(model.get("choice")));
    skip.textContent = model.get("choice") ? "Ask me again" : "Show me without a prediction";
    if (!waiting) for (const [key, box] of Object.entries(boxes)) box.checked = key === model.get("choice");
  };
  model.on("change:choice change:said", show);
  set.append(skip, said); whole.append(set);
  show();
  return () => { stop(); clearTimeout(waiting); };
}

function checks(model, el) {
  const { whole, send, stop } = frame(model, el, "Check yourself");
  const list = make("ol", { class: "asks" }), news = make("p", { class: "said", role: "status" });
  let rows = {};
  const build = () => {
    rows = {};
    list.replaceChildren(...model.get("asks").map((ask, place) => {
      const id = fresh(), box = make("input", { ...KEYS, id, type: "text", autocomplete: "off", spellcheck: "false", "aria-describedby": `${id}t ${id}c` });
      const button = make("button", { ...KEYS, type: "button", "aria-label": `Check answer ${place + 1}` }, "Check");
      const verdict = make("p", { class: "verdict", role: "status" });
      const look = () => {
        if (box.value.trim()) send({ key: ask.key, text: box.value }, verdict);
        else { verdict.dataset.found = "unread"; verdict.textContent = "Write an answer first."; box.focus(); }
      };
      button.addEventListener("click", look);
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
    judged();
  };
  const judged = () => {
    for (const [key, { text, found, words }] of Object.entries(model.get("verdicts"))) {
      if (!rows[key]) continue;
      news.textContent = "";
      if (!rows[key].box.value) rows[key].box.value = text;
      rows[key].verdict.dataset.found = found; rows[key].verdict.textContent = words;
    }
  };
  const again = make("button", { ...KEYS, type: "button" }, "New numbers");
  again.addEventListener("click", () => send({ new: true }, news));
  model.on("change:asks", () => { build(); news.textContent = "New numbers are in the questions above."; });
  model.on("change:verdicts", judged);
  whole.append(make("p", {}, model.get("intro")), list, make("div", { class: "buttons" }, again), news, make("p", { class: "practice" }, model.get("practice")));
  build();
  return stop;
}

export default { render: ({ model, el }) => (model.get("kind") === "predict" ? prediction : checks)(model, el) };

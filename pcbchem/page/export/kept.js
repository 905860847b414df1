// The widgets of a live copy: the page's own scripts, on models that look their answers up. They do
// here what Python does on a live page; every word they say was worked out there.

// What a view gets, sets and listens to.
class KeptModel {
  constructor(traits) {
    this.traits = { error: "", done: "", keeps: false, ...traits };
    this.works = {}; // what is to be done when a trait changes, by its event
  }

  get(name) {
    return this.traits[name];
  }

  set(name, value) {
    this.traits[name] = value;
  }

  on(events, work) {
    for (const event of events.split(" ")) (this.works[event] ??= []).push(work);
  }

  save_changes() {}

  // All of these at once, and then each who listens to one of them, once.
  change(traits) {
    const old = { ...this.traits };
    Object.assign(this.traits, traits);
    const changed = Object.keys(traits).filter((name) => old[name] !== traits[name]);
    const works = changed.flatMap((name) => this.works[`change:${name}`] ?? []);
    for (const work of new Set(works)) work();
  }

  // In a later turn: a view takes what comes at once for the answer to something else.
  send(message) {
    setTimeout(() => {
      if (message.forget) this.page.forget();
      else this.receive(message);
      this.change({ done: message.number });
    });
  }

  receive() {}
  predicted() {} // a prediction of the page has changed
  forget() {}
}

class KeptPrediction extends KeptModel {
  constructor({ kind, question, choices, becauses, said, texts }) {
    const nothing = { choice: "", reason: "", kept_words: "", under: "" };
    super({ kind, question, choices, becauses, ...nothing });
    this.said = said;
    this.texts = texts;
    this.forget();
  }

  get choice() {
    return this.traits.choice;
  }

  // What is said to a choice and a reason; `made`: they count.
  look(choice, reason, first) {
    const [made, ...places] = this.said[[choice, reason, first].join("|")];
    const [kept, under, words, reply] = places.map((place) => this.texts[place]);
    return { made, kept, under, words, reply };
  }

  receive({ choice, reason }) {
    const isAnswer = this.traits.choices.some(([key]) => key === choice);
    const kept = isAnswer ? reason : "";
    // what counted first stays: who changes it has seen the answer
    if (this.look(choice, kept, this.first).made) this.first ||= choice;
    const { made, kept: kept_words, under, words, reply } = this.look(choice, kept, this.first);
    Object.assign(this, { made, words, reply });
    this.change({ choice, reason: kept, kept_words, under });
    this.page.tellPredicted();
  }

  forget() {
    Object.assign(this, { first: "", made: false, words: "", reply: "" });
    this.change({ choice: "", reason: "", kept_words: "", under: "" });
  }
}

class KeptPanel extends KeptModel {
  constructor(kept) {
    const { title, layout_of, groups, values } = kept;
    const nothing = { receives: "", file: "", file_name: "", opened: "", handed: [], links: [] };
    const beside = { beside_fields: {}, read_as: {} };
    const silent = { ...beside, headline: "", remark: "", looks: null, coarse: false, row: null, offers: [] };
    const asking = { asked: 0, done: 0, narrow: false, dpr: 1 };
    super({ title, layout_of, groups, values, ...nothing, ...silent, ...asking });
    this.kept = kept;
    this.starts = values;
  }

  save_changes() {
    setTimeout(() => {
      this.look();
      this.change({ done: this.traits.asked });
    });
  }

  isWaiting() {
    return !this.kept.predictions.every((key) => this.page.predictions[key].made);
  }

  // Each value as the step next to it, and the place of them all among the settings.
  placeOf(values) {
    let place = 0;
    const kept = {};
    for (const [name, steps] of Object.entries(this.kept.steps)) {
      const step = stepNextTo(values[name], steps);
      kept[name] = steps[step];
      place = place * steps.length + step;
    }
    return [place, kept];
  }

  look() {
    const { kept } = this;
    const prediction = this.page.predictions[kept.predictions[0]];
    const isWaiting = this.isWaiting();
    this.root.classList.toggle("pcbchem-copy-waits", isWaiting);
    const [place, values] = this.placeOf(isWaiting ? this.starts : this.traits.values);
    const guess = prediction ? kept.guesses.indexOf(prediction.choice) : 0;
    const [wide, narrow, ...places] = isWaiting ? kept.waiting : kept.states[place][guess];
    const words = places.map((text) => kept.texts[text]);
    const [readout, alt, head, notes, wrong, said, table] = words;
    const replies = prediction && kept.replies && !isWaiting; // with the picture, not before
    this.change({
      values,
      png: picture(kept.pictures[this.traits.narrow ? narrow : wide]),
      ...{ readout, alt, head, notes, wrong, guess: said, table },
      predicted: replies ? prediction.words : "",
      reply: replies && !said ? prediction.reply : "",
    });
  }

  predicted() {
    this.look();
  }

  forget() {
    if (this.kept.predictions.length > 0) this.traits.values = this.starts;
    this.look();
  }
}

function stepNextTo(value, steps) {
  if (typeof value !== "number") return steps.indexOf(value);
  const off = steps.map((step) => Math.abs(step - value));
  return off.indexOf(Math.min(...off));
}

function picture(base64) {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}

class KeptCheck extends KeptModel {
  constructor({ kind, intro, practice, waits, tables, predictions, sheets }) {
    super({ kind, intro, practice, waits, tables, asks: [], verdicts: {}, starts: 0 });
    this.after = predictions;
    this.sheets = sheets;
    this.ask(sheets[0]);
  }

  // Ask with the numbers of a sheet, once the predictions are made.
  ask(sheet) {
    const { seed, table, sheet: number } = sheet;
    this.sheet = sheet;
    this.change({ seed, table, sheet: number, verdicts: {}, asks: this.asks() });
  }

  asks() {
    const made = this.after.every((key) => this.page?.predictions[key].made);
    return made ? this.sheet.asks : [];
  }

  receive({ seed, table, new: wantsNew, key, text }) {
    if (seed !== this.sheet.seed) return; // sent before the numbers that it is about were gone
    if (table) this.ask(this.sheets.find((sheet) => sheet.table === table));
    else if (wantsNew) this.ask(this.nextSheet());
    else this.change({ verdicts: { ...this.traits.verdicts, [key]: this.judge(key, text) } });
    this.page.keep(true);
  }

  // After the last sheet of a table its first one comes again.
  nextSheet() {
    const own = this.sheets.filter(({ table }) => table === this.sheet.table);
    return own[(own.indexOf(this.sheet) + 1) % own.length];
  }

  judge(key, text) {
    return { text, ...judgeAnswer(this.sheet.judged[key], text) };
  }

  predicted() {
    const asks = this.asks();
    // only where they come or go: what stands in the fields stays
    if (asks.length !== this.traits.asks.length) this.change({ asks });
  }

  forget() {
    this.ask(this.sheets[0]);
    this.change({ starts: this.traits.starts + 1 });
  }
}

class KeptAfterwards extends KeptModel {
  constructor({ kind, html, waits, predictions }) {
    super({ kind, html: "", waits });
    this.text = html;
    this.after = predictions;
  }

  predicted() {
    const made = this.after.every((key) => this.page.predictions[key].made);
    this.change({ html: made ? this.text : "" });
  }

  forget() {
    this.predicted();
  }
}

class KeptEnd extends KeptModel {
  constructor({ kind, link_words, forgets }) {
    super({ kind, link_words, forgets, fresh: false, at: 0 });
  }
}

// by `kind`, as kept.py calls them
const KEPT_MODELS = {
  panel: KeptPanel,
  predict: KeptPrediction,
  check: KeptCheck,
  afterwards: KeptAfterwards,
  end: KeptEnd,
};

// All widgets of the page, and what they tell each other.
class KeptPage {
  constructor() {
    this.models = [];
    this.predictions = {};
  }

  add(root) {
    const kept = JSON.parse(root.querySelector("script").textContent);
    const model = new KEPT_MODELS[kept.kind](kept);
    Object.assign(model, { page: this, root });
    this.models.push(model);
    if (kept.key) this.predictions[kept.key] = model;
    model.predicted(); // what waits for none is there at once
    const script = kept.kind === "panel" ? panelScript : quizScript;
    script.render({ model, el: root });
  }

  tellPredicted() {
    for (const model of this.models) model.predicted();
    this.keep(true);
  }

  keep(keeps) {
    for (const model of this.models) model.change({ keeps });
  }

  forget() {
    // the predictions first: what waits for them looks whether they are made
    const predictions = Object.values(this.predictions);
    for (const model of new Set([...predictions, ...this.models])) model.forget();
    this.keep(false);
  }
}

const keptPage = new KeptPage();
for (const root of document.querySelectorAll(".pcbchem-copy")) keptPage.add(root);

// The style sheets go by JupyterLab's theme; here that is what the reader's own screen wants.
const night = matchMedia("(prefers-color-scheme: dark)");
const followNight = () => {
  document.body.dataset.jpThemeLight = String(!night.matches);
};
night.addEventListener("change", followNight);
followNight();

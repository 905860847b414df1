// Predict, and check yourself: radio buttons or text fields in the page; Python keeps and judges.

const WAITS = "The page is still running: your answer waits.";
const PAUSE = 900; // ms that an arrow key rests on an answer before it counts
const WITHOUT = "-"; // the choice of who looks without a prediction

// The frame of a quiz and its conversation with Python. Each message goes by itself, with a number
// of its own: the values of a widget are merged while Python is busy, and an answer would be lost.
class Conversation {
  constructor(model, frame, answered) {
    this.model = model;
    this.answered = answered; // is called with each message that Python has answered
    this.waiting = new Map(); // messages without an answer, by number
    this.error = make("pre", { class: "pcbchem-error", role: "alert" });
    this.lost = make("p", { class: "pcbchem-lost", role: "status", hidden: "" });
    frame.append(this.lost, this.error);
    model.on("change:error", () => this.showError());
    model.on("change:done", () => this.receive(model.get("done")));
    this.showError();
  }

  // Send a message; what is to be said about it is said under `place`.
  send(message, place) {
    const number = freshId();
    place.after(this.lost, this.error); // beside what was sent, where the reader looks
    this.waiting.set(number, message);
    if (this.waiting.size === 1) this.watch(); // later ones do not begin the wait anew
    try {
      this.model.send({ ...message, number, seen: this.model.get("error") });
    } catch {
      // there is no kernel at all: no need to wait
      clearTimeout(this.timer);
      this.say(NO_ANSWER);
    }
  }

  receive(number) {
    const message = this.waiting.get(number);
    if (!message) return; // another view of this widget has asked
    this.waiting.delete(number);
    this.watch(); // the next one has its full time
    this.answered(message);
  }

  // Say after a while that an answer waits, or that nobody answers.
  watch() {
    clearTimeout(this.timer);
    this.lost.hidden = true;
    if (this.waiting.size) this.timer = setTimeout(() => this.losePatience(), PATIENCE);
  }

  losePatience() {
    // where Python has answered before, the page is not on its first run: do not wait
    if (this.model.get("done")) {
      this.say(NO_ANSWER);
      return;
    }
    this.say(WAITS);
    this.timer = setTimeout(() => this.say(NO_ANSWER), LONG_PATIENCE);
  }

  say(words) {
    this.lost.textContent = words;
    this.lost.hidden = false;
  }

  showError() {
    this.error.textContent = this.model.get("error");
    this.error.hidden = !this.model.get("error");
  }

  stop() {
    clearTimeout(this.timer);
  }
}

// A question with answers to choose from, and a button for who wants to see without choosing.
class PredictionView {
  constructor(model, el) {
    this.model = model;
    this.boxes = {};
    this.byArrow = false; // whether the last key was an arrow key
    // no region with a name: the answers are a named group already, and would be heard twice
    const frame = make("div", { class: "pcbchem-widget pcbchem-quiz" });
    this.conversation = new Conversation(model, frame, () => this.show());
    this.answers = make("fieldset", {}, make("legend", {}, model.get("question")));
    this.skip = makeButton("", (event) => this.skipOrAskAgain(event), { class: "pcbchem-skip" });
    this.words = make("p", { class: "pcbchem-kept", role: "status" });
    this.addAnswers();
    this.answers.append(this.skip, this.words);
    frame.append(this.answers);
    el.append(frame);
    model.on("change:choice change:kept_words", () => this.show());
    this.show();
  }

  addAnswers() {
    const group = freshId();
    for (const [key, words] of this.model.get("choices")) {
      const { box, label } = radioOption(group, key, words);
      box.addEventListener("change", () => this.choose(key));
      this.boxes[key] = box;
      this.answers.append(label);
    }
    this.answers.addEventListener("keydown", (event) => this.noteKey(event));
    this.answers.addEventListener("pointerdown", () => {
      this.byArrow = false;
    });
    this.answers.addEventListener("focusout", (event) => {
      const goesToSkip = event.relatedTarget === this.skip;
      if (this.resting && this.checkedKey() && !goesToSkip) this.keep(this.checkedKey());
    });
  }

  // Arrow keys pass over answers on their way: only the one they rest on, or leave by Tab or Enter,
  // is kept.
  choose(key) {
    clearTimeout(this.resting);
    if (this.byArrow) this.resting = setTimeout(() => this.keep(key), PAUSE);
    else this.keep(key);
  }

  noteKey(event) {
    this.byArrow = event.key.startsWith("Arrow");
    if (event.key === "Enter" && event.target.type === "radio") {
      event.preventDefault();
      event.target.checked = true;
      this.keep(event.target.value);
    }
  }

  skipOrAskAgain(event) {
    if (event.detail > 1) return; // the second half of a double click would take it back
    for (const box of Object.values(this.boxes)) box.checked = false;
    this.keep(this.lastChoice() ? "" : WITHOUT);
  }

  keep(choice) {
    clearTimeout(this.resting);
    this.resting = undefined;
    if (choice !== this.lastChoice()) this.conversation.send({ choice }, this.answers);
  }

  checkedKey() {
    return Object.keys(this.boxes).find((key) => this.boxes[key].checked);
  }

  // The choice that was sent last, or else the one that Python keeps.
  lastChoice() {
    const last = [...this.conversation.waiting.values()].at(-1);
    return last ? last.choice : this.model.get("choice");
  }

  show() {
    const choice = this.model.get("choice");
    this.words.textContent = this.model.get("kept_words");
    this.skip.textContent = choice ? "Ask me again" : "Show me without a prediction";
    // while a choice rests or is on its way, what the reader has chosen stays
    if (this.resting || this.conversation.waiting.size) return;
    for (const [key, box] of Object.entries(this.boxes)) box.checked = key === choice;
  }

  stop() {
    this.conversation.stop();
    clearTimeout(this.resting);
  }
}

// Questions with a field for each answer, a verdict under it and its explanation folded away.
class CheckView {
  constructor(model, el) {
    this.model = model;
    this.rows = {};
    const frame = make("section", {
      class: "pcbchem-widget pcbchem-quiz",
      "aria-label": "Check yourself",
    });
    this.conversation = new Conversation(model, frame, ({ key }) => {
      if (key) this.showVerdict(key);
    });
    this.list = make("ol", { class: "pcbchem-questions" });
    this.news = make("p", { class: "pcbchem-kept", role: "status" });
    const again = makeButton("New numbers", () => this.askForNewNumbers());
    frame.append(
      make("p", {}, model.get("intro")),
      this.list,
      make("div", { class: "pcbchem-buttons" }, again),
      this.news,
      make("p", { class: "pcbchem-practice" }, model.get("practice")),
    );
    el.append(frame);
    model.on("change:asks", () => {
      this.build();
      this.news.textContent = "New numbers are in the questions above.";
    });
    this.build();
  }

  // The questions with their present numbers, and what has been answered to them before.
  build() {
    this.rows = {};
    const items = this.model.get("asks").map((ask, place) => this.buildQuestion(ask, place + 1));
    this.list.replaceChildren(...items);
    for (const [key, { text }] of Object.entries(this.model.get("verdicts"))) {
      if (!this.rows[key]) continue;
      this.rows[key].box.value = text;
      this.showVerdict(key);
    }
  }

  buildQuestion(ask, number) {
    const id = freshId();
    const textId = `${id}-text`;
    const countsId = `${id}-counts`;
    const box = make("input", {
      ...KEYS,
      id,
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      "aria-describedby": `${textId} ${countsId}`,
    });
    const verdictLine = make("p", { class: "pcbchem-verdict", role: "status" });
    this.rows[ask.key] = { box, verdictLine };
    const button = makeButton("Check", () => this.check(ask.key), {
      "aria-label": `Check answer ${number}`,
    });
    box.addEventListener("input", () => {
      verdictLine.textContent = ""; // a verdict must not stand beside another answer
    });
    box.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.check(ask.key);
    });
    const label = make("label", { for: id }, ask.label);
    return make(
      "li",
      {},
      make("div", { id: textId }, ...this.paragraphs(ask)),
      make("div", { class: "pcbchem-answer" }, label, box, button),
      make("p", { class: "pcbchem-counts", id: countsId }, ask.counts),
      verdictLine,
      this.explanation(ask, number),
    );
  }

  paragraphs(ask) {
    const lines = ask.text.split("\n").map((line) => make("p", {}, line));
    if (!ask.from) return lines;
    const from = `Back to an earlier lesson: ${ask.from}`;
    return [make("p", { class: "pcbchem-from" }, from), ...lines];
  }

  explanation(ask, number) {
    const name = `Show how answer ${number} is worked out`;
    const summary = make("summary", { ...KEYS, "aria-label": name }, "Show how it is worked out");
    const steps = ask.steps.map((step) => make("li", {}, step));
    return make("details", {}, summary, make("ol", {}, ...steps));
  }

  check(key) {
    const { box, verdictLine } = this.rows[key];
    if (!box.value.trim()) {
      verdictLine.dataset.grade = "unread";
      verdictLine.textContent = "Write an answer first.";
      box.focus();
      return;
    }
    this.conversation.send({ key, text: box.value, seed: this.model.get("seed") }, verdictLine);
  }

  askForNewNumbers() {
    this.conversation.send({ new: true, seed: this.model.get("seed") }, this.news);
  }

  // The verdict on this answer alone, and only if the answer still stands there.
  showVerdict(key) {
    const verdict = this.model.get("verdicts")[key];
    const row = this.rows[key];
    if (!verdict || !row || row.box.value !== verdict.text) return;
    this.news.textContent = "";
    row.verdictLine.dataset.grade = verdict.grade;
    row.verdictLine.textContent = verdict.words;
  }

  stop() {
    this.conversation.stop();
  }
}

function render({ model, el }) {
  const View = model.get("kind") === "predict" ? PredictionView : CheckView;
  const view = new View(model, el);
  return () => view.stop();
}

export default { render };

// A prediction: an answer and a reason, chosen in the page and kept by Python.

const PAUSE = 900; // ms that an arrow key rests on an answer before it counts
const BRING = 300; // ms in which the panel has its answer, and its full height
const WITHOUT = "-"; // the choice of who looks without a prediction

// Radio buttons of which arrow keys pass over some on their way: only the one they rest on, or leave
// by Tab or Enter, is kept.
class RadioGroup {
  constructor(legend, pairs, keep) {
    this.boxes = {};
    this.byArrow = false; // whether the last key was an arrow key
    this.keep = keep;
    this.fieldset = make("fieldset", {}, make("legend", {}, legend));
    const group = freshId();
    for (const [key, words] of pairs) {
      const { box, label } = radioOption(group, key, words);
      box.addEventListener("change", () => this.choose(key));
      this.boxes[key] = box;
      this.fieldset.append(label);
    }
    this.fieldset.addEventListener("keydown", (event) => this.noteKey(event));
    this.fieldset.addEventListener("pointerdown", () => {
      this.byArrow = false;
    });
  }

  choose(key) {
    clearTimeout(this.resting);
    if (this.byArrow) this.resting = setTimeout(() => this.settle(key), PAUSE);
    else this.settle(key);
  }

  noteKey(event) {
    this.byArrow = event.key.startsWith("Arrow");
    if (event.key === "Enter" && event.target.type === "radio") {
      event.preventDefault();
      event.target.checked = true;
      this.settle(event.target.value);
    }
  }

  // What an arrow key rests on counts when the reader goes on to something else.
  leave() {
    if (this.resting && this.checkedKey()) this.settle(this.checkedKey());
  }

  settle(key) {
    this.rest();
    this.keep(key);
  }

  rest() {
    clearTimeout(this.resting);
    this.resting = undefined;
  }

  checkedKey() {
    return Object.keys(this.boxes).find((key) => this.boxes[key].checked);
  }

  check(key) {
    for (const [name, box] of Object.entries(this.boxes)) box.checked = name === key;
  }

  focus() {
    Object.values(this.boxes)[0].focus();
  }
}

// A question with answers to choose from, reasons under them, and a button for who wants to see
// without choosing.
class PredictionView {
  constructor(model, el) {
    this.model = model;
    // no region with a name: the answers are a named group already, and would be heard twice
    const frame = make("div", { class: "pcbchem-widget pcbchem-quiz" });
    this.frame = frame;
    this.conversation = new Conversation(model, frame, () => {
      this.show();
      this.bringAnswer();
    });
    this.answers = new RadioGroup(model.get("question"), model.get("choices"), (choice) =>
      this.send({ ...this.last(), choice }),
    );
    this.reasons = new RadioGroup("because …", model.get("becauses"), (reason) =>
      this.send({ ...this.last(), reason }),
    );
    this.reasons.fieldset.classList.add("pcbchem-because");
    this.skip = makeButton("", (event) => this.skipOrAskAgain(event), { class: "pcbchem-skip" });
    this.words = make("p", { class: "pcbchem-kept", role: "status" });
    const foot = make("div", { class: "pcbchem-foot" }, this.skip, this.words);
    this.under = make("div", { class: "pcbchem-under", role: "status" });
    frame.append(this.answers.fieldset, this.reasons.fieldset, foot, this.under);
    el.append(frame);
    this.foot = foot;
    // at once, though an arrow key's choice does not count yet: Tab goes there next
    this.answers.fieldset.addEventListener("change", () => {
      this.reasons.fieldset.hidden = this.model.get("becauses").length === 0;
    });
    frame.addEventListener("focusout", (event) => this.leave(event));
    model.on("change:choice change:reason change:kept_words change:under", () =>
      this.show(),
    );
    this.show();
  }

  // Whoever goes on to the button that takes the choice back has not chosen.
  leave(event) {
    if (event.relatedTarget === this.skip) return;
    for (const group of [this.answers, this.reasons]) {
      if (!group.fieldset.contains(event.relatedTarget)) group.leave();
    }
  }

  skipOrAskAgain(event) {
    if (event.detail > 1) return; // the second half of a double click would take it back
    this.answers.rest();
    this.reasons.rest();
    this.answers.check(undefined);
    this.send({ choice: this.isMade() ? "" : WITHOUT, reason: "" });
  }

  send({ choice, reason }) {
    const last = this.last();
    if (choice === last.choice && reason === last.reason) return;
    this.conversation.send({ choice, reason }, this.foot);
    this.showReasons();
  }

  // Answer and reason that were sent last, or else those that Python keeps.
  last() {
    const message = [...this.conversation.waiting.values()].at(-1);
    if (message && message.forget) return { choice: "", reason: "" };
    return message || { choice: this.model.get("choice"), reason: this.model.get("reason") };
  }

  // At once, even while Python is busy: the reader goes on to them.
  showReasons() {
    const { choice } = this.last();
    const hasReasons = this.model.get("becauses").length > 0;
    this.reasons.fieldset.hidden = !(hasReasons && choice in this.answers.boxes);
    this.skip.textContent = this.isMade() ? "Ask me again" : "Show me without a prediction";
  }

  // An answer counts with its reason.
  isMade() {
    const { choice, reason } = this.last();
    const needsReason = choice !== WITHOUT && this.model.get("becauses").length > 0;
    return Boolean(choice && (reason || !needsReason));
  }

  show() {
    const { model } = this;
    this.showReasons();
    setText(this.words, model.get("kept_words"));
    this.showUnder();
    // while a choice rests or is on its way, what the reader has chosen stays
    if (this.conversation.waiting.size) return;
    if (!this.answers.resting) this.answers.check(model.get("choice"));
    if (!this.reasons.resting) this.reasons.check(model.get("reason"));
  }

  showUnder() {
    const text = this.model.get("under");
    if (text === this.shownUnder) return; // else it would be heard again
    this.shownUnder = text;
    const lines = text.split("\n").filter((line) => line);
    this.under.replaceChildren(...lines.map((line) => make("p", {}, line)));
  }

  // What was predicted is seen at once: the panel that shows it comes into view.
  bringAnswer() {
    if (!this.isMade()) return;
    const page = this.frame.closest(".jp-NotebookPanel") || document;
    const widgets = [...page.querySelectorAll(".pcbchem-widget")];
    const next = widgets[widgets.indexOf(this.frame) + 1];
    if (!next || !next.classList.contains("pcbchem-panel")) return;
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const way = { block: "nearest", behavior: calm ? "auto" : "smooth" };
    this.bringing = setTimeout(() => next.scrollIntoView(way), BRING);
  }

  stop() {
    clearTimeout(this.bringing);
    this.conversation.stop();
    this.answers.rest();
    this.reasons.rest();
  }
}

// Check yourself: questions with fields in the page; Python judges.

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
    this.tableNote = make("span", { class: "pcbchem-note", id: freshId(), role: "alert" });
    this.sheetLine = make("span", { class: "pcbchem-sheet" });
    this.list = make("ol", { class: "pcbchem-questions" });
    this.waitsLine = make("p", { class: "pcbchem-waits", role: "status" }, model.get("waits"));
    this.news = make("p", { class: "pcbchem-kept", role: "status" });
    const again = makeButton("New numbers", () => this.askForNewNumbers());
    frame.append(
      make("h2", {}, "Check yourself"),
      make("p", {}, model.get("intro")),
      this.tableRow(),
      this.waitsLine,
      this.list,
      make("div", { class: "pcbchem-buttons" }, again),
      this.news,
      make("p", { class: "pcbchem-practice" }, model.get("practice")),
    );
    el.append(frame);
    model.on("change:seed", () => {
      this.build();
      if (!this.isWaiting()) {
        this.news.textContent = `${this.sheetWords()}: its numbers are in the questions above.`;
      }
    });
    // a fresh start may bring the same questions: their fields are emptied all the same
    model.on("change:asks", () => {
      this.build();
      if (this.isWaiting()) this.news.textContent = "";
    });
    model.on("change:starts", () => {
      this.build();
      this.news.textContent = "";
    });
    this.build();
  }

  // The number of a table of the class: it has numbers of its own.
  tableRow() {
    const id = freshId();
    this.tableBox = make("input", {
      ...KEYS,
      id,
      type: "text",
      inputmode: "numeric",
      autocomplete: "off",
      size: 3,
      "aria-describedby": this.tableNote.id,
    });
    this.tableBox.addEventListener("change", () => this.askForTable());
    this.tableBox.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.askForTable();
    });
    const name = `Your table, 1 to ${this.model.get("tables")} (at home: any of them)`;
    const label = make("label", { for: id }, name);
    const parts = [label, this.tableBox, this.sheetLine, this.tableNote];
    return make("div", { class: "pcbchem-table" }, ...parts);
  }

  askForTable() {
    const text = this.tableBox.value.trim();
    const table = /^\d{1,4}$/.test(text) ? Number(text) : NaN;
    const isTable = table >= 1 && table <= this.model.get("tables");
    const complaint = `A whole number from 1 to ${this.model.get("tables")}, please.`;
    setText(this.tableNote, isTable ? "" : complaint);
    this.tableBox.setAttribute("aria-invalid", isTable ? "false" : "true");
    if (!isTable || table === this.model.get("table")) return;
    this.conversation.send({ table, seed: this.model.get("seed") }, this.news);
  }

  sheetWords() {
    return `Table ${this.model.get("table")}, sheet ${this.model.get("sheet")}`;
  }

  // Questions may tell what is to be predicted first: none are here until it is.
  isWaiting() {
    return this.model.get("asks").length === 0;
  }

  // The questions with their present numbers, and what has been answered to them before.
  build() {
    this.rows = {};
    this.tableBox.value = this.model.get("table");
    this.tableBox.setAttribute("aria-invalid", "false");
    this.tableNote.textContent = "";
    this.sheetLine.textContent = this.sheetWords();
    const items = this.model.get("asks").map((ask, place) => this.buildQuestion(ask, place + 1));
    this.list.replaceChildren(...items);
    this.waitsLine.hidden = !this.isWaiting();
    for (const [key, { text }] of Object.entries(this.model.get("verdicts"))) {
      if (!this.rows[key]) continue;
      this.rows[key].write(text);
      this.showVerdict(key);
    }
  }

  buildQuestion(ask, number) {
    const id = freshId();
    const verdictLine = make("p", { class: "pcbchem-verdict", role: "status" });
    const build = ask.options ? this.reasonsToChoose : this.answerField;
    const { parts, ...row } = build.call(this, ask, number, id, () => {
      verdictLine.textContent = ""; // a verdict must not stand beside another answer
    });
    this.rows[ask.key] = { ...row, verdictLine };
    return make(
      "li",
      {},
      make("div", { id: `${id}-text` }, ...this.paragraphs(ask)),
      ...parts,
      verdictLine,
      this.explanation(ask, number),
    );
  }

  // Both give the parts of the page, and how to `read` an answer, `write` one and go there.

  answerField(ask, number, id, changed) {
    const countsId = `${id}-counts`;
    const box = make("input", {
      ...KEYS,
      id,
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      "aria-describedby": `${id}-text ${countsId}`,
    });
    box.addEventListener("input", changed);
    box.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      this.check(ask.key);
    });
    const label = make("label", { for: id }, ask.label);
    const button = this.checkButton(ask, number);
    return {
      parts: [
        make("div", { class: "pcbchem-answer" }, label, box, button),
        make("p", { class: "pcbchem-counts", id: countsId }, ask.counts),
      ],
      read: () => box.value,
      write: (text) => {
        box.value = text;
      },
      focus: () => box.focus(),
      nothing: "Write an answer first.",
    };
  }

  reasonsToChoose(ask, number, id, changed) {
    const boxes = {};
    const attributes = { class: "pcbchem-why", "aria-describedby": `${id}-text` };
    const fieldset = make("fieldset", attributes, make("legend", {}, "Your answer"));
    for (const [key, words] of ask.options) {
      const { box, label } = radioOption(id, key, `${key}  ${words}`);
      box.addEventListener("change", changed);
      box.addEventListener("keydown", (event) => {
        if (event.key !== "Enter") return;
        event.preventDefault();
        box.checked = true;
        this.check(ask.key);
      });
      boxes[key] = box;
      fieldset.append(label);
    }
    return {
      parts: [fieldset, make("div", { class: "pcbchem-answer" }, this.checkButton(ask, number))],
      read: () => Object.keys(boxes).find((key) => boxes[key].checked) || "",
      write: (key) => {
        if (boxes[key]) boxes[key].checked = true;
      },
      focus: () => Object.values(boxes)[0].focus(),
      nothing: "Choose an answer first.",
    };
  }

  checkButton(ask, number) {
    const attributes = { "aria-label": `Check answer ${number}` };
    return makeButton("Check", () => this.check(ask.key), attributes);
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
    const { read, focus, nothing, verdictLine } = this.rows[key];
    const text = read();
    if (!text.trim()) {
      verdictLine.dataset.grade = "unread";
      verdictLine.textContent = nothing;
      focus();
      return;
    }
    this.conversation.send({ key, text, seed: this.model.get("seed") }, verdictLine);
  }

  askForNewNumbers() {
    this.conversation.send({ new: true, seed: this.model.get("seed") }, this.news);
  }

  // The verdict on this answer alone, and only if the answer still stands there.
  showVerdict(key) {
    const verdict = this.model.get("verdicts")[key];
    const row = this.rows[key];
    if (!verdict || !row || row.read() !== verdict.text) return;
    this.news.textContent = "";
    row.verdictLine.dataset.grade = verdict.grade;
    row.verdictLine.textContent = verdict.words;
  }

  stop() {
    this.conversation.stop();
  }
}

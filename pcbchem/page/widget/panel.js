// A panel: controls, one picture that is swapped when the next is ready, a live sentence, errors.

const STALE = 900; // ms after which a page says that Python works
const CURSOR = 200; // ms in which a cursor is answered: nothing is dimmed for so short
const NARROW = 560; // px: a panel narrower than this gets the narrow picture
const WAITS_FOR_CELLS = "If the page is still running its cells, this waits for them.";
const WORKING = IN_APP ? "Working it out." : `Working it out. ${WAITS_FOR_CELLS}`;
const PRESS_ENTER = "Not worked out yet for what stands in the fields: press Enter.";
const CORRECT_FIRST = "Not worked out: first correct the field that is marked.";
const CORRECT_MARKED = "First correct the field that is marked.";
const CHANGED = "The inputs have changed: this was worked out for others.";
const ENTRIES_STAY = IN_APP ? "" : " What you have entered here is kept until then.";
// when one of these changes, the words of the panel are said anew
const WORDS_CHANGE = [
  "change:alt",
  "change:readout",
  "change:head",
  "change:top",
  "change:notes",
  "change:wrong",
  "change:error",
  "change:predicted",
  "change:guess",
  "change:reply",
  "change:file",
  "change:handed",
  "change:headline",
  "change:remark",
  "change:looks",
  "change:offers",
  "change:table",
  "change:beside_fields",
  "change:read_as",
].join(" ");

function sameBytes(one, other) {
  if (!one || !other || one.byteLength !== other.byteLength) return false;
  const [first, second] = [one, other].map(
    (view) => new Uint8Array(view.buffer, view.byteOffset, view.byteLength),
  );
  return first.every((byte, place) => byte === second[place]);
}

// The parts of a panel that say something: empty or hidden until there is something to say.
function makeParts() {
  const hiddenStatus = { role: "status", hidden: "" };
  return {
    picture: make("img", { class: "pcbchem-picture", alt: "" }),
    top: make("div", { class: "pcbchem-top" }),
    head: make("div", { class: "pcbchem-head" }),
    notes: make("div", { class: "pcbchem-notes" }),
    headline: make("strong", { class: "pcbchem-headline" }),
    readout: make("span"),
    prediction: make("p", { class: "pcbchem-prediction" }),
    guess: make("p", { class: "pcbchem-guess" }),
    // said when it comes: it is the answer to what the reader has just chosen
    reply: make("p", { class: "pcbchem-reply", role: "status" }),
    wrong: make("p", { class: "pcbchem-wrong", role: "alert" }),
    // the same once more beside many fields, where the eye is; who only hears the page has heard it
    wrongBesideFields: make("p", { class: "pcbchem-wrong", "aria-hidden": "true", hidden: "" }),
    error: make("pre", { class: "pcbchem-error", role: "alert" }),
    lost: make("p", { class: "pcbchem-lost", ...hiddenStatus }, NO_ANSWER + ENTRIES_STAY),
    // stands where the verdict stands, over the old one, which is dimmed
    state: make("p", { class: "pcbchem-state", role: "status" }),
    percent: make("span", { "aria-hidden": "true" }), // the bar says it to those who ask
    bar: make("progress", { max: 1, value: 0, hidden: "" }),
    table: make("div", { class: "pcbchem-table" }),
    filled: make("p", { class: "pcbchem-filled", ...hiddenStatus }),
  };
}

// One panel on the page and its conversation with Python: the page counts its questions in `asked`,
// and Python sets `done` to the number of the question that it has answered.
class PanelView {
  constructor(model, el) {
    this.model = model;
    this.el = el;
    this.parts = makeParts();
    this.controls = [];
    this.unsure = new Set(); // names of fields that show something else than what is in use
    this.unanswered = {}; // values that the reader has set and Python has not yet answered
    this.steps = []; // the same in the order of entering
    this.later = []; // what is to be done when the answer is there
    this.valuesAnswered = JSON.stringify(model.get("values"));
    this.answer = null; // of a panel whose words and picture are kept nowhere: they come as messages
    this.works = {}; // what does something once, by name
    this.tools = []; // its rows, in their order
    this.links = []; // ways on to other pages, in their order; null: nowhere that could be reached
    this.progress = null; // how far the answer is that is waited for
    this.isFleeting = model.get("fleeting");
    this.hasAnswered = model.get("done") > 0 && !this.isFleeting;
    this.opening = false; // while a file is opened: it fills even the field that has the focus
    this.shownHtml = new Map();
    this.moves = []; // steps of a cursor that are not answered yet: number of the question, and when
    this.pictureTurn = 0;
  }

  // Building

  build() {
    const { picture, notes, top, table } = this.parts;
    this.buildControls();
    const body = make("div", { class: "pcbchem-body" }, this.side, this.buildWords(), picture);
    let layout = `pcbchem-${this.model.get("layout_of")}`;
    if (this.isFleeting) layout += " pcbchem-fleeting";
    if (this.model.get("points")) layout += " pcbchem-cursor";
    this.whole = make(
      "section",
      // it takes the focus, and the keys with it: JupyterLab would take a letter that is typed
      // beside a field for a command, and the panel would be gone
      {
        ...KEYS,
        class: `pcbchem-widget pcbchem-panel ${layout}`,
        "aria-label": this.model.get("title"),
        tabindex: "-1",
      },
      top,
      body,
    );
    const rows = this.beside ? [this.beside.row] : [];
    // notes on a picture that is pointed at belong to it; those of a plan are long
    this.whole.append(table, ...(this.model.get("points") ? [notes, ...rows] : [...rows, notes]));
    if (this.isFleeting) {
      this.whole.append(make("p", { class: "pcbchem-on-paper" }, this.model.get("on_paper")));
      this.side.hidden = true; // until there is an answer: a page that is only kept shows no number
    }
    if (this.model.get("points")) this.listenToPointer(picture);
    this.el.append(this.whole);
  }

  // A press on the picture, or a move with the pointer held down, puts the cursor there.
  listenToPointer(picture) {
    picture.classList.add("pcbchem-pointed");
    const point = (event) => {
      event.preventDefault();
      const box = picture.getBoundingClientRect();
      const x = (event.clientX - box.left) / box.width;
      const y = (event.clientY - box.top) / box.height;
      this.unanswered = { ...this.model.get("values"), ...this.unanswered };
      this.model.set("values", this.unanswered);
      this.model.set("pointed", [x, y]);
      this.ask();
      this.dimSoon();
    };
    picture.addEventListener("pointerdown", (event) => {
      picture.setPointerCapture(event.pointerId);
      point(event);
    });
    picture.addEventListener("pointermove", (event) => {
      if (event.buttons === 1) point(event);
    });
  }

  buildControls() {
    const { wrongBesideFields, lost, filled } = this.parts;
    const rows = rowsOf(this.model.get("groups"), this, this.controls);
    const buttons = make("div", { class: "pcbchem-buttons" });
    if (rows.length > 0) buttons.append(makeButton("Reset", () => this.reset()));
    if (this.model.get("keeps")) buttons.append(...this.fileButtons());
    const says = [wrongBesideFields, lost];
    buttons.hidden = buttons.childElementCount === 0;
    // where values come from stands above them, where a reader looks who has just changed one
    this.side = make("div", { class: "pcbchem-rows" }, filled, ...rows, buttons, ...says);
  }

  // What can be done with this answer: it stands right under it.
  buildNext() {
    const next = make("div", { class: "pcbchem-next" });
    next.append(...rowsOf(this.model.get("next") ?? [], this, this.controls));
    this.offers = make("div", { class: "pcbchem-offers" });
    next.append(this.offers);
    if (this.model.get("beside")?.name) {
      this.beside = new BesideView(this, this.model.get("beside"));
      next.append(this.beside.keeper);
    }
    this.clock = new ClockView();
    if (this.model.get("has_clock")) next.append(this.clock.row);
    return next;
  }

  fileButtons() {
    const picker = make("input", {
      ...KEYS,
      type: "file",
      accept: ".json,application/json",
      class: "pcbchem-away",
      tabindex: "-1",
      "aria-hidden": "true",
    });
    picker.addEventListener("change", () => this.open(picker));
    this.saveButton = makeButton("Save these inputs as a file", () => this.save());
    return [this.saveButton, makeButton("Open a saved file", () => picker.click()), picker];
  }

  buildWords() {
    const { state, bar, headline, head, wrong, error, readout } = this.parts;
    const { prediction, guess, reply } = this.parts;
    const said = { "aria-live": "polite" };
    const words = make("div", { class: "pcbchem-words" }, state, bar, wrong, error);
    // what can be done with an answer stands where it can be seen, whatever else is said
    if (this.model.get("points")) {
      // what holds wherever the cursor stands is seen under each verdict, and not heard each time
      words.append(make("output", said, headline), head, make("output", said, readout));
      words.append(this.buildNext());
    } else {
      words.append(make("output", said, headline, " ", readout), this.buildNext(), head);
    }
    words.append(prediction, guess, reply);
    const next = words.querySelector(".pcbchem-next");
    const hasFields = this.model.get("layout_of") === "fields";
    this.links = this.model.get("links").map((link, place) => this.buildLink(link, place));
    (hasFields ? next : words).append(...this.links.filter((link) => link));
    return words;
  }

  buildLink([text, page], place) {
    const address = pageAddress(page);
    if (!address) return null;
    const link = make(
      "a",
      {
        ...KEYS,
        class: "pcbchem-onward",
        href: address,
        target: "_blank",
        rel: "noopener",
      },
      text,
    );
    link.addEventListener("click", (event) => {
      // while Python works, what would be handed over are the values before these
      if (this.isWaiting()) event.preventDefault();
      else handOver(page, this.told("handed")[place]);
    });
    return link;
  }

  // Asking Python

  valueInUse(name) {
    return this.model.get("values")[name];
  }

  // Do something with the answer to what stands in the fields: now, or when it is there.
  withAnswer(work, refuse) {
    // the answer may refuse what stands in a field
    if (this.unsure.size > 0) refuse(PRESS_ENTER);
    else if (this.isWaiting()) this.later.push(() => this.withAnswer(work, refuse));
    else if (Object.keys(this.told("beside_fields")).length > 0) refuse(CORRECT_MARKED);
    else work();
  }

  numberAnswered() {
    return this.isFleeting ? this.answer?.done : this.model.get("done");
  }

  isWaiting() {
    return this.numberAnswered() !== this.model.get("asked");
  }

  // What is said: it stands in the model, or has come as a message and stands nowhere else.
  told(name) {
    return this.answer ? this.answer[name] : this.model.get(name);
  }

  // An old verdict must not stand beside new inputs: it is dimmed at once, under a line that says so.
  send(changes, isHandedOver = false) {
    if (this.model.get("receives") && !isHandedOver) useUp(this.model.get("receives"));
    // also what was set while Python worked: its answer may still bring older values
    this.unanswered = { ...this.model.get("values"), ...this.unanswered, ...changes };
    this.model.set("values", this.unanswered);
    // one by one, each under the number of its question: what is entered while Python works comes
    // with it, and a unit that is chosen then is that of the number before it
    this.steps.push([this.model.get("asked") + 1, changes]);
    this.model.set("entered", [...this.steps]);
    this.showFieldsInUse();
    this.ask();
    if (this.movesCursor(changes)) this.dimSoon();
    else this.setStale(true);
    this.parts.filled.hidden = true;
    this.forgetNotes();
    if (this.saveButton) this.saveButton.disabled = true; // until there is a file of these
  }

  ask() {
    this.model.set("asked", this.model.get("asked") + 1);
    // while Python works the widget holds this back and merges it with what comes later: none pile up
    this.model.save_changes();
    this.keepWaiting();
  }

  keepWaiting() {
    clearTimeout(this.lostTimer);
    // before its first answer a panel waits for the cells after it to run
    const patience = this.hasAnswered ? PATIENCE : LONG_PATIENCE;
    this.lostTimer = setTimeout(() => this.giveUp(), patience);
  }

  // How far an answer is: it comes, however long it takes.
  hearProgress({ progress, words }) {
    if (!this.isWaiting()) return;
    this.keepWaiting();
    this.parts.lost.hidden = true;
    if (!this.whole.classList.contains("pcbchem-stale")) this.setStale(true);
    this.progress = { share: progress, words };
    this.sayState();
  }

  giveUp() {
    this.parts.lost.hidden = false;
    this.side.inert = false; // no file comes any more: the reader may enter again
    this.sayState();
  }

  answered() {
    this.progress = null;
    if (this.isWaiting()) {
      this.sayState();
      this.dimInTime(); // a later question is still on its way
      return;
    }
    this.hasAnswered = true;
    this.side.hidden = false;
    this.whole.classList.add("pcbchem-answered");
    clearTimeout(this.lostTimer);
    this.parts.lost.hidden = true;
    this.setStale(false);
    this.noteChange();
    this.unanswered = {};
    this.steps = [];
    this.fillControls();
    if (this.saveButton) this.saveButton.disabled = !this.told("file");
    for (const work of this.later.splice(0)) work();
    // a better answer to the same values takes longer: it is asked for when this one is seen
    if (this.told("coarse")) setTimeout(() => this.askForMore(), 50);
  }

  // Also another view of this panel, or another page, may have changed the values: a card that was
  // made for others must not be opened again beside these.
  noteChange() {
    const values = JSON.stringify(this.model.get("values"));
    const isOwn = Object.keys(this.unanswered).length > 0;
    if (values !== this.valuesAnswered && !isOwn) {
      this.forgetNotes();
      // what was filled in then is no more; of a file that is opened something may be said
      if (!this.opening) this.parts.filled.hidden = true;
    }
    this.valuesAnswered = values;
  }

  // What was said, or made, for other values.
  forgetNotes() {
    for (const work of Object.values(this.works)) work.forget();
    this.beside?.forget();
  }

  askForMore() {
    if (!this.isWaiting() && this.unsure.size === 0) this.ask();
  }

  setStale(stale) {
    clearTimeout(this.staleTimer);
    this.moves = [];
    this.isSlow = false;
    this.whole.classList.toggle("pcbchem-stale", stale);
    if (stale) {
      this.staleTimer = setTimeout(() => {
        this.isSlow = true;
        this.sayState();
      }, STALE);
    }
    this.sayState();
  }

  // A cursor on a picture goes by sliders or by pointer, many times a second: what is dimmed for each
  // of its steps would flicker.
  movesCursor(changes) {
    if (!this.model.get("points")) return false;
    const all = this.model.get("groups").flatMap((group) => group.controls ?? [group]);
    const sliders = all.filter((control) => control.kind === "slider");
    const names = new Set(sliders.map((control) => control.name));
    return Object.keys(changes).every((name) => names.has(name));
  }

  dimSoon() {
    if (this.whole.classList.contains("pcbchem-stale")) return; // it waits for more than a cursor
    this.moves.push([this.model.get("asked"), performance.now()]);
    this.dimInTime();
  }

  // No words stand beside a cursor that has left their place for longer than that, not even while it
  // goes on and on: the time counts from the first step that is not answered, not from the last.
  dimInTime() {
    if (this.whole.classList.contains("pcbchem-stale")) return;
    const done = this.numberAnswered() ?? 0;
    this.moves = this.moves.filter(([number]) => number > done);
    clearTimeout(this.staleTimer);
    if (this.moves.length === 0) return;
    const left = this.moves[0][1] + CURSOR - performance.now();
    this.staleTimer = setTimeout(() => this.setStale(true), Math.max(0, left));
  }

  // One line over what is dimmed: what it waits for.
  sayState() {
    const { state, bar } = this.parts;
    let words = "";
    const isMarked = this.side.querySelector(".pcbchem-complaint");
    bar.hidden = true;
    if (this.progress && this.unsure.size === 0) {
      this.sayProgress(this.progress);
      return;
    }
    if (this.unsure.size > 0) words = isMarked ? CORRECT_FIRST : PRESS_ENTER;
    else if (this.isSlow) words = WORKING;
    else if (this.whole.classList.contains("pcbchem-stale")) words = CHANGED;
    // heard where something is to be done: a verdict that comes is heard itself
    state.setAttribute("aria-live", words === CHANGED ? "off" : "polite");
    setText(state, words);
  }

  // What is being done is heard once, not with each per cent.
  sayProgress({ share, words }) {
    const { state, bar, percent } = this.parts;
    percent.textContent = `: ${Math.floor(100 * share)} %`;
    state.setAttribute("aria-live", "polite");
    const isSame = percent.parentElement === state && state.firstChild.textContent === words;
    if (!isSame) state.replaceChildren(words, percent);
    bar.value = share;
    bar.hidden = false;
    bar.setAttribute("aria-label", words);
  }

  // No verdict stands beside a number that is not counted in it.
  doubt(name, isDoubtful) {
    if (isDoubtful) this.unsure.add(name);
    else this.unsure.delete(name);
    this.whole.classList.toggle("pcbchem-unsure", this.unsure.size > 0);
    this.sayState();
  }

  // Controls

  reset() {
    const starts = {};
    for (const control of this.controls) {
      // what another page handed over was not entered here, nor is a file another one by this
      if (control.kind === "carried" || control.stays) continue;
      control.put(control.start);
      starts[control.name] = control.start;
    }
    this.send(starts);
  }

  // The values in use, in every control but the one in which the reader is writing.
  fillControls() {
    const values = this.model.get("values");
    for (const { name, row, put, edited } of this.controls) {
      const isBusy = row.contains(document.activeElement) && (edited?.() ?? true);
      if (this.opening || !isBusy) put(values[name]);
    }
    this.opening = false;
    this.side.inert = false;
    this.showFieldsInUse();
    this.sayBesideFields();
  }

  // What Python says of what stands in a field; of what is not seen it stands with the words.
  sayBesideFields() {
    const beside = this.told("beside_fields");
    const read = this.told("read_as");
    const unseen = [];
    for (const { name, row, refuse, readAs } of this.controls) {
      const words = beside[name] ?? "";
      const group = row.closest("details");
      if (words && group) group.open = true;
      refuse?.(words);
      readAs?.(read[name] ?? "");
      if (words && (!refuse || row.hidden)) unseen.push(words);
    }
    const { wrong } = this.parts;
    setText(wrong, [this.told("wrong"), ...unseen].filter((words) => words).join(" "));
    wrong.hidden = !wrong.textContent;
  }

  // Some fields are there only while another choice calls for them.
  showFieldsInUse() {
    const values = { ...this.model.get("values"), ...this.unanswered };
    for (const { when, row, name, put } of [...this.controls, ...this.tools]) {
      if (!when) continue;
      const [choice, calling] = when;
      row.hidden = !calling.includes(values[choice]);
      // what is not seen keeps nobody waiting
      if (row.hidden && this.unsure.has(name)) put(values[name]);
    }
    placeUnits(this.controls);
  }

  // An offer that is taken goes with its answer: the focus goes on to the verdict.
  take(words, values) {
    this.putIn(values);
    setText(this.parts.filled, `Put into the fields: ${words}.`);
    this.parts.filled.hidden = false;
    this.whole.focus();
  }

  // Values that a button or a kept row offers.
  putIn(values) {
    const known = {};
    for (const { name, put } of this.controls) {
      if (!(name in values)) continue; // as one that another page has a field for
      known[name] = values[name];
      put(values[name]);
    }
    this.send(known);
  }

  save() {
    // not the inputs before these, and not while a field shows something else
    if (this.isWaiting() || this.unsure.size > 0) return;
    download(this.told("file"), this.model.get("file_name"));
  }

  async open(picker) {
    const file = picker.files[0];
    if (!file) return;
    const text = await file.text();
    this.opening = true;
    this.unanswered = {};
    this.parts.filled.hidden = true;
    this.side.inert = true; // nothing may be entered that the file would overwrite
    this.setStale(true);
    this.model.set("opened", text);
    this.ask();
    picker.value = ""; // so that the same file can be opened again
  }

  // Put in what another page handed over, with its words for where that is from.
  fillIn(values) {
    const known = {};
    for (const { name, put } of this.controls) {
      if (!(name in values)) continue;
      known[name] = values[name];
      put(values[name]);
    }
    this.send(known, true);
    this.whole.classList.add("pcbchem-handed"); // where the end of the page brings its reader
    this.setStale(true); // at once: what stands here is nobody's
    this.parts.filled.textContent = String(values.why || "Filled in from another page.");
    this.parts.filled.hidden = false;
  }

  // What the page says and shows

  say() {
    const { picture, top, head, notes, headline, readout, table } = this.parts;
    const { prediction, guess, reply, error, filled, wrongBesideFields } = this.parts;
    this.setHtml(top, this.told("top"));
    this.setHtml(head, this.told("head"));
    this.setHtml(notes, this.told("notes"));
    picture.alt = this.told("alt");
    setText(headline, this.told("headline"));
    setText(readout, this.told("readout"));
    prediction.textContent = this.told("predicted");
    guess.textContent = this.told("guess");
    reply.textContent = this.told("reply"); // never hidden: what is hidden is not heard later
    this.sayBesideFields();
    this.setHtml(table, this.told("table") ?? "");
    error.textContent = this.model.get("error");
    const hasFields = this.model.get("layout_of") === "fields";
    wrongBesideFields.textContent = hasFields ? this.told("wrong") || this.model.get("error") : "";
    for (const part of [error, prediction, guess, wrongBesideFields]) {
      part.hidden = !part.textContent;
    }
    if (this.model.get("remark")) {
      setText(filled, this.model.get("remark"));
      filled.hidden = false;
    }
    // a picture that nothing is said of may be that of other inputs
    picture.hidden = Boolean(this.told("wrong")) || !this.told("png") || !this.told("readout");
    if (this.saveButton) this.saveButton.disabled = !this.told("file") || this.isWaiting();
    this.links.forEach((link, place) => {
      if (link) link.hidden = Object.keys(this.told("handed")[place] ?? {}).length === 0;
    });
    this.clock.put(this.told("looks"));
    const offers = this.told("offers") ?? [];
    const offerButtons = offers.map(([words, values]) => makeButton(words, () => this.take(words, values)));
    this.offers.replaceChildren(...offerButtons);
  }

  // What the reader has unfolded stays unfolded, and text that is the same stays untouched.
  setHtml(where, html) {
    if (this.shownHtml.get(where) === html) return;
    const open = [...where.querySelectorAll("details")].map((details) => details.open);
    const isRead = where.contains(document.activeElement); // a table that is scrolled by keyboard
    this.shownHtml.set(where, html);
    where.innerHTML = html;
    mendLinks(where);
    if (isRead) where.querySelector('[tabindex="0"]')?.focus();
    where.querySelectorAll("details").forEach((details, place) => {
      details.open = Boolean(open[place]);
      details.querySelector("summary")?.setAttribute("data-lm-suppress-shortcuts", "true");
    });
  }

  // The next picture is decoded before it takes the place of this one: no frame is blank.
  async paint() {
    this.pictureTurn += 1;
    const turn = this.pictureTurn;
    const png = this.told("png");
    if (!png) return;
    const address = URL.createObjectURL(new Blob([png]));
    const probe = new Image();
    probe.src = address;
    await probe.decode().catch(() => {}); // one that cannot be decoded shows its words
    if (turn !== this.pictureTurn) {
      URL.revokeObjectURL(address); // a later picture has come meanwhile
      return;
    }
    this.parts.picture.src = address;
    // no larger than it was drawn
    const drawn = Math.ceil(probe.naturalWidth / this.model.get("dpr"));
    if (drawn > 0) this.parts.picture.style.maxWidth = `min(768px, ${drawn}px)`;
    if (this.pictureAddress) URL.revokeObjectURL(this.pictureAddress);
    this.pictureAddress = address;
  }

  // Ask for a picture that fits the panel's width and the screen's pixels.
  fitPicture() {
    const width = this.el.clientWidth; // 0 while JupyterLab has the page in a hidden tab
    const narrow = width > 0 && width < NARROW;
    const dpr = window.devicePixelRatio;
    if (narrow === this.model.get("narrow") && dpr === this.model.get("dpr")) return;
    this.model.set("narrow", narrow);
    this.model.set("dpr", dpr);
    this.ask();
  }

  // From the first look to the last

  start() {
    this.build();
    this.model.on("change:png", () => this.paint());
    this.model.on(WORDS_CHANGE, () => this.say());
    this.model.on("change:done", () => {
      if (!this.isFleeting) this.answered();
    });
    this.model.on("msg:custom", (content, buffers) => this.receive(content, buffers));
    // new pupils begin with the values of the start, though nobody here has asked for them
    this.model.on("change:values", () => {
      if (!this.isWaiting()) this.fillControls();
    });
    this.resizing = new ResizeObserver(() => this.fitPicture());
    this.resizing.observe(this.el);
    // also to a panel that was asked before: the page was opened for this
    const receives = this.model.get("receives");
    // a page that is loaded again asks which files Python still holds
    if (this.tools.some(({ kind }) => kind === "upload")) this.model.send({ fresh: true });
    const values = receives ? handedOver(receives) : null;
    this.say();
    this.fillControls();
    this.paint();
    this.fitPicture();
    if (values) this.fillIn(values);
    else if (this.isFleeting) this.askAtFirst();
    else if (this.told("coarse")) this.askForMore();
    this.beside?.start();
  }

  // What is kept nowhere has to be asked for, also by a page that was only loaded again.
  askAtFirst() {
    this.ask();
    this.setStale(true);
  }

  // What Python sends beside the model: an answer that is kept nowhere, or what a work has come to.
  receive(content, buffers) {
    if (content.answer) {
      const png = buffers[0]?.byteLength ? buffers[0] : null;
      const isSame = this.answer && sameBytes(png, this.answer.png);
      this.answer = { ...content.answer, png };
      this.say();
      if (!isSame) this.paint(); // as when a file is refused: what stands there stays untouched
      this.answered();
    } else if (content.work) {
      this.works[content.work].receive(content, buffers);
    } else if (content.beside) {
      this.beside.receive(content);
    } else if (content.question !== undefined) {
      this.hearProgress(content);
    }
  }

  stop() {
    this.resizing.disconnect();
    this.clock.close();
    this.beside?.close();
    clearTimeout(this.lostTimer);
    clearTimeout(this.staleTimer);
    if (this.pictureAddress) URL.revokeObjectURL(this.pictureAddress);
  }
}

function render({ model, el }) {
  const view = new PanelView(model, el);
  view.start();
  return () => view.stop();
}

export default { render };

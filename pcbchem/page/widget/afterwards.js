// What comes after a prediction, and the end of a page.

const LOOK_AGAIN = 150; // ms between two looks at where the page stands
const SETTLE = 3000; // ms in which a page that has run may still scroll down by itself
const JUST_NOW = 8000; // ms within which the end of a page counts as made just now
const READER_ACTS = ["wheel", "touchmove", "keydown", "pointerdown"];

// A text that comes when the predictions are made.
class AfterwardsView {
  constructor(model, el) {
    this.model = model;
    this.frame = make("div", { class: "pcbchem-widget pcbchem-afterwards" });
    el.append(this.frame);
    model.on("change:html", () => this.show());
    this.show();
  }

  show() {
    const html = this.model.get("html");
    this.frame.classList.toggle("pcbchem-waits", !html);
    if (!html) {
      this.frame.replaceChildren(make("p", {}, this.model.get("waits")));
      return;
    }
    this.frame.innerHTML = html;
    mendLinks(this.frame);
    for (const summary of this.frame.querySelectorAll("summary")) {
      summary.setAttribute("data-lm-suppress-shortcuts", "true");
    }
  }

  stop() {}
}

// The link back up, and the way there without a click after the whole page has run.
class PageEndView {
  constructor(model, el) {
    this.model = model;
    this.el = el;
    const frame = make("section", {
      class: "pcbchem-widget pcbchem-end",
      "aria-label": "End of the page",
    });
    this.conversation = new Conversation(model, frame, () => {
      this.news.textContent = "All answers are forgotten: every question waits again.";
      this.goToQuestion(); // the next readers begin there
    });
    const link = make("a", { ...KEYS, href: "#" }, model.get("link_words"));
    link.addEventListener("click", (event) => this.follow(event));
    this.news = make("p", { class: "pcbchem-kept", role: "status" });
    const buttons = make("div", { class: "pcbchem-buttons" });
    if (model.get("forgets")) buttons.append(forgetButton(this.conversation, buttons));
    frame.append(make("p", {}, link), buttons, this.news);
    el.append(frame);
    model.on("change:keeps", () => {
      if (model.get("keeps")) this.news.textContent = "";
    });
    this.comeBackUpOnce();
  }

  follow(event) {
    event.preventDefault();
    event.stopPropagation();
    this.goToQuestion();
  }

  goToQuestion() {
    this.leaveReaderAlone();
    this.goUp();
    // a cell far up is built only when it comes into view
    requestAnimationFrame(() => requestAnimationFrame(() => this.goUp(true)));
  }

  // Once, and only where the whole page has just run: the reader stands at its foot.
  comeBackUpOnce() {
    const isFresh = this.model.get("fresh");
    const age = Math.abs(Date.now() - this.model.get("at"));
    if (!isFresh) return;
    this.model.set("fresh", false);
    this.model.save_changes();
    if (age > JUST_NOW) return;
    this.stopWaiting = () => this.leaveReaderAlone();
    for (const act of READER_ACTS) window.addEventListener(act, this.stopWaiting, true);
    this.goToPlace();
    // cells that are still running, and pictures that come, move the page for a while
    this.again = setInterval(() => this.goToPlace(), LOOK_AGAIN);
    this.enough = setTimeout(() => {
      this.leaveReaderAlone();
      this.goToPlace(true);
    }, SETTLE);
  }

  leaveReaderAlone() {
    clearInterval(this.again);
    clearTimeout(this.enough);
    for (const act of READER_ACTS) window.removeEventListener(act, this.stopWaiting, true);
  }

  // Whoever comes from another page wants the panel that it filled in.
  goToPlace(focus = false) {
    const handed = this.page().querySelector(".pcbchem-handed");
    if (!handed) {
      this.goUp(focus);
      return;
    }
    handed.scrollIntoView({ block: "start" });
    if (focus) handed.focus({ preventScroll: true });
  }

  page() {
    return this.el.closest(".jp-NotebookPanel") || document;
  }

  goUp(focus = false) {
    const page = this.page();
    // to the title, where JupyterLab builds what is in view alone
    const outer = page.querySelector(".jp-WindowedPanel-outer");
    if (outer) outer.scrollTop = 0;
    else window.scrollTo(0, 0);
    const first = page.querySelector(".pcbchem-widget");
    if (!first || first.closest(".pcbchem-end")) return;
    const foot = outer ? outer.getBoundingClientRect().bottom : window.innerHeight;
    if (first.getBoundingClientRect().bottom > foot) first.scrollIntoView({ block: "start" });
    if (!focus) return;
    first.setAttribute("tabindex", "-1");
    first.focus({ preventScroll: true });
  }

  stop() {
    this.leaveReaderAlone();
    this.conversation.stop();
  }
}

// What predictions, questions and the end of a page share. Python puts their scripts before this.

const WAITS = "The page is still running: your answer waits.";

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
    if (IN_APP || this.model.get("done")) {
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

const FORGET = "New pupils: forget all answers";
const SURE = "Press again: all answers are forgotten";
const CHANGED_MIND = 5000; // ms after which a first press counts no more

// The button with which the next readers begin: Python forgets the answers of the whole page. Two
// presses, for one would take a table's work by mistake.
function forgetButton(conversation, place) {
  let armed;
  const disarm = () => {
    clearTimeout(armed);
    armed = undefined;
    button.textContent = FORGET;
  };
  const button = makeButton(
    FORGET,
    () => {
      if (armed) {
        disarm();
        conversation.send({ forget: true }, place);
        return;
      }
      button.textContent = SURE;
      armed = setTimeout(disarm, CHANGED_MIND);
    },
    { class: "pcbchem-forget" },
  );
  return button;
}

// by `kind`, as each widget of Python calls itself
const VIEWS = {
  predict: PredictionView,
  check: CheckView,
  afterwards: AfterwardsView,
  end: PageEndView,
};

function render({ model, el }) {
  const view = new VIEWS[model.get("kind")](model, el);
  return () => view.stop();
}

export default { render };

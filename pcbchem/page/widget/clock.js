// A clock for the tray: from *board in* it counts, and says when to look next. No sound unless asked.

// 75 s is "1:15".
function clockText(seconds) {
  const whole = Math.max(0, Math.round(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

// The look that is next at a time: the first, and then one after every interval [s].
function nextLook([first, every], seconds) {
  if (seconds < first) return first;
  return first + every * (Math.floor((seconds - first) / every) + 1);
}

class ClockView {
  constructor() {
    this.looks = null; // those of the plan on the page
    this.started = null; // ms; null: it stands
    this.button = makeButton("Board in: start the clock", () => this.toggle());
    this.face = make("output", { class: "pcbchem-clock-face", role: "timer", "aria-live": "off" });
    this.word = make("p", { class: "pcbchem-remark", role: "status" });
    const box = make("input", { ...KEYS, type: "checkbox" });
    this.sound = box;
    this.label = make("label", {}, box, " a tone at each look");
    const parts = [this.button, this.label, this.face, this.word];
    this.row = make("div", { class: "pcbchem-clock", hidden: "" }, ...parts);
  }

  // Another plan has other looks: a clock that runs goes on with those that it was started for.
  put(looks) {
    this.looks = looks;
    this.row.hidden = !looks && this.started === null;
    this.button.hidden = !looks && this.started === null;
    if (this.started !== null && String(looks) !== String(this.running)) {
      setText(this.word, "The inputs have changed. This clock runs for the bath it was started with.");
    }
  }

  toggle() {
    if (this.started === null) this.start();
    else this.stop();
  }

  start() {
    this.running = this.looks;
    this.started = Date.now();
    this.seen = this.running[0];
    this.button.textContent = "Board out: stop the clock";
    if (this.sound.checked) this.tone(0); // a browser lets a page sound only after a press
    setText(this.word, `Look first at ${clockText(this.running[0])}.`);
    this.timer = setInterval(() => this.tick(), 250);
    this.tick();
  }

  stop() {
    clearInterval(this.timer);
    const seconds = (Date.now() - this.started) / 1000;
    this.started = null;
    this.button.textContent = "Board in: start the clock";
    this.face.textContent = "";
    setText(this.word, `The board was in for ${clockText(seconds)}. Write it down.`);
    this.put(this.looks);
  }

  tick() {
    const seconds = (Date.now() - this.started) / 1000;
    const next = nextLook(this.running, seconds);
    this.face.textContent = `${clockText(seconds)} in. Next look at ${clockText(next)}.`;
    if (next === this.seen) return;
    const [first] = this.running;
    setText(this.word, this.seen === first ? "Look now, for the first time." : "Look now.");
    if (this.sound.checked) this.tone(0.2);
    this.seen = next;
  }

  tone(seconds) {
    this.audio ??= new AudioContext();
    const source = this.audio.createOscillator();
    source.frequency.value = 880; // Hz
    source.connect(this.audio.destination);
    source.start();
    source.stop(this.audio.currentTime + seconds);
  }

  close() {
    clearInterval(this.timer);
  }
}

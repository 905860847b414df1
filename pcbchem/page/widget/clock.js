// A clock for the tray: from *board in* it counts, and says when to look next. No sound unless asked.

const TONE = 880; // Hz
const WATCH = "Watch the thermometer all the time: at 45 °C board out.";
const STAY = "Write it down. Stay at least an hour: the bath may get hottest now.";
const OTHER_BATH = "The inputs have changed: this clock goes by the bath it was started for.";

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
    this.running = null; // those of the bath for which it was started; null: it stands
    this.button = makeButton("Board in: start the clock", () => this.toggle());
    this.sound = make("input", { ...KEYS, type: "checkbox" });
    const label = make("label", {}, this.sound, " a tone at each look");
    this.face = make("p", { class: "pcbchem-clock-face", role: "timer", "aria-live": "off" });
    this.word = make("p", { class: "pcbchem-remark", role: "status" });
    this.other = make("p", { class: "pcbchem-remark", role: "status" });
    const parts = [this.button, label, this.face, this.word, this.other];
    this.row = make("div", { class: "pcbchem-clock", hidden: "" }, ...parts);
  }

  // Another plan has other looks: a clock that runs goes on with those that it was started for.
  put(looks) {
    this.looks = looks;
    this.row.hidden = !looks && !this.running && !this.word.textContent;
    this.button.hidden = !looks && !this.running;
    const isOther = this.running && String(looks) !== String(this.running);
    setText(this.other, isOther ? OTHER_BATH : "");
  }

  toggle() {
    if (this.running) this.stop();
    else this.start();
  }

  start() {
    this.running = this.looks;
    this.started = Date.now();
    this.next = this.running[0];
    this.button.textContent = "Board out: stop the clock";
    if (this.sound.checked) this.tone(0); // a browser lets a page sound only after a press
    setText(this.word, WATCH);
    this.timer = setInterval(() => this.tick(), 250);
    this.tick();
  }

  stop() {
    clearInterval(this.timer);
    const seconds = (Date.now() - this.started) / 1000;
    this.running = null;
    this.button.textContent = "Board in: start the clock";
    this.face.textContent = "";
    setText(this.word, `The board was in for ${clockText(seconds)}. ${STAY}`);
    this.put(this.looks);
  }

  tick() {
    const seconds = (Date.now() - this.started) / 1000;
    const next = nextLook(this.running, seconds);
    this.face.textContent = `${clockText(seconds)} in. Look at the board at ${clockText(next)}.`;
    if (next === this.next) return;
    setText(this.word, `Look now, at ${clockText(this.next)}. ${WATCH}`);
    if (this.sound.checked) this.tone(0.2);
    this.next = next;
  }

  tone(seconds) {
    this.audio ??= new AudioContext();
    const source = this.audio.createOscillator();
    source.frequency.value = TONE;
    source.connect(this.audio.destination);
    source.start();
    source.stop(this.audio.currentTime + seconds);
  }

  close() {
    clearInterval(this.timer);
  }
}

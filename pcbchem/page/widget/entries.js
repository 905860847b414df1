// What a reader types on a panel: numbers with their units, and lines of words; each with its own
// message beside it.

// Ten digits hide the rounding of binary numbers: 0.1 + 0.2 is written 0.3.
function numberToText(value) {
  if (value === null || value === undefined) return "";
  return String(Number(Number(value).toPrecision(10)));
}

// A number as people write it, with a point or a comma; NaN for anything else, null for nothing.
function numberFromText(text) {
  const plain = text // blanks stand between thousands; a copied minus is a typographer's
    .replace(/[\s\u00a0]/g, "")
    .replace("\u2212", "-")
    .replace(",", ".");
  if (plain === "") return null;
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : NaN;
}

// A number and what stands after it: its value in the control's own unit, and the option of another
// control that it chooses with that ("31 %"); NaN for what cannot be read.
function readEntry(control, text) {
  const own = { value: numberFromText(text), chosen: null, unit: "", isOther: false };
  if (!Number.isNaN(own.value)) return own;
  const match = /^\s*([-\u2212]?[\d.,\s\u00a0]*\d[.,]?)\s*([^\d\s].*?)\s*$/.exec(text);
  if (!match) return own;
  const number = numberFromText(match[1]);
  const unit = match[2].toLowerCase().replace(/\s+/g, " ");
  const reads = control.reads ?? {};
  if (Object.hasOwn(reads, unit)) {
    const [scale, offset] = reads[unit];
    // nine digits: 3 in is 76.2 mm, not 76.19999999999999
    const value = Number((number * scale + offset).toPrecision(9));
    return { value, chosen: null, unit, isOther: scale !== 1 || offset !== 0 };
  }
  const [choice, options] = control.chooses ?? ["", {}];
  if (Object.hasOwn(options, unit)) {
    return { value: number, chosen: [choice, options[unit]], unit, isOther: false };
  }
  return own;
}

function isAllowed(control, value) {
  if (value === null) return control.start === null; // it may be left blank
  return value >= control.low && value <= control.high;
}

function complaint(control, valueInUse) {
  // where the unit is chosen beside the field its limits hang on that: Python knows them
  const ends = ` from ${numberToText(control.low)} to ${numberToText(control.high)}`;
  const limits = control.chooses ? "" : `${ends} ${control.unit}`.trimEnd();
  const still = numberToText(valueInUse);
  const stillUsed = still ? ` Still used: ${still}.` : "";
  const words = Object.keys(control.reads ?? {}).length > 1 ? unitsRead(control) : "";
  return `${control.label}: a number${limits}, please.${words}${stillUsed}`;
}

// Some of the units that may be written after a number.
function unitsRead(control) {
  const units = Object.keys(control.reads).slice(0, 4).join(", ");
  return ` Units understood: ${units}.`;
}

function otherUnit(control, text, value) {
  return `${text.trim()} is ${numberToText(value)} ${control.unit}.`;
}

function betweenSteps(typed, taken) {
  return `${numberToText(typed)} is between two steps: taken as ${numberToText(taken)}.`;
}

// The value that an arrow key leads to: whole steps, inside the limits.
function stepped(control, text, way) {
  const typed = numberFromText(text);
  const from = typed !== null && Number.isFinite(typed) ? typed : control.low;
  // steps to six decimals: else 0.1 would be left as 0.30000000000000004 after three presses
  const steps = Math.round(((from + way * control.step) / control.step) * 1e6) / 1e6;
  return Math.min(control.high, Math.max(control.low, steps * control.step));
}

// The message beside an entry: what is wrong with what stands there, here or in Python's words, or
// else how it was read.
function noteBeside(box) {
  const note = make("span", { class: "pcbchem-note", id: freshId(), role: "alert" });
  const words = { complaint: "", refusal: "", hint: "" };
  const say = (news) => {
    Object.assign(words, news);
    const wrong = words.complaint || words.refusal;
    setText(note, wrong || words.hint);
    note.classList.toggle("pcbchem-hint", !wrong);
    note.classList.toggle("pcbchem-complaint", Boolean(words.complaint));
    box.setAttribute("aria-invalid", String(Boolean(wrong)));
  };
  return {
    note,
    complain: (complaint) => say({ complaint, hint: "" }),
    refuse: (refusal) => say({ refusal }),
    hint: (hint) => say({ hint }),
  };
}

// The text field of a slider or of a field, with its own message beside it. `current` gives the
// value in use, `use` takes a new one, and `doubt` hears whether the field shows another than that.
function numberEntry(control, name, { current, use, doubt }) {
  const id = freshId();
  const box = make("input", {
    ...KEYS,
    id,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    spellcheck: "false",
    size: 7,
    "aria-label": name,
  });
  const { note, complain, refuse, hint } = noteBeside(box);
  box.setAttribute("aria-describedby", note.id);
  let isEdited = false; // since what stands there was taken, or put there
  const confirm = () => {
    const text = box.value;
    const { value, chosen, unit, isOther } = readEntry(control, text);
    if (!isAllowed(control, value)) {
      complain(complaint(control, current()));
      doubt(true);
      return;
    }
    isEdited = false;
    complain("");
    doubt(false);
    if (unit) box.value = numberToText(value);
    if (isOther) hint(otherUnit(control, text, value));
    // leaving a field after Enter asks for nothing new
    if (value !== current() || chosen) use(value, chosen);
  };
  const put = (value) => {
    const text = numberToText(value);
    // what is said of the number that stands there stays beside it
    if (box.value !== text) complain("");
    box.value = text;
    isEdited = false;
    doubt(false);
  };
  box.addEventListener("input", () => {
    isEdited = true;
    doubt(readEntry(control, box.value).value !== current());
  });
  // leaving a field counts as Enter, but not once more for what Enter has taken
  box.addEventListener("change", () => {
    if (isEdited) confirm();
  });
  box.addEventListener("keydown", (event) => {
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (way) box.value = numberToText(stepped(control, box.value, way));
    if (way || event.key === "Enter") {
      event.preventDefault();
      confirm();
    }
  });
  return { id, box, note, put, hint, refuse, edited: () => isEdited };
}

const HALF_A_LETTER = "holds half of a letter, as copied text may: type it again.";

// One line of words. Python says what is wrong with it: what it refuses stays in its field.
function textEntry(control, { current, use, doubt }) {
  const id = freshId();
  const box = make("input", {
    ...KEYS,
    id,
    type: "text",
    maxlength: control.most,
    autocomplete: "off",
    spellcheck: "false",
  });
  const { note, complain, refuse } = noteBeside(box);
  // how a time was read is no alarm
  const reading = make("span", { class: "pcbchem-meaning", id: `${id}-read`, role: "status" });
  let isEdited = false;
  const confirm = () => {
    const text = box.value;
    // no message could take it to Python
    if (text.isWellFormed && !text.isWellFormed()) {
      complain(`${control.label} ${HALF_A_LETTER}`);
      doubt(true);
      return;
    }
    isEdited = false;
    complain("");
    doubt(false);
    if (text !== current()) use(text);
  };
  const put = (value) => {
    const text = value ?? "";
    if (box.value !== text) {
      complain("");
      setText(reading, "");
    }
    box.value = text;
    isEdited = false;
    doubt(false);
  };
  box.addEventListener("input", () => {
    isEdited = true;
    setText(reading, ""); // how another text was read
    doubt(box.value !== current());
  });
  box.addEventListener("change", () => {
    if (isEdited) confirm();
  });
  box.addEventListener("keydown", (event) => {
    // Enter that ends a word of an input method is not for the field
    if (event.key !== "Enter" || event.isComposing) return;
    event.preventDefault();
    confirm();
  });
  const readAs = (words) => {
    if (!isEdited) setText(reading, words);
  };
  return { id, box, note, reading, put, refuse, readAs, edited: () => isEdited };
}

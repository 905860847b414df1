// The controls of a panel: a row of the page for each, and a way to put a value into it.

function labelWithUnit(control) {
  return control.unit ? `${control.label} (${control.unit})` : control.label;
}

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

function isAllowed(control, value) {
  if (value === null) return control.start === null; // it may be left blank
  return value >= control.low && value <= control.high;
}

function complaint(control, valueInUse) {
  const unit = control.unit ? " " + control.unit : "";
  const limits = `${numberToText(control.low)} to ${numberToText(control.high)}${unit}`;
  const still = numberToText(valueInUse);
  const stillUsed = still ? ` Still used: ${still}.` : "";
  return `${control.label}: a number from ${limits}, please.${stillUsed}`;
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

// The text field of a slider or of a field, with its own message beside it. `current` gives the
// value in use, `use` takes a new one, and `doubt` hears whether the field shows another than that.
function numberEntry(control, name, { current, use, doubt }) {
  const id = freshId();
  const note = make("span", { class: "pcbchem-note", id: `${id}-note`, role: "alert" });
  const box = make("input", {
    ...KEYS,
    id,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    spellcheck: "false",
    size: 7,
    "aria-label": name,
    "aria-describedby": note.id,
  });
  const complain = (words) => {
    note.textContent = words;
    box.setAttribute("aria-invalid", words ? "true" : "false");
  };
  const confirm = () => {
    const value = numberFromText(box.value);
    if (!isAllowed(control, value)) {
      complain(complaint(control, current()));
      doubt(true);
      return;
    }
    complain("");
    doubt(false);
    if (value !== current()) use(value); // leaving a field after Enter asks for nothing new
  };
  const put = (value) => {
    const text = numberToText(value);
    // what is said of the number that stands there stays beside it
    if (box.value !== text) complain("");
    box.value = text;
    doubt(false);
  };
  box.addEventListener("input", () => doubt(numberFromText(box.value) !== current()));
  box.addEventListener("change", confirm);
  box.addEventListener("keydown", (event) => {
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (way) box.value = numberToText(stepped(control, box.value, way));
    if (way || event.key === "Enter") {
      event.preventDefault();
      confirm();
    }
  });
  return { id, box, note, put };
}

// Each kind of control is one `row` in the page, and a way to `put` a value into it. `view` knows
// the values in use, and is told what the reader enters.

function choiceRow(control, view) {
  const group = freshId();
  const boxes = {};
  const options = make("div", { class: "pcbchem-options" });
  for (const [value, words] of control.options) {
    const { box, label } = radioOption(group, value, words);
    box.addEventListener("change", () => view.send({ [control.name]: value }));
    boxes[value] = box;
    options.append(label);
  }
  const put = (value) => {
    if (boxes[value]) boxes[value].checked = true;
  };
  return { row: make("fieldset", {}, make("legend", {}, control.label), options), put };
}

function fieldRow(control, view) {
  const entry = numberEntry(control, labelWithUnit(control), {
    current: () => view.valueInUse(control.name),
    use: (value) => view.send({ [control.name]: value }),
    doubt: (yes) => view.doubt(control.name, yes),
  });
  const label = make("label", { for: entry.id }, control.label);
  const unit = make("span", {}, control.unit);
  const row = make("div", { class: "pcbchem-field" }, label, entry.box, unit, entry.note);
  return { row, put: entry.put };
}

function sliderRow(control, view) {
  const name = labelWithUnit(control);
  const range = make("input", {
    ...KEYS,
    type: "range",
    min: control.low,
    max: control.high,
    step: control.step,
    "aria-label": name,
  });
  const sayValue = (value) => {
    range.setAttribute("aria-valuetext", `${numberToText(value)} ${control.unit}`);
  };
  const move = () => {
    const value = Number(range.value);
    entry.put(value);
    sayValue(value);
    view.send({ [control.name]: value });
  };
  const entry = numberEntry(control, `${name}, number`, {
    current: () => view.valueInUse(control.name),
    use: (value) => {
      range.value = value; // the browser takes the step next to it
      move();
      const taken = Number(range.value);
      if (taken !== value) entry.note.textContent = betweenSteps(value, taken);
    },
    doubt: () => {}, // the picture beside a slider is that of the slider, whatever is typed
  });
  range.addEventListener("input", move);
  const put = (value) => {
    range.value = value;
    sayValue(value);
    entry.put(value); // set by a script, none of the three sends anything back
  };
  const label = make("label", { for: entry.id }, control.label);
  const unit = make("span", {}, control.unit);
  const row = make("div", { class: "pcbchem-slider" }, label, range, entry.box, unit, entry.note);
  return { row, put };
}

// by `kind`, as `for_script` in controls.py writes it
const ROWS = { choice: choiceRow, field: fieldRow, slider: sliderRow };

// The rows of controls and of groups of them; each control is added to `controls` with its own row.
function rowsOf(items, view, controls) {
  return items.map((item) => {
    if (item.kind === "group") return groupOf(item, rowsOf(item.controls, view, controls));
    const { row, put } = ROWS[item.kind](item, view);
    controls.push({ ...item, row, put });
    return row;
  });
}

function groupOf(group, rows) {
  if (group.folded) {
    const summary = make("summary", KEYS, group.legend);
    return make("details", { class: "pcbchem-group" }, summary, ...rows);
  }
  const heading = make("h4", {}, group.legend);
  const attributes = { class: "pcbchem-group", "aria-label": group.legend };
  return make("section", attributes, heading, ...rows);
}

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
  const from = `from ${numberToText(control.low)} to ${numberToText(control.high)} ${control.unit}`;
  const limits = control.unit ? ` ${from}` : "";
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
    note.classList.remove("pcbchem-hint");
    box.setAttribute("aria-invalid", words ? "true" : "false");
  };
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
    if (isOther) {
      note.textContent = otherUnit(control, text, value);
      note.classList.add("pcbchem-hint");
    }
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
  return { id, box, note, put, edited: () => isEdited };
}

// Each kind of control is one `row` in the page, and a way to `put` a value into it. `view` knows
// the values in use, and is told what the reader enters.

function choiceRow(control, view) {
  if (control.look === "list") return listRow(control, view);
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
  const help = helpFor(control);
  const legend = make("legend", {}, control.label, ...help.button);
  return { row: make("fieldset", {}, legend, options, ...help.text), put };
}

// A choice as a list that opens: with a label of its own, or as the unit beside a field.
function listRow(control, view) {
  const id = freshId();
  const list = make("select", { ...KEYS, id });
  for (const [value, words] of control.options) list.append(make("option", { value }, words));
  const note = make("span", { class: "pcbchem-meaning" });
  const put = (value) => {
    list.value = value;
    // what most people choose needs no word
    note.textContent = value === control.start ? "" : (control.notes[value] ?? "");
  };
  list.addEventListener("change", () => {
    put(list.value);
    view.send({ [control.name]: list.value });
  });
  if (control.beside.length > 0) {
    list.setAttribute("aria-label", control.label);
    return { row: list, note, put };
  }
  const help = helpFor(control);
  const label = make("label", { for: id }, control.label);
  const name = make("span", { class: "pcbchem-name" }, label, ...help.button);
  describe(list, help, "");
  const row = make("div", { class: "pcbchem-list" }, name, list, note, ...help.text);
  return { row, put };
}

// What a control means, behind a button beside its name: both are left out where it says nothing.
function helpFor(control) {
  if (!control.help) return { button: [], text: [], id: "", open: () => {} };
  const text = make("p", { class: "pcbchem-help-text", id: freshId(), hidden: "" }, control.help);
  const open = () => {
    text.hidden = !text.hidden;
    button.setAttribute("aria-expanded", String(!text.hidden));
  };
  // no stop between one field and the next: who hears the page is told the help with the field, and
  // F1 unfolds it
  const button = makeButton("?", open, {
    class: "pcbchem-help",
    tabindex: "-1",
    title: "What is that? (F1 in the field)",
    "aria-label": `${control.label}: what is that?`,
    "aria-expanded": "false",
    "aria-controls": text.id,
  });
  return { button: [button], text: [text], id: text.id, open };
}

// Ties a control to its help and to its own message.
function describe(box, help, noteId) {
  box.setAttribute("aria-describedby", `${noteId} ${help.id}`.trim());
  box.addEventListener("keydown", (event) => {
    if (event.key !== "F1") return;
    event.preventDefault();
    help.open();
  });
}

function fieldRow(control, view) {
  const entry = numberEntry(control, labelWithUnit(control), {
    current: () => view.valueInUse(control.name),
    use: (value, chosen) => {
      const other = chosen ? { [chosen[0]]: chosen[1] } : {};
      view.send({ [control.name]: value, ...other });
    },
    doubt: (yes) => view.doubt(control.name, yes),
  });
  const help = helpFor(control);
  const label = make("label", { for: entry.id }, control.label);
  const name = make("span", { class: "pcbchem-name" }, label, ...help.button);
  const unit = make("span", { class: "pcbchem-unit" }, control.unit);
  describe(entry.box, help, entry.note.id);
  const parts = [name, entry.box, unit, entry.note, ...help.text];
  const row = make("div", { class: "pcbchem-field" }, ...parts);
  return { row, put: entry.put, edited: entry.edited, unit };
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
const TOOLS = { action: actionRow, upload: uploadRow };

// The rows of controls, of what only does something, and of groups of both. Each control is added to
// `controls` with its own row; a list that stands beside fields has its place in theirs.
function rowsOf(items, view, controls) {
  const rows = items.map((item) => {
    if (item.kind === "group") return groupOf(item, rowsOf(item.controls, view, controls));
    if (TOOLS[item.kind]) return TOOLS[item.kind](item, view);
    const made = ROWS[item.kind](item, view);
    controls.push({ ...item, ...made });
    return item.beside?.length > 0 ? "" : made.row;
  });
  return rows.filter((row) => row !== "");
}

// A list of units stands beside the first of its fields that can be seen.
function placeUnits(controls) {
  for (const { beside, row, note } of controls) {
    if (!beside?.length) continue;
    const fields = beside.map((name) => controls.find((control) => control.name === name));
    const field = fields.find((control) => !control.row.hidden);
    if (!field || row.parentElement === field.unit) continue;
    field.unit.replaceChildren(row);
    field.row.append(note);
  }
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

// The controls of a panel: a row of the page for each, and a way to put a value into it.

function labelWithUnit(control) {
  return control.unit ? `${control.label} (${control.unit})` : control.label;
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
  const note = make("span", { class: "pcbchem-refusal", role: "alert" });
  const refuse = (words) => setText(note, words);
  return { row: make("fieldset", {}, legend, options, note, ...help.text), put, refuse };
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
  const wrong = noteBeside(list);
  describe(list, help, wrong.note.id);
  const row = make("div", { class: "pcbchem-list" }, name, list, note, wrong.note, ...help.text);
  return { row, put, refuse: wrong.refuse };
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
  return { row, put: entry.put, edited: entry.edited, refuse: entry.refuse, unit };
}

// A line of words, as wide as the panel's fields.
function textRow(control, view) {
  const entry = textEntry(control, {
    current: () => view.valueInUse(control.name),
    use: (text) => view.send({ [control.name]: text }),
    doubt: (yes) => view.doubt(control.name, yes),
  });
  const help = helpFor(control);
  const label = make("label", { for: entry.id }, control.label);
  const name = make("span", { class: "pcbchem-name" }, label, ...help.button);
  const hint = make("span", { class: "pcbchem-meaning", id: freshId() }, control.hint);
  const { box, note, reading } = entry;
  describe(box, help, `${note.id} ${reading.id} ${hint.id}`);
  const parts = [name, box, note, reading, hint, ...help.text];
  const row = make("div", { class: "pcbchem-text" }, ...parts);
  const { put, edited, refuse, readAs } = entry;
  return { row, put, edited, refuse, readAs };
}

// What another page has handed over has a value, and nothing to move it by.
function carriedRow() {
  return { row: make("span"), put: () => {} };
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
      if (taken !== value) entry.hint(betweenSteps(value, taken));
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
  return { row, put, refuse: entry.refuse };
}

// by `kind`, as `for_script` in controls.py writes it
const ROWS = {
  choice: choiceRow,
  field: fieldRow,
  slider: sliderRow,
  text: textRow,
  timetext: textRow,
  carried: carriedRow,
};
const TOOLS = { action: actionRow, upload: uploadRow };

// The rows of controls, of what only does something, and of groups of both. Each control is added to
// `controls` with its own row; a list that stands beside fields has its place in theirs.
function rowsOf(items, view, controls) {
  const rows = items.map((item) => {
    if (item.kind === "group") return groupOf(item, rowsOf(item.controls, view, controls));
    if (TOOLS[item.kind]) {
      const row = TOOLS[item.kind](item, view);
      view.tools.push({ ...item, row });
      return row;
    }
    const made = ROWS[item.kind](item, view);
    controls.push({ ...item, ...made });
    const hasPlace = item.kind !== "carried" && !item.beside?.length;
    return hasPlace ? made.row : "";
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

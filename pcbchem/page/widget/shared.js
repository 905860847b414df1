// What all scripts need. Python puts this text in front of each of them.

// JupyterLab takes arrow keys and Enter from whatever in a cell lacks this attribute on itself.
const KEYS = { "data-lm-suppress-shortcuts": "true" };

// An app shows a page when all of its cells have run; whoever reads it cannot run them.
const IN_APP = "voila" in document.body.dataset;

const PATIENCE = 8000; // ms without an answer before a page says that it waits
const LONG_PATIENCE = IN_APP ? PATIENCE : 30000; // ms before it gives up where cells may still run
const RUN_AGAIN = "Choose Run, then Run All Cells.";
const LOAD_AGAIN = "Write down what you have entered and load this page again, or ask your teacher.";
const NO_ANSWER = `No answer from Python. ${IN_APP ? LOAD_AGAIN : RUN_AGAIN}`;

// An element with its attributes and children; an attribute that is undefined is left out.
function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== undefined) element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

// A name that no other element of the page has: ties a label to its field, or answers together.
function freshId() {
  return "pcbchem-" + Math.random().toString(36).slice(2);
}

function makeButton(words, work, attributes = {}) {
  const button = make("button", { ...KEYS, type: "button", ...attributes }, words);
  button.addEventListener("click", work);
  return button;
}

// One radio button beside its words.
function radioOption(group, value, words) {
  const box = make("input", { ...KEYS, type: "radio", name: group, value });
  return { box, label: make("label", {}, box, make("span", {}, words)) };
}

// Where another page of this library lies: beside this one, or in JupyterLab under its own address.
function pageAddress(name) {
  if (/\.(ipynb|html)$/.test(location.pathname)) return name;
  const config = document.getElementById("jupyter-config-data");
  if (!config) return name;
  return `${JSON.parse(config.textContent).baseUrl || "/"}doc/tree/${name}`;
}

// A text that stays untouched where it is the same: a status line is not heard twice.
function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

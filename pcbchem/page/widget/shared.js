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

// What server and front end say of themselves on the page; on a page in a file nobody does.
function serverConfig() {
  const told = document.getElementById("jupyter-config-data");
  return told && JSON.parse(told.textContent);
}

// Where another page of this library lies, seen from this one; "": nowhere that could be reached.
function pageAddress(name, { pathname, search } = location, config = serverConfig()) {
  // JupyterLab, or an app that serves a folder: beside this page
  if (pathname.endsWith(".ipynb")) return name;
  // a site without a server: one address opens every page
  const path = new URLSearchParams(search).get("path");
  if (path?.endsWith(".ipynb")) {
    return `${pathname}?path=${encodeURIComponent(path.replace(/[^/]*$/, name))}`;
  }
  // copies on a disk have no server, and lie side by side
  if (!config) return name.replace(/\.ipynb$/, ".html");
  // JupyterLab before it shows which page is open; any other server has this one page alone
  return config.appName === "JupyterLab" ? `${config.baseUrl || "/"}doc/tree/${name}` : "";
}

// JupyterLab finds other pages for the links of its own cells, not for those of widgets.
// Where the other page cannot be reached, its words stay.
function mendLink(link) {
  const name = link.getAttribute("href");
  link.setAttribute("data-lm-suppress-shortcuts", "true");
  if (!/^[^/:]+\.ipynb$/.test(name)) return;
  const address = pageAddress(name);
  if (!address) {
    link.replaceWith(...link.childNodes);
    return;
  }
  link.href = address;
  link.target = "_blank";
  link.rel = "noopener";
}

function mendLinks(part) {
  for (const link of part.querySelectorAll("a[href]")) mendLink(link);
}

// A text that stays untouched where it is the same: a status line is not heard twice.
function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

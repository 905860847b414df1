// What stands on a panel and does something once: a button, and a place for a file. Its work is done
// in Python, and comes back as words, values for the fields, a page of its own or a file.

const PIECE = 1000000; // bytes of a file that go to Python in one message

function actionRow(action, view) {
  const work = new WorkView(action, view);
  const button = makeButton(action.label, () => work.press(), { class: "pcbchem-action" });
  work.build([button], [button]);
  return work.row;
}

function uploadRow(upload, view) {
  const work = new WorkView(upload, view);
  const picker = make("input", {
    ...KEYS,
    type: "file",
    accept: upload.kinds.join(","),
    class: "pcbchem-away",
    tabindex: "-1",
    "aria-hidden": "true",
  });
  picker.addEventListener("change", () => {
    const file = picker.files[0];
    picker.value = ""; // so that the same file can be chosen again
    work.sendFile(file);
  });
  const button = makeButton(upload.label, () => picker.click(), { class: "pcbchem-action" });
  const words = `or drop it here (${upload.kinds.join(", ")})`;
  const drop = make("div", { class: "pcbchem-drop" }, button, picker, make("span", {}, words));
  drop.addEventListener("dragover", (event) => {
    event.preventDefault();
    drop.classList.add("pcbchem-over");
  });
  drop.addEventListener("dragleave", () => drop.classList.remove("pcbchem-over"));
  drop.addEventListener("drop", (event) => {
    event.preventDefault();
    event.stopPropagation(); // JupyterLab would take it for a file of its own
    drop.classList.remove("pcbchem-over");
    work.sendFile(event.dataTransfer.files[0]);
  });
  work.build([drop], [button]);
  return work.row;
}

// A size in bytes as people read it.
function sizeWords(bytes) {
  if (bytes < 1000) return `${bytes} bytes`;
  if (bytes < 1e6) return `${(bytes / 1e3).toPrecision(3)} kB`;
  return `${(bytes / 1e6).toPrecision(3)} MB`;
}

// One work on the page and its conversation with Python.
class WorkView {
  constructor(item, view) {
    this.item = item;
    this.view = view;
    this.waitsFor = null; // the number of the press that Python has not answered
    view.works[item.name] = this;
  }

  build(parts, buttons) {
    // of an upload: the file that Python has, and a way to take it away
    this.fileName = make("span", { class: "pcbchem-file-name" });
    const removal = { "aria-label": `${this.item.label}: remove the file`, class: "pcbchem-action" };
    const remove = makeButton("Remove", () => this.removeFile(), removal);
    this.fileRow = make("p", { class: "pcbchem-file", hidden: "" }, this.fileName, " ", remove);
    this.removeButton = remove;
    const help = helpFor(this.item);
    this.buttons = [...buttons, remove];
    this.status = make("p", { class: "pcbchem-remark", role: "status" });
    this.bar = make("progress", { max: 1, value: 0, hidden: "", "aria-label": this.item.label });
    this.result = make("div", { class: "pcbchem-result" });
    this.page = make("p", { class: "pcbchem-remark", hidden: "" });
    const shown = [...parts, ...help.button, ...help.text, this.fileRow, this.bar, this.status];
    this.row = make("div", { class: "pcbchem-work" }, ...shown, this.page, this.result);
  }

  // Not beside a field that shows something else than what is in use, or what cannot be; not twice.
  press() {
    this.afterAnswer(() => {
      if (this.begin()) this.send({});
    });
  }

  afterAnswer(work) {
    this.view.withAnswer(work, (words) => setText(this.status, words));
  }

  // The next press; false while another one is not answered.
  begin() {
    if (this.waitsFor !== null) return false;
    this.waitsFor = freshId();
    for (const button of this.buttons) button.setAttribute("aria-disabled", "true");
    setText(this.status, "");
    this.slowTimer = setTimeout(() => setText(this.status, WORKING), STALE);
    return true;
  }

  send(data) {
    this.view.model.send({ press: this.item.name, number: this.waitsFor, ...data });
    this.keepWaiting();
  }

  keepWaiting() {
    clearTimeout(this.lostTimer);
    this.lostTimer = setTimeout(() => this.settle(NO_ANSWER), LONG_PATIENCE);
  }

  settle(words) {
    this.waitsFor = null;
    clearTimeout(this.slowTimer);
    clearTimeout(this.lostTimer);
    for (const button of this.buttons) button.removeAttribute("aria-disabled");
    this.bar.hidden = true;
    setText(this.status, words);
  }

  // What is wrong with a file is said before anything is sent.
  sendFile(file) {
    if (!file || this.waitsFor !== null) return;
    const { kinds, most_bytes: most } = this.item;
    const name = file.name.toLowerCase();
    if (!kinds.some((kind) => name.endsWith(kind))) {
      setText(this.status, `${file.name} is none of these: ${kinds.join(", ")}.`);
      return;
    }
    if (file.size > most) {
      setText(this.status, `${file.name} is too large: at most ${most / 1e6} MB.`);
      return;
    }
    this.afterAnswer(() => {
      if (this.begin()) this.sendPieces(file);
    });
  }

  async sendPieces(file) {
    const bytes = await file.arrayBuffer().catch(() => null);
    if (!bytes) {
      this.settle(`${file.name} could not be read: choose it again.`);
      return;
    }
    const count = Math.max(1, Math.ceil(bytes.byteLength / PIECE));
    const upload = freshId();
    for (let piece = 0; piece < count; piece += 1) {
      const part = new DataView(bytes.slice(piece * PIECE, (piece + 1) * PIECE));
      this.view.model.send({ upload, piece, count }, undefined, [part]);
    }
    this.send({ upload_of: upload, file_name: file.name });
  }

  // Also beside a field that holds what cannot be: the file may be why.
  removeFile() {
    if (this.begin()) this.send({ removed: true });
  }

  showFile([name, size]) {
    const hadFocus = document.activeElement === this.removeButton;
    this.fileRow.hidden = !name;
    setText(this.fileName, name ? `${name}, ${sizeWords(size)}` : "");
    if (!name && hadFocus) this.buttons[0].focus();
  }

  // What Python sends: how far it is, or what has come of it.
  receive(content, buffers) {
    // also in another tab, or one that was loaded again
    if (content.taken) this.showFile(content.taken);
    if (content.number !== this.waitsFor) return; // of a press that was given up
    if (content.progress !== undefined) {
      clearTimeout(this.slowTimer);
      this.bar.hidden = false;
      this.bar.value = content.progress;
      setText(this.status, content.words);
      this.keepWaiting();
      return;
    }
    this.settle(content.remark);
    this.view.setHtml(this.result, content.html);
    this.offer(content.offers);
    if (content.file) download(content.file[1] ?? buffers[0], content.file[0]);
    this.openPage(content.page);
  }

  offer(offers) {
    for (const [words, values] of offers) {
      const put = () => {
        this.view.putIn(values);
        setText(this.status, `Put into the fields: ${words}.`);
      };
      this.result.append(makeButton(words, put));
    }
  }

  // A page of its own opens in another tab; where the browser forbids that a link does.
  openPage(html) {
    this.page.hidden = !html;
    if (!html) return;
    if (this.address) URL.revokeObjectURL(this.address);
    this.address = URL.createObjectURL(new Blob([html], { type: "text/html" }));
    const words = `${this.item.label}: open it again`;
    const link = make("a", { ...KEYS, href: this.address, target: "_blank" }, words);
    this.page.replaceChildren(link);
    window.open(this.address, "_blank");
  }

  // What was worked out for other inputs goes when they change.
  forget() {
    if (this.waitsFor !== null) return;
    setText(this.status, "");
    this.page.hidden = true;
    this.view.setHtml(this.result, "");
  }
}

// Rows kept beside each other: the inputs of a few plans live in this browser, and nowhere else.
// Python works their table and picture out anew, by today's rules, whenever a page shows them.

const KEEPS_NOTHING =
  "But this browser keeps nothing: its storage is shut or full, and the rows stand here until this page is left.";

class BesideView {
  constructor(view, { name, most, puts_back: putsBack, keep, heading, file, redraws }) {
    this.view = view;
    this.putsBack = putsBack;
    this.place = storageKey(`${name} beside`);
    this.most = most;
    this.file = file;
    this.redraws = redraws;
    this.rows = this.storedRows() ?? [];
    this.isKept = true; // as far as is known
    this.words = ""; // said while the rows are as they are
    this.number = null; // of the question that Python has not answered
    this.keepButton = makeButton(keep, () => {
      view.withAnswer(
        () => this.keep(),
        (words) => setText(this.status, words),
      );
    });
    this.status = make("p", { class: "pcbchem-remark", role: "status" });
    this.table = make("div", { class: "pcbchem-beside-table" });
    this.buttons = make("div", { class: "pcbchem-buttons" });
    this.keeper = make("div", { class: "pcbchem-work" }, this.keepButton, this.status);
    const attributes = { class: "pcbchem-beside", "aria-label": heading, hidden: "" };
    this.row = make("section", attributes, make("h4", {}, heading), this.table, this.buttons);
    // the same rows on another page of this browser; without a key all that it keeps is gone
    this.onStorage = (event) => {
      if (event.key !== this.place && event.key !== null) return;
      this.rows = this.storedRows() ?? [];
      this.ask("");
    };
    window.addEventListener("storage", this.onStorage);
  }

  // What the browser keeps; null where it keeps nothing, or nothing that these are.
  storedRows() {
    const rows = withStorage((storage) => JSON.parse(storage.getItem(this.place) ?? "[]"));
    return Array.isArray(rows) ? rows : null;
  }

  // Rows that the browser does not keep stand on this page until it is left: false is said.
  store() {
    const text = JSON.stringify(this.rows);
    const isKept = withStorage((storage) => {
      storage.setItem(this.place, text);
      return true;
    });
    return Boolean(isKept);
  }

  // Another page may have changed them a moment ago.
  refresh() {
    if (this.isKept) this.rows = this.storedRows() ?? this.rows;
  }

  keep() {
    this.refresh();
    const values = this.view.told("row");
    if (!values) {
      setText(this.status, "Nothing here that could be kept.");
      return;
    }
    const text = JSON.stringify(values);
    if (this.rows.some((row) => JSON.stringify(row) === text)) {
      setText(this.status, "This one stands below already.");
      return;
    }
    if (this.rows.length >= this.most) {
      setText(this.status, `There are ${this.most} already: take one away first.`);
      return;
    }
    this.change([...this.rows, values], `Kept as row ${this.rows.length + 1}: see below the picture.`);
  }

  change(rows, words) {
    this.rows = rows;
    this.isKept = this.store();
    this.ask(this.isKept ? words : `${words} ${KEEPS_NOTHING}`);
  }

  ask(words) {
    setText(this.status, words);
    this.number = freshId();
    this.view.model.send({ beside: this.rows, number: this.number });
    clearTimeout(this.slowTimer);
    this.slowTimer = setTimeout(() => setText(this.status, WORKING), STALE);
    this.words = words;
  }

  receive(content) {
    if (content.number !== this.number) return;
    clearTimeout(this.slowTimer);
    if (this.status.textContent === WORKING) setText(this.status, this.words);
    // Python names rows that it cannot read any more, as of an older edition
    if (content.lost.length > 0) {
      this.rows = this.rows.filter((_, place) => !content.lost.includes(place));
      this.store();
      setText(this.status, "A row could not be read any more and is gone.");
    }
    this.view.setHtml(this.table, content.html);
    this.row.hidden = this.rows.length === 0;
    this.table.querySelectorAll("tbody tr").forEach((row, place) => {
      // beside its number: a table may be wider than the page
      row.querySelector("th, td").append(...this.rowButtons(place));
    });
    const csv = makeButton("As a table file (CSV)", () => download(content.csv, this.file));
    const clear = makeButton("Take all away", () => this.change([], "All are gone."));
    this.buttons.replaceChildren(csv, clear);
  }

  rowButtons(place) {
    const number = place + 1;
    const text = JSON.stringify(this.rows[place]);
    const takeAway = () => {
      this.refresh();
      const others = this.rows.filter((row) => JSON.stringify(row) !== text);
      this.change(others, `Row ${number} is gone.`);
    };
    const away = makeButton("Take away", takeAway, { "aria-label": `Take row ${number} away` });
    if (!this.putsBack) return [away];
    const putBack = () => {
      this.view.putIn(this.rows[place]);
      this.view.whole.scrollIntoView({ block: "start" }); // to its verdict
      setText(this.status, `Row ${number} is in the fields.`);
    };
    const words = { "aria-label": `Put row ${number} into the fields` };
    return [makeButton("Put back", putBack, words), away];
  }

  // What was said of another mixture.
  forget() {
    setText(this.status, "");
  }

  start() {
    // a picture of the rows may still be of those that another page has taken away
    if (this.rows.length > 0 || this.redraws) this.ask("");
  }

  close() {
    clearTimeout(this.slowTimer);
    window.removeEventListener("storage", this.onStorage);
  }
}

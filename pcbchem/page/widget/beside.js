// Rows kept beside each other: the inputs of a few plans live in this browser, and nowhere else.
// Python works their table and picture out anew, by today's rules, whenever a page shows them.

class BesideView {
  constructor(view, { name, most, puts_back: putsBack }) {
    this.view = view;
    this.putsBack = putsBack;
    this.place = storageKey(`${name} beside`);
    this.most = most;
    this.rows = withStorage((storage) => JSON.parse(storage.getItem(this.place))) ?? [];
    this.number = null; // of the question that Python has not answered
    this.keepButton = makeButton("Keep this one beside", () => {
      view.withAnswer(
        () => this.keep(),
        (words) => setText(this.status, words),
      );
    });
    this.status = make("p", { class: "pcbchem-remark", role: "status" });
    this.table = make("div", { class: "pcbchem-beside-table" });
    this.buttons = make("div", { class: "pcbchem-buttons" });
    this.keeper = make("div", { class: "pcbchem-work" }, this.keepButton, this.status);
    const heading = make("h4", {}, "Kept beside");
    const attributes = { class: "pcbchem-beside", "aria-label": "Kept beside", hidden: "" };
    this.row = make("section", attributes, heading, this.table, this.buttons);
    // the same rows on another page of this browser
    this.onStorage = (event) => {
      if (event.key !== this.place) return;
      this.rows = JSON.parse(event.newValue ?? "[]");
      this.ask("");
    };
    window.addEventListener("storage", this.onStorage);
  }

  keep() {
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
    withStorage((storage) => storage.setItem(this.place, JSON.stringify(rows)));
    this.ask(words);
  }

  ask(words) {
    setText(this.status, words);
    this.number = freshId();
    this.view.model.send({ beside: this.rows, number: this.number });
  }

  receive(content) {
    if (content.number !== this.number) return;
    // Python names rows that it cannot read any more, as of an older edition
    if (content.lost.length > 0) {
      this.rows = this.rows.filter((_, place) => !content.lost.includes(place));
      withStorage((storage) => storage.setItem(this.place, JSON.stringify(this.rows)));
      setText(this.status, "A row could not be read any more and is gone.");
    }
    this.view.setHtml(this.table, content.html);
    this.row.hidden = this.rows.length === 0;
    this.table.querySelectorAll("tbody tr").forEach((row, place) => {
      // beside its number: a table may be wider than the page
      row.querySelector("th, td").append(...this.rowButtons(place));
    });
    const csv = makeButton("As a table file (CSV)", () => download(content.csv, "beside.csv", "text/csv"));
    const clear = makeButton("Take all away", () => this.change([], "All are gone."));
    this.buttons.replaceChildren(csv, clear);
  }

  rowButtons(place) {
    const number = place + 1;
    const others = this.rows.filter((_, other) => other !== place);
    const takeAway = () => this.change(others, `Row ${number} is gone.`);
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
    if (this.rows.length > 0) this.ask("");
  }

  close() {
    window.removeEventListener("storage", this.onStorage);
  }
}

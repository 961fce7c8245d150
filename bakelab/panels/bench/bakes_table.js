// The table of bakes: one row for each, opened by its button, sorted by a heading.
// Every word goes in as text.

function compare(a, b) {
  if (a === b) return 0;
  if (a === "" || a === null) return 1;
  if (b === "" || b === null) return -1;
  return a < b ? -1 : 1;
}

function render({ model, el }) {
  let sorted = { column: -1, down: false };
  el.classList.add("bakelab-bakes");
  const head = element("thead");
  const body = element("tbody");
  const caption = element("caption", { className: "bakelab-unseen",
    textContent: "Bakes, newest first; the first cell opens a bake" });
  el.append(element("table", {}, [caption, head, body]));

  function drawHead() {
    const cells = model.get("columns").map((column, place) => {
      const button = element("button", { type: "button", className: "bakelab-plain",
        textContent: column.label, onclick: () => sortBy(place) });
      const cell = element("th", { scope: "col" }, [button]);
      if (column.right) cell.className = "bakelab-right";
      const way = sorted.down ? "descending" : "ascending";
      cell.setAttribute("aria-sort", sorted.column === place ? way : "none");
      if (sorted.column === place) button.append(sorted.down ? " ▾" : " ▴");
      return cell;
    });
    head.replaceChildren(element("tr", {}, cells));
  }

  function sortBy(column) {
    sorted = { column, down: sorted.column === column && !sorted.down };
    drawHead();
    drawBody();
  }

  function rowOf(row) {
    const columns = model.get("columns");
    const cells = row.cells.map((text, place) => {
      const cell = element(place ? "td" : "th");
      if (columns[place]?.right) cell.className = "bakelab-right";
      if (place) cell.textContent = text;
      else {
        cell.scope = "row";
        cell.append(element("button", { type: "button", className: "bakelab-open",
          textContent: text, onclick: () => model.send({ open: row.id }) }));
      }
      return cell;
    });
    const line = element("tr", {}, cells);
    line.dataset.id = row.id;
    if (row.id === model.get("chosen")) line.setAttribute("aria-current", "true");
    return line;
  }

  function drawBody() {
    const rows = [...model.get("rows")];
    if (sorted.column >= 0) {
      const way = sorted.down ? -1 : 1;
      rows.sort((a, b) => {
        const [x, y] = [a.keys[sorted.column], b.keys[sorted.column]];
        const blank = (v) => v === "" || v === null;
        return blank(x) || blank(y) ? compare(x, y) : way * compare(x, y);
      });
    }
    body.replaceChildren(...rows.map(rowOf));
  }

  model.on("change:rows", drawBody);
  model.on("change:chosen", drawBody);
  model.on("change:columns", drawHead);
  drawHead();
  drawBody();
}

export default { render };

// Ingredient lines as a plain HTML table of labelled inputs.
// Every word goes in as text or as a value, never as markup.

const FIELDS = [
  ["text", "As written", "textarea"],
  ["ingredient", "Ingredient", "input"],
  ["grams", "Weight (g)", "input"],
  ["state", "State", "select"],
];

// A new line below the table: Enter or the button sends it, once until it is answered.
function addingRow(model) {
  const text = element("input", { type: "text", placeholder: "such as 12 g malt" });
  const stage = element("select");
  const button = element("button", { type: "button", textContent: "Add",
    className: "widget-button", onclick: () => send() });
  button.setAttribute("aria-label", "Add the line");
  stage.setAttribute("aria-label", "Stage of the new line");
  const place = element("label", {}, [element("span", { textContent: "Stage" }), stage]);
  const named = element("label", {}, [element("span", { textContent: "Add a line" }), text]);
  const row = element("div", { className: "bakelab-adding" }, [named, place, button]);
  let waiting = null;

  function send() {
    if (waiting !== null && waiting === text.value) return;
    waiting = text.value;
    model.send({ add: text.value, stage: stage.value });
  }

  function draw() {
    const stages = model.get("stages"), chosen = stage.value;
    const known = [...stage.options].map((option) => option.value);
    if (known.join("\n") !== stages.join("\n")) {
      stage.replaceChildren(...stages.map((name) =>
        element("option", { value: name, textContent: name })));
      stage.value = stages.includes(chosen) ? chosen : model.get("stage");
    }
    place.hidden = stages.length < 2;
  }

  text.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.shiftKey || event.isComposing) return;
    event.preventDefault();
    send();
  });
  text.addEventListener("input", () => { waiting = null; });
  model.on("change:stages", draw);
  model.on("msg:custom", (message) => {
    if (message.taken === undefined) return;
    if (message.taken && waiting === text.value) text.value = "";
    waiting = null;
  });
  draw();
  return { row };
}

function render({ model, el }) {
  const names = `bakelab-names-${Math.random().toString(36).slice(2)}`;
  const list = element("datalist", { id: names });
  const head = element("tr", {}, FIELDS.map(([, title]) =>
    element("th", { scope: "col", textContent: title })));
  const body = element("tbody");
  const caption = element("caption", { className: "bakelab-unseen",
    textContent: "Ingredient lines, each can be corrected in place" });
  el.classList.add("bakelab-lines");
  const adding = addingRow(model);
  el.append(list, element("table", {}, [caption, element("thead", {}, [head]), body]),
    adding.row);

  function send(input) {
    delete input.dataset.typed;
    const row = Number(input.closest("tr").dataset.row);
    model.send({ row, field: input.dataset.field, value: input.value });
  }

  function control([field, title, tag], row) {
    const input = element(tag, { onchange: () => send(input) });
    input.dataset.field = field;
    input.setAttribute("aria-label", `${title}, line ${row + 1}`);
    input.addEventListener("input", () => { input.dataset.typed = "1"; });
    if (tag === "textarea") {
      input.rows = 1;
      input.addEventListener("keydown", (event) => {
        if (event.key !== "Enter" || event.shiftKey) return;
        event.preventDefault();
        if (input.dataset.typed) send(input);
      });
      input.addEventListener("input", () => grow(input));
    }
    if (field === "ingredient") input.setAttribute("list", names);
    if (tag === "input") input.type = "text";
    if (field === "grams") input.inputMode = "decimal";
    if (tag === "select") input.append(...model.get("states").map((state) =>
      element("option", { value: state, textContent: state })));
    return input;
  }

  function grow(area) {
    area.style.height = "auto";
    if (area.scrollHeight) area.style.height = `${area.scrollHeight + 2}px`;
  }

  function addRow(row) {
    const cells = FIELDS.map((f) => element("td", {}, [control(f, row)]));
    const remark = element("p", { id: `${names}-${row}`, className: "bakelab-caption" });
    cells[0].append(remark);
    const line = element("tr", {}, cells);
    line.dataset.row = row;
    body.append(line);
  }

  function fill(line, data) {
    line.dataset.state = data.state;
    for (const input of line.querySelectorAll("[data-field]")) {
      const busy = input.dataset.typed && input === document.activeElement;
      const value = data[input.dataset.field];
      if (!busy && input.value !== value) input.value = value;
      if (input.dataset.field === "ingredient") input.title = value;
      if (input.tagName === "TEXTAREA") grow(input);
    }
    const remark = line.querySelector("p");
    remark.textContent = data.remark;
    remark.hidden = !data.remark;
    line.querySelector("textarea").setAttribute("aria-describedby", remark.id);
  }

  function draw() {
    const rows = model.get("rows");
    while (body.rows.length < rows.length) addRow(body.rows.length);
    while (body.rows.length > rows.length) body.lastElementChild.remove();
    rows.forEach((data, row) => fill(body.rows[row], data));
  }

  function drawNames() {
    list.replaceChildren(...model.get("names").map((name) =>
      element("option", { value: name })));
  }

  const sized = new ResizeObserver(() => {
    body.querySelectorAll("textarea").forEach(grow);
    keepKeys(el.closest(".bakelab-panel"));
  });
  sized.observe(el);
  model.on("change:rows", draw);
  model.on("msg:custom", draw);
  model.on("change:names", drawNames);
  drawNames();
  draw();
  return () => sized.disconnect();
}

export default { render };

// Fields of a bake: one labelled input for each fact, saved when it is left.
// Every word goes in as text or as a value, never as markup.

const ANSWER_MS = 4000;
const NO_ANSWER = "Not saved yet: no answer. If the kernel was restarted, run the cell again.";

function render({ model, el }) {
  const key = `bakelab-${Math.random().toString(36).slice(2)}`;
  const parts = {};
  el.classList.add("bakelab-form");

  function send(name, input) {
    delete input.dataset.typed;
    const { told } = parts[name];
    told.textContent = "Saving …";
    clearTimeout(parts[name].waiting);
    const unheard = () => {
      told.textContent = NO_ANSWER;
      told.className = "bakelab-told bakelab-refused";
    };
    parts[name].waiting = setTimeout(unheard, ANSWER_MS);
    try {
      model.send({ name, value: input.value, was: input.dataset.was ?? null });
      delete input.dataset.was;
    } catch {
      unheard();
    }
  }

  function control(field) {
    const tag = field.choices.length ? "select" : "input";
    const input = element(tag, { id: `${key}-${field.name}` });
    input.dataset.fact = field.name;
    if (tag === "select") {
      input.append(...["", ...field.choices].map((word) =>
        element("option", { value: word, textContent: word || "–" })));
    } else {
      input.type = "text";
      input.autocomplete = "off";
      if (field.kind === "number") input.inputMode = "decimal";
      input.setAttribute("list", `${key}-list-${field.name}`);
    }
    input.addEventListener("input", () => {
      input.dataset.was ??= model.get("values")[field.name] ?? "";
      input.dataset.typed = "1";
    });
    input.addEventListener("change", () => send(field.name, input));
    input.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && tag === "input" && input.dataset.typed) {
        event.preventDefault();
        send(field.name, input);
      }
    });
    return input;
  }

  function fieldOf(field) {
    const input = control(field);
    const unit = field.unit ? ` (${field.unit})` : "";
    const label = element("label", { textContent: `${field.label}${unit}` });
    label.htmlFor = input.id;
    const band = element("span", { className: "bakelab-band", id: `${input.id}-band`,
      textContent: field.band });
    const told = element("p", { className: "bakelab-told", id: `${input.id}-told` });
    told.setAttribute("role", "status");
    input.setAttribute("aria-describedby", `${band.id} ${told.id}`);
    const names = element("datalist", { id: `${key}-list-${field.name}` });
    const choose = element("div", { className: "bakelab-choose" });
    choose.hidden = true;
    parts[field.name] = { input, told, names, choose };
    const below = element("div", { className: "bakelab-below" }, [told, band, choose, names]);
    return element("div", { className: "bakelab-fact" }, [label, input, below]);
  }

  function groupOf(group) {
    const fields = element("div", { className: "bakelab-facts" },
      group.fields.map(fieldOf));
    const summary = element("summary", { textContent: group.title });
    const details = element("details", { open: group.open }, [summary, fields]);
    details.dataset.group = group.title;
    return details;
  }

  function conflict(name, state, choose) {
    const button = (words, which) => element("button", {
      type: "button", textContent: words,
      onclick: () => model.send({ name, choose: which }),
    });
    choose.replaceChildren(
      button(`Keep mine: ${state.mine || "blank"}`, "mine"),
      button(`Take theirs: ${state.theirs || "blank"}`, "theirs"));
  }

  function drawValues() {
    const values = model.get("values");
    for (const [name, { input }] of Object.entries(parts)) {
      const busy = input.dataset.typed && input === document.activeElement;
      const value = values[name] ?? "";
      if (!busy && input.value !== value) input.value = value;
    }
  }

  function drawStates() {
    const states = model.get("states");
    for (const [name, part] of Object.entries(parts)) {
      const state = states[name] ?? { kind: "", text: "" };
      clearTimeout(part.waiting);
      part.told.textContent = state.text;
      part.told.className = `bakelab-told bakelab-${state.kind || "quiet"}`;
      const wrong = state.kind === "refused" || state.kind === "conflict";
      part.input.setAttribute("aria-invalid", String(wrong));
      part.choose.hidden = state.kind !== "conflict";
      if (state.kind === "conflict") conflict(name, state, part.choose);
      if (wrong) part.input.closest("details").open = true;
    }
  }

  function drawNames() {
    const offered = model.get("offered");
    for (const [name, { names }] of Object.entries(parts)) {
      names.replaceChildren(...(offered[name] ?? []).map((value) =>
        element("option", { value })));
    }
  }

  el.append(...model.get("groups").map(groupOf));
  const sized = new ResizeObserver(() => keepKeys(el.closest(".bakelab-panel")));
  sized.observe(el);
  model.on("change:values", drawValues);
  model.on("change:states", drawStates);
  model.on("msg:custom", () => { drawValues(); drawStates(); });
  model.on("change:offered", drawNames);
  drawNames();
  drawValues();
  drawStates();
  return () => sized.disconnect();
}

export default { render };

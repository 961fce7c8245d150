// One exercise: question, picture, answer, hints, solution; built once, then filled,
// so that the focus never falls out of it. Question, hints, solution and picture are
// ours and escaped in Python; what the student writes only ever goes in as a value.

function render({ model, el }) {
  const id = `bakelab-item-${Math.random().toString(36).slice(2)}`;
  const heading = element("h3", { id: `${id}-head`, tabIndex: -1 });
  const question = element("div", { id: `${id}-question`, className: "item-question" });
  const picture = element("div", { className: "item-picture" });
  const label = element("label", { htmlFor: `${id}-answer` });
  const unit = element("span", { className: "item-unit" });
  unit.setAttribute("aria-hidden", "true");
  const answer = element("input", { id: `${id}-answer`, type: "text",
    autocomplete: "off", spellcheck: false });
  answer.setAttribute("aria-describedby", `${id}-told`);
  const line = element("div", { className: "item-line" }, [answer, unit]);
  const legend = element("legend");
  const options = element("div");
  const choices = element("fieldset", {}, [legend, options]);
  const check = element("button", { type: "submit", className: "item-main" });
  const hint = element("button", { type: "button" });
  const solve = element("button", { type: "button" });
  const next = element("button", { type: "button" });
  const buttons = element("div", { className: "item-buttons" },
    [check, hint, solve, next]);
  const told = element("div", { id: `${id}-told`, className: "item-told" });
  told.setAttribute("role", "status");
  told.setAttribute("aria-live", "polite");
  const hints = element("ol");
  const hinted = element("div", { className: "item-hints" },
    [element("h4", { textContent: "Hints" }), hints]);
  const solution = element("div", { className: "item-solution" });
  const progress = element("p", { className: "item-progress" });
  const forget = element("button", { type: "button", className: "item-quiet" });
  const form = element("form", {}, [label, line, choices, buttons]);
  const box = element("section", {}, [heading, question, picture, form, told, hinted,
    solution,
    element("div", { className: "item-foot" }, [progress, forget])]);
  box.setAttribute("aria-labelledby", heading.id);
  el.classList.add("bakelab-item");
  keepKeys(el);
  el.append(box);

  function given() {
    const chosen = options.querySelector("input:checked");
    return choices.hidden ? answer.value : (chosen ? chosen.value : "");
  }

  let moved = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    model.send({ do: "check", text: given() });
  });
  hint.addEventListener("click", () => model.send({ do: "hint" }));
  solve.addEventListener("click", () => model.send({ do: "solution" }));
  next.addEventListener("click", () => { moved = true; model.send({ do: "next" }); });

  forget.addEventListener("click", () => model.send({ do: "forget" }));

  function drawItem() {
    const item = model.get("item");
    heading.textContent = item.heading || "";
    question.innerHTML = item.question || "";
    picture.innerHTML = item.picture || "";
    picture.hidden = !item.picture;
    label.textContent = legend.textContent = item.label || "";
    unit.textContent = item.unit || "";
    answer.value = "";
    const many = (item.choices || []).length > 0;
    choices.hidden = !many;
    label.hidden = line.hidden = many;
    options.replaceChildren(...(item.choices || []).map((choice, place) => {
      const input = element("input", { type: "radio", name: `${id}-choice`,
        id: `${id}-choice-${place}`, value: choice.value });
      const words = element("label", { htmlFor: input.id, textContent: choice.text });
      return element("div", { className: "item-choice" }, [input, words]);
    }));
    check.textContent = item.check || "";
    next.textContent = item.next || "";
    if (moved) heading.focus();
    moved = false;
  }

  function drawState() {
    const state = model.get("state");
    const focused = document.activeElement;
    told.dataset.kind = state.kind || "";
    told.textContent = state.told || "";
    hints.replaceChildren(...(state.hints || []).map((html) =>
      element("li", { innerHTML: html })));
    hinted.hidden = !(state.hints || []).length;
    hint.textContent = state.hint_button || "";
    hint.hidden = !state.hint_button;
    solve.textContent = state.solve_button || "";
    solve.hidden = !state.solve_button;
    solution.innerHTML = state.solution || "";
    solution.hidden = !state.solution;
    next.hidden = !state.next;
    next.classList.toggle("item-main", Boolean(state.next));
    check.classList.toggle("item-main", !state.next);
    progress.textContent = state.progress || "";
    progress.hidden = !state.progress;
    forget.textContent = state.forget || "";
    forget.hidden = !state.forget;
    // A button that is gone must not take the focus with it.
    const lost = [hint, solve, next].some((b) => b.hidden && b === focused);
    if (lost) (next.hidden ? check : next).focus();
  }

  model.on("change:item", drawItem);
  model.on("change:state", drawState);
  drawItem();
  drawState();
  return comeIn(el, heading);
}

export default { render };

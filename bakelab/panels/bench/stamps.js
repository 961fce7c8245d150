// Large buttons that write down the time, and timers that tick here in the page.
// What is due stands in the book, so a timer goes on after a kernel restart.

const ANSWER_MS = 4000;
const NO_ANSWER = "No answer: this time is not written down yet. If the kernel was "
  + "restarted, run the cell again.";

const two = (number) => String(number).padStart(2, "0");

function clock(ms) {
  const at = new Date(ms);
  return `${two(at.getHours())}:${two(at.getMinutes())}`;
}

function length(ms) {
  const seconds = Math.floor(Math.abs(ms) / 1000);
  const hours = Math.floor(seconds / 3600);
  const rest = `${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
  return hours ? `${hours}:${rest}` : rest;
}

function beep() {
  const sound = new AudioContext();
  const tone = sound.createOscillator();
  const loud = sound.createGain();
  loud.gain.value = 0.2;
  tone.frequency.value = 880;
  tone.connect(loud).connect(sound.destination);
  tone.start();
  tone.stop(sound.currentTime + 0.6);
  tone.onended = () => sound.close();
}

function render({ model, el }) {
  const rung = new Set();
  let waiting = 0;
  el.classList.add("bakelab-stamps");
  const buttons = element("div", { className: "bakelab-buttons" });
  const told = element("p", { className: "bakelab-told" });
  told.setAttribute("role", "status");
  const timers = element("div", { className: "bakelab-timers" });
  const list = element("ol", { className: "bakelab-done" });
  const what = field("Timer or time for", "fold", "text");
  const minutes = field("Minutes", "30", "decimal");
  const sound = element("input", { type: "checkbox", id: `${what.input.id}-sound` });
  const soundWords = element("label", { textContent: "Sound when time is up" });
  soundWords.htmlFor = sound.id;
  const start = wide("Start the timer", () => ask({ do: "timer",
    what: what.input.value, minutes: minutes.input.value }));
  const now = wide("Write down the time", () => ask({ do: "stamp",
    what: what.input.value }));
  const own = element("div", { className: "bakelab-own" },
    [what.all, minutes.all, start, now,
     element("span", { className: "bakelab-sound" }, [sound, soundWords])]);
  el.append(buttons, told, timers, own, list);

  function field(words, value, mode) {
    const input = element("input", { type: "text", value,
      id: `bakelab-${Math.random().toString(36).slice(2)}` });
    if (mode === "decimal") input.inputMode = mode;
    const label = element("label", { textContent: words });
    label.htmlFor = input.id;
    return { input, all: element("div", { className: "bakelab-fact" }, [label, input]) };
  }

  function wide(words, onclick) {
    return element("button", { type: "button", className: "bakelab-stamp", onclick,
      textContent: words });
  }

  function ask(message) {
    told.textContent = "…";
    clearTimeout(waiting);
    const unheard = () => {
      told.textContent = NO_ANSWER;
      told.className = "bakelab-told bakelab-refused";
    };
    waiting = setTimeout(unheard, ANSWER_MS);
    try {
      model.send({ ...message, at: Date.now() });
    } catch {
      unheard();
    }
  }

  function drawButtons() {
    buttons.replaceChildren(...model.get("buttons").map((button) => {
      const word = element("span", { textContent: button.what });
      const time = element("span", { className: "bakelab-when", textContent:
        button.times.length ? button.times.map(clock).slice(-3).join("  ") : button.hint });
      const made = element("button", { type: "button",
        className: "bakelab-stamp bakelab-large",
        onclick: () => ask({ do: "stamp", what: button.what }) }, [word, time]);
      made.dataset.done = button.times.length ? "yes" : "no";
      made.dataset.what = button.what;
      return made;
    }));
  }

  function drawTimers() {
    timers.replaceChildren(...model.get("timers").map((timer) => {
      const left = element("span", { className: "bakelab-left" });
      left.dataset.due = timer.due;
      left.dataset.id = timer.id;
      const words = element("span", { className: "bakelab-timer-what",
        textContent: `${timer.what}: due ${clock(timer.due)}` });
      const state = element("span", { className: "bakelab-over" });
      state.setAttribute("role", "alert");
      const done = element("button", { type: "button", className: "bakelab-stamp",
        textContent: "Done", onclick: () => ask({ do: "done", id: timer.id }) });
      done.setAttribute("aria-label", `Done: ${timer.what}`);
      const row = element("div", { className: "bakelab-timer" },
        [left, element("span", {}, [words, state]), done]);
      row.dataset.what = timer.what;
      return row;
    }));
    tick();
  }

  function tick() {
    for (const left of timers.querySelectorAll(".bakelab-left")) {
      const rest = Number(left.dataset.due) - Date.now();
      const over = rest <= 0;
      left.textContent = over ? `+${length(rest)}` : length(rest + 999);
      const row = left.closest(".bakelab-timer");
      if ((row.dataset.over === "yes") === over) continue;
      row.dataset.over = over ? "yes" : "no";
      row.querySelector(".bakelab-over").textContent = over ? "Time is up" : "";
      if (over && !rung.has(left.dataset.id)) {
        rung.add(left.dataset.id);
        if (sound.checked) beep();
      }
    }
  }

  function drawList() {
    list.replaceChildren(...model.get("stamps").map((stamp) => {
      const back = element("button", { type: "button", className: "bakelab-plain",
        textContent: "Take back", onclick: () => ask({ do: "back", id: stamp.id }) });
      back.setAttribute("aria-label", `Take back: ${stamp.what}, ${clock(stamp.at)}`);
      const input = element("input", { type: "text", value: clock(stamp.at),
        className: "bakelab-clock", title: "Correct the time" });
      input.setAttribute("aria-label", `Time of ${stamp.what} (hours:minutes)`);
      input.addEventListener("change", () =>
        ask({ do: "move", id: stamp.id, clock: input.value }));
      return element("li", {}, [input,
        element("span", { textContent: stamp.what }),
        element("span", { className: "bakelab-caption", textContent: stamp.after }), back]);
    }));
  }

  function drawTold() {
    clearTimeout(waiting);
    told.textContent = model.get("told").text ?? "";
    told.className = `bakelab-told bakelab-${model.get("told").kind ?? "quiet"}`;
  }

  model.on("change:buttons", drawButtons);
  model.on("change:timers", drawTimers);
  model.on("change:stamps", drawList);
  model.on("change:told", drawTold);
  model.on("msg:custom", drawTold);
  drawButtons();
  drawTimers();
  drawList();
  drawTold();
  const ticking = setInterval(tick, 500);
  return () => clearInterval(ticking);
}

export default { render };

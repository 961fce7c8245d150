"""Random input with a fixed seed into every control of every panel.

Nothing may end in a traceback, in the page, in the kernel's messages or in the
server's log, and the panel must still answer at the end. CI types for a few
seconds a notebook; `BAKELAB_RANDOM_INPUT_S=600` makes it ten minutes.
"""

import os
import random
import time
from typing import Any

import pytest

from .lab_driver import Lab, notebook_names, open_notebook, watched

pytestmark = pytest.mark.browser

SECONDS = float(os.environ.get("BAKELAB_RANDOM_INPUT_S", "8"))
SEED = 20_260_517
CONTROLS = (
    ".bakelab-panel input:not([type=file]), .bakelab-panel textarea, "
    ".bakelab-panel select, .bakelab-panel button, .bakelab-panel .noUi-handle, "
    ".bakelab-panel summary"
)
TYPED = (
    "", " ", "0", "-1", "-0.0", "1e999", "NaN", "inf", "1/0", "½", "2,5", "1.234,5",
    "12", "350 F", "9 x 5 x 2.75 in", "0 x 0 x 0 cm", "loaf", "round 20 x 5 cm",
    "3 cups bread flour\n1 cup water\n2 tsp salt", "500 g Mehl\n300 g Wasser",
    "<script>window.struck = 1</script>", "<img src=x onerror='window.struck = 1'>",
    "'; DROP TABLE bake; --", "../../etc/passwd", "=1+1", "\u202eabc", "🍞" * 40,
    "x" * 3000, "T t tbsp", "١٢٣", "%s %d {0}", "\\", '"', "null", "1 pinch",
)  # fmt: skip
KEYS = ("ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown")
LISTEN = """() => {
  window.failures = [];
  const context = window.jupyterapp.shell.currentWidget.sessionContext;
  context.iopubMessage.connect((_, message) => {
    const stderr = message.content.name === 'stderr';
    if (message.header.msg_type === 'error' || stderr) {
      const { ename, evalue, traceback, text } = message.content;
      const ours = (traceback ?? []).filter(part => part.includes('bakelab'));
      window.failures.push([ename, evalue, text, ...ours].join(' | ').slice(0, 5000));
    }
  });
}"""
IDLE = """() => window.jupyterapp.shell.currentWidget.sessionContext
  .session.kernel.status === 'idle'"""


@pytest.mark.parametrize("name", notebook_names())
def test_no_input_ends_in_a_traceback(lab: Lab, chromium: Any, name: str) -> None:
    context, page, outside = watched(chromium, viewport={"width": 1280, "height": 1600})
    page.on("dialog", lambda dialog: dialog.dismiss())
    logged = len(lab.log.read_text())
    open_notebook(page, lab, name, shows=".jp-OutputArea-output")
    page.set_default_timeout(5_000)
    page.wait_for_timeout(1_000)
    page.evaluate(LISTEN)
    done = press_everything(page, random.Random(SEED), SECONDS)
    page.wait_for_function(IDLE, timeout=60_000)
    failures = page.evaluate("window.failures")
    struck = page.evaluate("window.struck === undefined")
    shown = page.locator(".jp-OutputArea").all_inner_texts()
    working = page.locator(CONTROLS).count()
    context.close()
    assert failures == [], done[-6:]
    assert not any("Traceback" in text for text in shown)
    assert "Traceback" not in lab.log.read_text()[logged:]
    assert struck
    assert outside == []
    assert working or not done


def press_everything(page: Any, chance: random.Random, seconds: float) -> list[str]:
    """Use random controls for a while; what was done, a line each."""
    done: list[str] = []
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        controls = page.locator(
            f":is({CONTROLS}):visible:not([disabled])"
        ).element_handles()
        if not controls:
            break
        try:
            done.append(_use(page, chance.choice(controls), chance))
        except Exception as error:
            if type(error).__name__ not in ("TimeoutError", "Error"):
                raise
            done.append(f"could not be used: {str(error)[:80]}")
    return done


def _use(page: Any, control: Any, chance: random.Random) -> str:
    tag, kind = control.evaluate("e => [e.tagName, e.type ?? '']")
    named = control.evaluate("e => e.ariaLabel || e.innerText?.slice(0, 40) || e.id")
    if tag == "SELECT":
        count = control.evaluate("e => e.options.length")
        if not count:
            return f"nothing to choose in {named}"
        control.select_option(index=chance.randrange(count), timeout=2_000)
        return f"chose in {named}"
    if tag in ("BUTTON", "SUMMARY") or kind in ("checkbox", "radio"):
        control.click(timeout=2_000)
        return f"pressed {named}"
    if tag == "DIV":
        control.focus()
        key = chance.choice(KEYS)
        page.keyboard.press(key)
        return f"{key} on {named}"
    text = chance.choice(TYPED)
    if kind in ("date", "datetime-local", "number", "time", "color", "range"):
        control.focus()
        page.keyboard.type("".join(c for c in text if c.isascii())[:12])
    else:
        control.fill(text, timeout=2_000)
    page.keyboard.press("Tab")
    return f"typed {text[:40]!r} in {named}"

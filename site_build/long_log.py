"""A log of ten years, and how long the engine takes for an answer with it; for the bench."""

from __future__ import annotations

import json
from datetime import date, timedelta

from calc import stock

LINES = 5000

# Puts another log into the form; tells how long its answer took [ms].
OPEN = """async (text) => {
  const count = self.brinebookTrips.length;
  const box = document.querySelector("textarea[name=log]");
  box.value = text;
  box.dispatchEvent(new Event("input", { bubbles: true }));
  while (self.brinebookTrips.length === count) await new Promise((go) => setTimeout(go, 5));
  return self.brinebookTrips[count];
}"""


def text(end: date) -> str:
    """The log as CSV: readings and jobs done on ten years of days up to an end."""
    tasks = [task.name for task in stock.guide().shelf("task").values()]
    start = end - timedelta(days=3652)
    lines = ["date,entry,hours,task,note"]
    for number in range(LINES):
        day = start + timedelta(days=number * 3652 // LINES)
        done = number % 5 == 0
        task = tasks[number // 5 % len(tasks)] if done else ""
        entry = "done" if done else "reading"
        lines.append(f"{day},{entry},{number * 0.4:.1f},{task},{'as usual' if done else ''}")
    return "\n".join(lines) + "\n"


def sheet(end: date) -> dict[str, str]:
    """A boat with that log, of which enough is said for an answer."""
    unit = next(iter(stock.guide().shelf("unit")))
    return {"unit": unit, "log": text(end), "started": str(end - timedelta(days=3652))}


def remembered(end: date) -> str:
    """A script by which a browser remembers that boat."""
    entries = {f"brinebook:boat:1.{name}": json.dumps(said) for name, said in sheet(end).items()}
    return f"Object.entries({json.dumps(entries)}).forEach((one) => localStorage.setItem(...one));"

"""Newest input wins: the page against an engine that answers when the test wants it to.

The form holds every kind of control that a calculator may have, a list of rows among them; the
engine's worker is a stand-in, since the real one answers too quickly to be late.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from site_build import server

from . import live

WORKER = """
self.engines = [];
self.bbNativeWorker = class extends EventTarget {
  constructor() {
    super();
    this.asked = [];
    this.ended = false;
    self.engines.push(this);
    setTimeout(() => this.say({ hello: true }));
  }
  say(data) { this.ended || this.dispatchEvent(new MessageEvent("message", { data })); }
  postMessage(message) {
    if (message.ask) this.asked.push({ number: message.ask, ...JSON.parse(message.request) });
    if ((message.file ?? message.drop) === "snapshot" && !this.started) { // it starts with it or without
      this.started = true;
      setTimeout(() => this.say({ ready: { snapshot: true } }));
    }
  }
  terminate() { this.ended = true; }
};
"""

FORM = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Typing</title>
<link rel="icon" href="data:,">GUIDE</head><body><h1>Typing</h1>
<section class="calc" data-calculator="one" data-prefix="p-" data-example='{"boat": "ketch"}'>
<form class="calc-form" novalidate>
  <div data-field="length"><input name="length" inputmode="decimal" value="5">
    <select name="length.unit"><option>m</option><option>ft</option></select></div>
  <div data-field="kind"><select name="kind"><option>agm</option><option>gel</option></select></div>
  <div data-field="starter"><input type="checkbox" name="starter" value="yes"></div>
  <div data-field="day"><input type="date" name="day" value="2026-05-01"></div>
  <div data-field="side"><input type="radio" name="side" value="port" checked>
    <input type="radio" name="side" value="starboard"></div>
  <p data-slot="field.length">built</p>
  <fieldset data-rows="loads" data-field="loads"><div data-row-list>
    <div data-row><input id="p-loads-0-power" name="loads.0.power" value="60">
      <select name="loads.0.power.unit"><option>W</option></select>
      <p data-slot="field.loads.0.power"></p><button type="button" data-remove-row>Remove</button></div>
  </div><template data-row-template>
    <div data-row><input id="p-loads-#-power" name="loads.#.power" value="10">
      <select name="loads.#.power.unit"><option>W</option></select>
      <p data-slot="field.loads.#.power"></p><button type="button" data-remove-row>Remove</button></div>
  </template><button type="button" data-add-row>Add</button></fieldset>
  <button type="button" data-reset>Back to the example</button>
</form><p data-engine-status></p><div data-slot="answer"><p>built</p></div></section>
<section class="calc" data-calculator="two" data-example="{}"><form class="calc-form">
  <input name="width" inputmode="decimal" value="2"></form><div data-slot="answer"><p>built</p></div>
</section>
<select data-units-choice><option>metric</option><option>us</option></select>
<script src="assets/engine/LOADER"></script></body></html>
"""


@pytest.fixture(scope="module")
def folder(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of one page with the real loader and the real files, its guide's own among them."""
    target = tmp_path_factory.mktemp("typing")
    shutil.copytree(built_site / "assets/engine", target / "assets/engine")
    loader = live.engine_file(target, "brinebook").name
    guide = re.search('<meta name="brinebook-guide"[^>]*>', (built_site / "index.html").read_text())
    assert guide
    form = FORM.replace("LOADER", loader).replace("GUIDE", guide[0])
    (target / "index.html").write_text(form, "utf-8")
    return target


@pytest.fixture
def form(page: Page, folder: Path) -> Iterator[Page]:
    """The page with its stand-in engine, ready."""
    page.add_init_script(WORKER)
    with server.serve(folder) as served:
        page.goto(served.url)
        live.await_ready(page)
        yield page


def asked(page: Page) -> list[dict[str, Any]]:
    """What the newest engine has been asked so far."""
    requests: list[dict[str, Any]] = page.evaluate("engines.at(-1).asked")
    return requests


def reply(page: Page, index: int, **response: Any) -> None:
    """Answer one of the requests."""
    text = json.dumps({"slots": {}, "values": {}, "attributes": {}, "hidden": [], **response})
    page.evaluate(
        "([index, response]) => engines.at(-1).say("
        "{ answer: engines.at(-1).asked[index].number, response })",
        [index, text],
    )


def answer(page: Page) -> str:
    return page.locator("[data-slot=answer]").first.inner_text()


def test_only_what_was_touched_is_sent_with_its_unit(form: Page) -> None:
    form.fill("[name=length]", "7,5")
    sent = asked(form)[0]
    assert sent.pop("as"), "each answer has a name"
    assert sent == {
        "today": form.evaluate("new Date().toLocaleDateString('sv')"),
        "number": 1,
        "calculator": "one",
        "example": {"boat": "ketch"},
        "typed": {"length": "7,5 m"},
        "sheet": {},
        "own": False,
        "units": "metric",
        "decimal": ".",
        "prefix": "p-",
    }


def test_every_kind_of_control_is_sent_as_text(form: Page) -> None:
    form.check("[name=starter]")
    form.select_option("[name=kind]", "gel")
    form.fill("[name=day]", "2026-06-02")
    form.check("[name=side][value=starboard]")
    form.fill("[name=length]", "")
    form.fill("[name='loads.0.power']", "75")
    reply(form, 0)
    assert asked(form)[-1]["typed"] == {
        "starter": "yes",
        "kind": "gel",
        "day": "2026-06-02",
        "side": "starboard",
        "length": "",
        "loads": [{"power": "75 W"}],
    }
    form.uncheck("[name=starter]")
    reply(form, 1)
    assert asked(form)[-1]["typed"]["starter"] == "no"


def test_one_request_is_under_way_and_only_the_newest_waits(form: Page) -> None:
    for text in ("1", "2", "3", "4"):
        form.fill("[name=length]", text)
    assert [one["typed"]["length"] for one in asked(form)] == ["1 m"]
    reply(form, 0, slots={"answer": "<p>to 1</p>"})
    assert [one["typed"]["length"] for one in asked(form)] == ["1 m", "4 m"]
    assert answer(form) == "built", "an answer that is out of date is not shown"
    reply(form, 1, slots={"answer": "<p>to 4</p>"})
    assert answer(form) == "to 4"


def test_a_late_answer_never_takes_the_place_of_a_newer_one(form: Page) -> None:
    form.fill("[name=length]", "1")
    reply(form, 0, slots={"answer": "<p>to 1</p>"})
    form.fill("[name=length]", "2")
    reply(form, 1, slots={"answer": "<p>to 2</p>"})
    reply(form, 0, slots={"answer": "<p>to 1 again</p>"})
    assert answer(form) == "to 2"


def test_while_an_answer_is_late_the_old_one_is_marked(form: Page) -> None:
    section = form.locator("section.calc").first
    assert section.get_attribute("data-stale") is None
    form.fill("[name=length]", "1")
    form.wait_for_selector("section.calc[data-stale]")
    reply(form, 0, slots={"answer": "<p>to 1</p>"})
    assert section.get_attribute("data-stale") is None
    # A refusal in the place of an answer: what is shown is still the answer to 1.
    form.fill("[name=length]", "2")
    reply(form, 1, error="no")
    assert section.get_attribute("data-stale") is not None
    assert section.locator("[data-engine-status]").inner_text() == "no"
    form.fill("[name=length]", "3")
    form.evaluate("engines[0].say({ fault: 3, detail: 'ZeroDivisionError', fatal: false })")
    assert section.get_attribute("data-stale") is not None
    form.fill("[name=length]", "4")
    reply(form, 3, slots={"answer": "<p>to 4</p>"})
    assert section.get_attribute("data-stale") is None


def in_steps(page: Page, index: int, over: bool, first: str, **parts: str) -> None:
    """Answer with what is seen first, of an answer that there is more of; the parts that differ."""
    sent = asked(page)[index]
    made = {"first": f"<p>{first}</p>", **parts, "rest": HOLDER}
    reply(page, index, over=sent["over"] if over else None, order=[*made], parts=made, more=True)


HOLDER = '<div class="answer-rest" data-parts="rest"></div>'
FOLDS = {f"rest.{key}": f"<details data-key='{key}'><summary>s</summary></details>" for key in "ab"}


def test_the_rest_of_an_answer_is_asked_for_and_stays_until_it_is_there(form: Page) -> None:
    """Verdict and figures of one input never stand unmarked beside what is folded of another."""
    shown = (
        "[...document.querySelectorAll('.answer-rest [data-key]')].map((one) => one.dataset.key)"
    )
    section = form.locator("section.calc").first
    form.fill("[name=length]", "1")
    in_steps(form, 0, False, "to 1")
    assert answer(form) == "to 1" and section.get_attribute("data-answer") == "first"
    first, rest = asked(form)
    assert (rest["do"], rest["of"]) == ("rest", first["as"])
    order = ["first", "rest", *FOLDS]
    reply(form, 1, over=first["as"], order=order, parts=FOLDS)
    assert section.get_attribute("data-answer") == "current"
    assert form.evaluate(shown) == ["a", "b"]
    # The next is told over this one: of what stays nothing is told, and nothing is touched.
    form.click("[data-key=b] summary")
    form.evaluate("self.kept = document.querySelector('[data-key=b]')")
    form.fill("[name=length]", "2")
    assert asked(form)[2]["over"] == rest["as"]
    in_steps(form, 2, True, "to 2", cautions="<aside>!</aside>")
    assert form.evaluate(shown) == ["a", "b"]
    changed = {"rest.a": FOLDS["rest.a"].replace("s<", "t<")}
    order = ["first", "cautions", "rest", "rest.a", "rest.b"]
    reply(form, 3, over=asked(form)[2]["as"], order=order, parts=changed)
    assert form.locator("[data-key=a] summary").inner_text() == "t"
    assert form.evaluate("kept.isConnected && kept.open")
    order_of = (
        "[...document.querySelector('[data-slot=answer]').children].map((one) => one.nodeName)"
    )
    assert form.evaluate(order_of) == ["P", "ASIDE", "DIV"]
    # What goes, goes; and an answer that is not over this one is all there is.
    form.fill("[name=length]", "3")
    reply(form, 4, over=None, order=["verdict"], parts={"verdict": "<p>mend it</p>"})
    assert form.locator("[data-slot=answer]").first.inner_html() == "<p>mend it</p>"


def test_the_rest_of_an_answer_that_is_out_of_date_is_not_shown(form: Page) -> None:
    form.fill("[name=length]", "1")
    in_steps(form, 0, False, "to 1")
    form.fill("[name=length]", "2")
    reply(form, 1, over=asked(form)[0]["as"], order=["first", "rest", *FOLDS], parts=FOLDS)
    assert form.locator(".answer-rest details").count() == 0
    assert asked(form)[2]["over"] == asked(form)[0]["as"], "what is shown is the first step"
    in_steps(form, 2, True, "to 2")
    # An engine that knows nothing of it is asked for all.
    reply(form, 3, lost=True)
    assert asked(form)[4]["typed"] == {"length": "2 m"}


def test_calculators_of_one_page_share_the_engine_and_keep_apart(form: Page) -> None:
    form.fill("[name=length]", "1")
    form.fill("[name=width]", "9")
    assert form.evaluate("engines.length") == 1
    assert [one["calculator"] for one in asked(form)] == ["one"]
    reply(form, 0, slots={"answer": "<p>one</p>"})
    reply(form, 1, slots={"answer": "<p>two</p>"})
    assert form.locator("[data-slot=answer]").all_inner_texts() == ["one", "two"]


def test_values_fill_what_is_untouched_and_nothing_else(form: Page) -> None:
    form.fill("[name=length]", "12")
    values = {
        "length": "99",
        "length.unit": "ft",
        "kind": "gel",
        "starter": "yes",
        "side": "starboard",
    }
    values |= {"loads.0.power": "5", "loads.0.power.unit": "W", "loads.1.power": "6"}
    reply(form, 0, values=values, slots={"field.loads.1.power": "six"}, hidden=["day"])
    assert form.input_value("[name=length]") == "12"
    assert form.input_value("[name='length.unit']") == "m"
    assert form.input_value("[name=kind]") == "gel"
    assert form.is_checked("[name=starter]")
    assert form.is_checked("[name=side][value=starboard]")
    assert form.locator("[data-row]").count() == 2
    assert form.input_value("[name='loads.1.power']") == "6"
    assert form.locator("[data-slot='field.loads.1.power']").inner_text() == "six"
    assert form.locator("[name=day]").is_hidden()
    form.fill("[name=length]", "13")
    reply(form, 1, values=values)
    assert form.locator("[name=day]").is_visible()


def test_what_differs_is_put_into_a_form_and_all_of_it_where_it_stands_otherwise(
    form: Page,
) -> None:
    def shown() -> list[str]:
        names = ("kind", "day", "loads.0.power")
        return [form.input_value(f"[name='{name}']") for name in names]

    def answered(typed: str, over: bool, **told: Any) -> None:
        form.fill("[name=length]", typed)
        last = len(asked(form)) - 1
        reply(form, last, over=asked(form)[last]["over"] if over else None, **told)

    first = {"kind": "gel", "day": "2026-06-01", "loads.0.power": "7"}
    answered("1", False, values=first, slots={"field.length": "one"})
    assert shown() == list(first.values())
    answered("2", True, values={"day": "2026-06-02"}, attributes={"kind": {"data-x": ""}})
    assert shown() == ["gel", "2026-06-02", "7"]
    assert form.locator("[name=kind][data-x]").count() == 1
    assert form.locator("[data-slot='field.length']").inner_text() == "one"
    # A row more, whose place was not there before.
    more = {"loads.1.power": "8"}
    answered("3", True, values=more, slots={"field.loads.1.power": "eight"})
    assert form.input_value("[name='loads.1.power']") == "8"
    assert form.locator("[data-slot='field.loads.1.power']").inner_text() == "eight"
    answered("4", True, gone={"values": list(more)})
    assert form.locator("[data-row]").count() == 1
    # Back to the page's own values: what the answer before has put there doesn't stand there any more.
    form.click("[data-reset]")
    assert shown() == ["agm", "2026-05-01", "60"]
    last = len(asked(form)) - 1
    reply(form, last, over=asked(form)[last]["over"])
    assert shown() == ["gel", "2026-06-02", "7"]


def test_on_a_slow_device_the_rest_waits_for_a_next_key(form: Page) -> None:
    form.fill("[name=length]", "1")
    form.wait_for_timeout(300)
    in_steps(form, 0, False, "to 1")
    assert len(asked(form)) == 1
    form.fill("[name=length]", "2")
    assert [one.get("do") for one in asked(form)] == [None, None], "no rest came in its way"
    form.wait_for_timeout(300)
    in_steps(form, 1, True, "to 2")
    form.wait_for_function("engines.at(-1).asked.length === 3")
    assert (asked(form)[2]["do"], asked(form)[2]["of"]) == ("rest", asked(form)[1]["as"])
    form.wait_for_timeout(500)
    assert len(asked(form)) == 3, "nor is the rest of the first one asked for"


def test_rows_are_added_removed_and_numbered(form: Page) -> None:
    form.click("[data-add-row]")
    assert form.evaluate("document.activeElement.name") == "loads.1.power"
    form.fill("[name='loads.1.power']", "20")
    form.click("[data-add-row]")
    form.fill("[name='loads.2.power']", "30")
    form.locator("[data-remove-row]").nth(1).click()
    names = form.locator("[data-row] input").evaluate_all(
        "all => all.map((one) => [one.name, one.id])"
    )
    assert names == [["loads.0.power", "p-loads-0-power"], ["loads.1.power", "p-loads-1-power"]]
    reply(form, 0)
    assert asked(form)[-1]["typed"] == {"loads": [{"power": "60 W"}, {"power": "30 W"}]}
    for _ in range(2):
        form.locator("[data-remove-row]").first.click()
    reply(form, 1)
    assert asked(form)[-1]["typed"] == {"loads": []}
    form.click("[data-reset]")
    assert form.input_value("[name='loads.0.power']") == "60"
    form.click("[data-reset]")
    assert form.locator("[data-row]").count() == 0


def test_html_is_exchanged_where_it_differs_and_nowhere_else(form: Page) -> None:
    first = "<p>a</p><details data-key='w'><summary>s</summary><input id='x'></details><p>b</p>"
    form.fill("[name=length]", "1")
    reply(form, 0, slots={"answer": first})
    form.evaluate("self.kept = document.querySelector('details')")
    form.click("summary")
    form.focus("#x")
    form.evaluate(
        "const box = document.querySelector('[name=length]'); box.value = '2';"
        "box.dispatchEvent(new Event('input', { bubbles: true }))"
    )
    reply(form, 1, slots={"answer": first.replace("b</p>", "c</p><p>d</p>")})
    assert form.evaluate("kept === document.querySelector('details')")
    assert form.evaluate("document.activeElement.id") == "x"
    assert form.evaluate("kept.open") is True
    assert form.locator("[data-slot=answer]").first.locator("> p").all_inner_texts() == [
        "a",
        "c",
        "d",
    ]
    # Where the parts have moved up, what was open is open all the same.
    form.fill("[name=length]", "3")
    reply(form, 2, slots={"answer": first.replace("<p>a</p>", "")})
    assert form.locator("[data-slot=answer] > *").first.evaluate("one => one.nodeName") == "DETAILS"
    assert form.locator("[data-slot=answer] details").get_attribute("open") is not None


def test_what_python_unfolds_follows_the_answer_unless_the_reader_says_otherwise(
    form: Page,
) -> None:
    def shown(index: int, opened: str) -> list[bool]:
        parts = (
            f"<details data-key='{key}'{' open data-opened' if key == opened else ''}>"
            f"<summary>{key}</summary>{index}</details>"
            for key in "ab"
        )
        form.fill("[name=length]", str(index + 1))
        reply(form, index, slots={"answer": "".join(parts)})
        unfolded: list[bool] = form.evaluate(
            "[...document.querySelectorAll('details')].map((one) => one.open)"
        )
        marked = "[...document.querySelectorAll('details')].map((one) => 'opened' in one.dataset)"
        assert form.evaluate(marked) == unfolded
        return unfolded

    assert shown(0, "a") == [True, False]
    assert shown(1, "b") == [False, True]
    form.locator("summary").nth(1).click()
    assert shown(2, "b") == [False, False]
    assert shown(3, "a") == [True, False]


def test_a_run_without_end_is_stopped_and_the_engine_starts_again(form: Page) -> None:
    form.clock.install()
    form.fill("[name=length]", "1")
    form.clock.run_for(11_000)
    form.wait_for_function("engines.length === 2 && engines[0].ended")
    live.await_ready(form)
    status = form.locator("[data-engine-status]").inner_text()
    assert "took too long" in status
    assert form.input_value("[name=length]") == "1"
    form.fill("[name=length]", "2")
    reply(form, 0, slots={"answer": "<p>to 2</p>"})
    assert answer(form) == "to 2"


def test_a_device_that_is_slow_to_start_is_given_longer_for_an_answer(
    page: Page, folder: Path
) -> None:
    page.add_init_script(WORKER.replace("snapshot: true } }));", "snapshot: true } }), 8000);"))
    page.clock.install()
    with server.serve(folder) as served:
        page.goto(served.url)
        page.wait_for_function("engines.length")
        page.fill("[name=length]", "1")
        page.clock.run_for(1000)
        page.wait_for_selector("section.calc[data-engine=starting]")
        page.clock.run_for(8000)
        page.wait_for_function("engines[0].asked.length")
        page.clock.run_for(15_000)
        assert page.evaluate("engines.length") == 1
        page.clock.run_for(15_000)
        page.wait_for_function("engines.length === 2 && engines[0].ended")


def test_an_engine_that_never_starts_fails_in_good_time(page: Page, folder: Path) -> None:
    page.add_init_script(WORKER.replace('(message.file ?? message.drop) === "snapshot"', "false"))
    page.clock.install()
    with server.serve(folder) as served:
        page.goto(served.url)
        page.wait_for_function("engines.length")
        page.locator("[name=length]").focus()
        page.clock.run_for(1000)
        page.wait_for_selector("section.calc[data-engine=starting]")
        page.clock.run_for(61_000)
        assert "no sign of life" in live.await_failed(page)
        assert page.evaluate("engines[0].ended")


def test_a_fault_of_the_calculator_loses_nothing(form: Page) -> None:
    form.fill("[name=length]", "1")
    form.evaluate("engines[0].say({ fault: 1, detail: 'ZeroDivisionError', fatal: false })")
    assert "ZeroDivisionError" in form.locator("[data-engine-status]").inner_text()
    assert form.input_value("[name=length]") == "1"
    form.fill("[name=length]", "2")
    reply(form, 1, slots={"answer": "<p>to 2</p>"})
    assert answer(form) == "to 2"
    assert "ZeroDivisionError" not in form.locator("[data-engine-status]").inner_text()


def test_units_are_chosen_for_the_whole_page_and_remembered(form: Page) -> None:
    form.select_option("[data-units-choice]", "us")
    reply(form, 0)
    reply(form, 1)
    assert [(one["calculator"], one["units"]) for one in asked(form)] == [
        ("one", "us"),
        ("two", "us"),
    ]
    form.reload()
    live.await_ready(form)
    assert form.input_value("[data-units-choice]") == "us"
    assert asked(form)[0]["units"] == "us"


def test_what_was_typed_is_there_again_however_one_comes_back(form: Page) -> None:
    form.fill("[name=length]", "7,5")
    form.select_option("[name='length.unit']", "ft")
    form.select_option("[name=kind]", "gel")
    form.click("[data-add-row]")
    form.fill("[name='loads.1.power']", "abc")
    typed = {"length": "7,5 ft", "kind": "gel", "loads": [{"power": "60 W"}, {"power": "abc W"}]}
    reply(form, 0)
    assert asked(form)[-1]["typed"] == typed
    address = form.url

    def back() -> None:
        live.await_ready(form)
        form.wait_for_function("engines.at(-1).asked.length")
        assert asked(form)[0]["typed"] == typed
        assert form.input_value("[name='loads.1.power']") == "abc"

    form.reload()
    back()
    form.goto("about:blank")
    form.go_back()
    back()
    form.goto("about:blank")
    form.goto(address)
    back()
    again = form.context.new_page()  # the tab was closed
    again.goto(address)
    assert again.input_value("[name=length]") == "7,5"
    again.close()
    # Back to the example is for good, unless it is undone.
    form.click("[data-reset]")
    form.click("[data-reset]")
    form.reload()
    back()
    form.click("[data-reset]")
    form.reload()
    live.await_ready(form)
    assert form.input_value("[name=length]") == "5"
    assert form.locator("[data-row]").count() == 1


def test_what_is_typed_for_one_boat_is_not_taken_for_another(form: Page) -> None:
    def turn(boat: str) -> None:
        """As another tab does it."""
        form.evaluate(
            """(boat) => {
              localStorage["brinebook:boat:2"] = "true";
              localStorage["brinebook:boat"] = JSON.stringify(boat);
              dispatchEvent(new StorageEvent("storage", { key: "brinebook:boat", storageArea: localStorage }));
            }""",
            boat,
        )

    form.evaluate("localStorage['brinebook:boat:1.name'] = '\"Alder\"'")
    form.fill("[name=length]", "9")
    for again in (lambda: None, lambda: (form.reload(), live.await_ready(form))):
        for boat, length in (("2", "5"), ("1", "9"), ("2", "5"), ("1", "9")):
            turn(boat)
            again()
            form.wait_for_function(
                "(length) => document.querySelector('[name=length]').value === length", arg=length
            )
    form.fill("[name=length]", "7")
    turn("2")
    form.fill("[name=length]", "8")
    turn("1")
    assert form.input_value("[name=length]") == "7"


def test_what_an_older_edition_kept_does_no_harm(form: Page) -> None:
    form.fill("[name=length]", "9")
    form.evaluate(
        """() => {
          const name = Object.keys(localStorage).find((one) => one.includes(":form:"));
          const state = JSON.parse(localStorage[name]);
          state.touched.push("gone", "kind");
          state.rows.gone = 3;
          Object.assign(state.values, { gone: "1", kind: "nickel" });
          localStorage[name] = JSON.stringify(state);
        }"""
    )
    form.reload()
    live.await_ready(form)
    assert asked(form)[0]["typed"] == {"length": "9 m", "kind": "agm"}


ODD = [
    "5",
    "null",
    "[]",
    "{}",
    "not json",
    '{"touched": [], "rows": {"loads": 1e9}, "values": {}}',
    '{"touched": 3, "rows": null, "values": []}',
    '{"touched": [], "rows": {}, "values": {"length": {}}}',
]
ELSEWHERE = [
    ("units", "5"),
    ("units", '"furlongs"'),
    ("boat", "[]"),
    ("boat:1.name", "5"),
    ("boat:1.name", '[{"a": 1}]'),
    ("again:/", '{"forms": 5, "unkept": []}'),
]


@pytest.mark.parametrize(("name", "odd"), [*(("form:/:onep-", odd) for odd in ODD), *ELSEWHERE])
def test_what_is_kept_in_a_wrong_shape_is_set_aside_and_told(
    form: Page, name: str, odd: str
) -> None:
    session = name.startswith("again")
    store = "sessionStorage" if session else "localStorage"
    entry = f"brinebook:{name}"
    form.evaluate("([store, name, odd]) => self[store].setItem(name, odd)", [store, entry, odd])
    form.reload()
    form.fill("[name=length]", "9")
    form.wait_for_function("engines.at(-1)?.asked.length")
    assert "9 m" in json.dumps(asked(form)[-1]["typed"])
    reply(form, len(asked(form)) - 1)
    aside = form.evaluate(
        "([store, name]) => self[store].getItem(name)", [store, f"brinebook:aside:{name}"]
    )
    assert aside == odd
    assert form.locator(".bb-aside").count() == 1
    if name == ELSEWHERE[0][0] or odd == ODD[0]:
        with form.expect_download() as saved:
            form.click(".bb-aside button")
        assert json.loads(Path(saved.value.path()).read_text("utf-8")) == {name: odd}
        form.reload()
        live.await_ready(form)
        assert form.locator(".bb-aside").count() == 0, "it is told once"


def test_a_unit_typed_into_a_box_goes_to_its_place_when_the_box_is_left(form: Page) -> None:
    settled = {"length": "12", "length.unit": "ft"}
    form.fill("[name=length]", "12ft")
    reply(form, 0, settled=settled)
    assert asked(form)[0]["typed"] == {"length": "12ft m"}
    assert form.input_value("[name=length]") == "12ft", "nothing moves under the hand that types"
    form.locator("[name=kind]").focus()
    assert form.input_value("[name=length]") == "12"
    assert form.input_value("[name='length.unit']") == "ft"
    # What is typed meanwhile is never overwritten by what was meant before.
    form.fill("[name=length]", "13ft")
    reply(form, 1, settled={"length": "13", "length.unit": "ft"})
    form.fill("[name=length]", "14")
    form.locator("[name=kind]").focus()
    assert form.input_value("[name=length]") == "14"
    form.reload()
    assert form.input_value("[name=length]") == "14"


def test_a_typed_unit_reaches_its_list_even_while_that_has_the_focus(form: Page) -> None:
    form.fill("[name=length]", "7 ft")
    form.press("[name=length]", "Tab")
    assert form.evaluate("document.activeElement.name") == "length.unit"
    reply(form, 0, settled={"length": "7", "length.unit": "ft"})
    assert form.input_value("[name=length]") == "7"
    assert form.input_value("[name='length.unit']") == "ft"


def test_two_tabs_of_a_page_merge_what_was_typed(form: Page) -> None:
    other = form.context.new_page()
    other.add_init_script(WORKER)
    other.goto(form.url)
    live.await_ready(other)
    form.fill("[name=length]", "7")
    other.wait_for_function("document.querySelector('[name=length]').value === '7'")
    other.fill("[name='loads.0.power']", "75")
    form.wait_for_function("document.querySelector(\"[name='loads.0.power']\").value === '75'")
    both = {"length": "7 m", "loads": [{"power": "75 W"}]}
    reply(form, 0)
    assert asked(form)[-1]["typed"] == both
    reply(other, 0)
    assert asked(other)[-1]["typed"] == both
    # What one takes back is the other's no longer.
    form.click("[data-reset]")
    reply(other, 1)
    other.wait_for_function("engines.at(-1).asked.length === 3")
    assert asked(other)[-1]["typed"] == {}
    other.close()

"""`python3 -m calc` as its user meets it."""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from calc import stock, terminal
from calc.frame.report import say
from site_build import commands

ROOT = Path(__file__).parents[1]


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = terminal.main(words)
    out, err = capsys.readouterr()
    return code, out, err


def test_it_runs_as_a_module() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "calc"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    assert "power" in done.stdout


def test_an_answer_reads_from_top_to_bottom(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "power", "bank_capacity=400 Ah", "bank_chemistry=lifepo4")
    assert (code, err) == (0, "")
    assert out.startswith("Power: ")
    assert "Before you touch it" in out
    assert "Source:" not in out
    assert max(map(len, out.splitlines())) <= 100


def test_a_figures_note_stands_under_it(capsys: pytest.CaptureFixture[str]) -> None:
    noise = stock.guide().get("noise")
    report = stock.guide().run(noise).report
    assert report
    _, told, _ = run(capsys, "noise", "--full")
    noted = [figure for figure in report.figures if figure.note]
    assert noted
    for figure in noted:
        below = told.partition(f"\n  {say(figure.label)}  ")[2].partition("\n")[2]
        assert " ".join(below.split()).startswith(say(figure.note))


def test_working_on_request(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "power", "--working")
    assert "Source:" in out


def test_json_is_the_whole_report(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "power", "--boat", "ketch", "--json")
    report = json.loads(out)
    assert {"verdict", "headline", "figures", "working", "cautions", "sources"} <= set(report)


def test_every_fault_at_once_on_stderr(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "power", "bank_capacity=12 V", "flow=-3", "bnk=2")
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 3
    assert "Did you mean “bank”?" in err


@pytest.mark.parametrize(
    "words",
    [
        ("pwer",),
        ("power", "400"),
        ("power", "--boat", "nobody"),
        ("power", "--from", "missing.toml"),
    ],
)
def test_a_mistake_is_a_sentence(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("name", ["in.toml", "in.json"])
def test_inputs_from_a_file(capsys: pytest.CaptureFixture[str], tmp_path: Path, name: str) -> None:
    file = tmp_path / name
    content = {"in.toml": 'run_hours = "3 h"\n', "in.json": '{"run_hours": "3 h"}'}[name]
    file.write_text(content, "utf-8")
    _, from_file, _ = run(capsys, "power", "--from", str(file), "--json")
    _, typed, _ = run(capsys, "power", "run_hours=3 h", "--json")
    assert from_file == typed


def test_a_broken_file_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "in.json"
    file.write_text("{", "utf-8")
    code, _, err = run(capsys, "power", "--from", str(file))
    assert code == 2
    assert "in.json" in err


def test_the_schema_accepts_the_example(capsys: pytest.CaptureFixture[str]) -> None:
    """Checked by the jsonschema library against JSON Schema 2020-12."""
    _, out, _ = run(capsys, "power", "--schema")
    schema = json.loads(out)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate({"run_hours": "2 h", "has_generator": True}, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"run_hour": "2 h"}, schema)


def test_values_and_options_come_in_any_order(capsys: pytest.CaptureFixture[str]) -> None:
    run_2, run_3, boat = "dc_run=2 m", "ac_run=3 m", ("--boat", "ketch")
    told = [
        run(capsys, *words)
        for words in (
            ("wiring", run_2, run_3, *boat, "--json"),
            ("wiring", *boat, run_2, "--json", run_3),
            ("wiring", run_2, *boat, run_3, "--json"),
            (*boat, "--json", "wiring", run_2, run_3),
        )
    ]
    assert told[0][0] == 0
    assert "your run is 2 m" in told[0][1]
    assert all(other == told[0] for other in told)


SIGNS = {"PYTHONIOENCODING": "ascii"}  # as where the locale knows no other signs


def as_process(*words: str | bytes, **settings: Any) -> subprocess.CompletedProcess[bytes]:
    env = {**os.environ, **settings.pop("env", {})}
    return subprocess.run(
        [sys.executable, "-m", "calc", *words],
        cwd=ROOT,
        env=env,
        timeout=60,
        **({"capture_output": True} | settings),
    )


@pytest.mark.parametrize(
    "words",
    [
        ("spares", "parts=x", "parts.0.name=y"),
        ("spares", "parts.0.name=y", "parts=x"),
        ("power", "run_hours=" + "9" * 100_000),
        ("power", "x" * 100_000),
        ("x" * 100_000,),
        ("power", "x" * 100_000 + "=1"),
        ("power", "unit=" + "x" * 100_000),
        ("power", "--boat", "x" * 100_000),
        ("power", "--units", "x" * 100_000),
        ("power", "--" + "x" * 100_000),
        ("power", "unit=\udcff"),
        ("power", "\udcff=1"),
        ("mount", "places.0.what=" + "9" * 100_000),
        ("upkeep", "log=" + "x" * 100_000),
        ("power", "--from", "/dev/zero"),
    ],
    ids=range(15),
)
def test_whatever_is_typed_a_mistake_is_one_short_line(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert len(err) < 300, err[:300]


def test_a_file_nested_too_deep_is_one_line(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    for name, content in (
        ("a.json", '{"a":' * 5000),
        ("a.toml", "a = " + "[" * 5000),
        ("b.toml", ".".join("a" * 5000) + " = 1"),
    ):
        (tmp_path / name).write_text(content, "utf-8")
        code, _, err = run(capsys, "power", "--from", str(tmp_path / name))
        assert code == 2 and len(err.splitlines()) == 1 and "levels deep" in err


def test_a_terminal_that_lacks_signs_shows_others_and_a_minus_stays_one() -> None:
    shown = as_process("mount", "--boat", "ketch", "--working", env=SIGNS)
    assert shown.returncode == 0
    told = shown.stdout.decode("ascii")
    usual = as_process("mount", "--boat", "ketch", "--working", env={"PYTHONIOENCODING": "utf-8"})
    minus, plain = (usual.stdout.decode().count(sign) for sign in "\u2212-")
    assert minus and told.count("-") >= minus + plain
    assert told.count("?") == usual.stdout.count(b"?")
    report = as_process("mount", "--boat", "ketch", "--json", env=SIGNS)
    assert json.loads(report.stdout)["figures"]


def test_an_answer_that_nobody_reads_ends_quietly() -> None:
    read, write = os.pipe()
    os.close(read)
    ended = as_process(
        "power", "--working", capture_output=False, stdout=write, stderr=subprocess.PIPE
    )
    os.close(write)
    assert (ended.returncode, ended.stderr) == (141, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize(
    "words", [("power",), ("power", "--json"), ("power", "--schema"), (), ("--help",)]
)
def test_an_answer_that_finds_no_room_says_so(words: tuple[str, ...]) -> None:
    with Path("/dev/full").open("wb") as full:
        ended = as_process(*words, capture_output=False, stdout=full, stderr=subprocess.PIPE)
    assert ended.returncode == 1
    assert len(ended.stderr.splitlines()) == 1


def test_the_help_of_a_calculator_lists_its_inputs(capsys: pytest.CaptureFixture[str]) -> None:
    for name in stock.guide().names():
        code, out, _ = run(capsys, name, "--help")
        assert code == 0
        assert max(map(len, out.splitlines())) <= 80
        for field, made in stock.guide().get(name).asks.fields.items():
            assert f"  {field}=" in out or f"  {field}.0." in out
            for limit in made.limits().values():
                if isinstance(limit, str):
                    assert limit in " ".join(out.split())


@pytest.mark.parametrize("boat", stock.guide().shelf("boat"))
@pytest.mark.parametrize("name", stock.guide().names())
def test_an_answer_fits_a_screen(capsys: pytest.CaptureFixture[str], name: str, boat: str) -> None:
    for shown in ("metric", "us"):
        code, out, _ = run(capsys, name, "--boat", boat, "--units", shown)
        assert code == 0
        assert len(out.splitlines()) <= 24
        assert max(map(len, out.splitlines())) <= 80
        assert "--full" in out
        _, full, _ = run(capsys, name, "--boat", boat, "--units", shown, "--full")
        assert full.splitlines()[0] == out.splitlines()[0]
        assert len(full) > len(out)


def test_a_boat_is_named_or_filed(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "own.json"
    file.write_text(
        json.dumps({"brinebook boat": 1, "values": {"name": "Own", "stands": "locker"}})
    )
    code, _, err = run(capsys, "power", "--boat", str(file))
    assert code == 2  # nothing that decides is said: the questions, and no example's answer
    assert "=…" in err
    for wrong in ("ketsch", str(tmp_path / "none.json")):
        code, _, err = run(capsys, "power", "--boat", wrong)
        assert code == 2
        assert "ketch" in err


def test_the_commands_of_the_readme_work(capsys: pytest.CaptureFixture[str]) -> None:
    lines = (ROOT / "README.md").read_text("utf-8").splitlines()
    commands = [shlex.split(line, comments=True)[3:] for line in lines if "python3 -m calc" in line]
    assert len(commands) > 3
    for words in commands:
        assert run(capsys, *words)[0] == 0, words


@pytest.mark.parametrize(
    ("words", "near"), [(("srve",), "serve"), (("card", "powr", "-o", "x.pdf"), "power")]
)
def test_what_is_misspelt_gets_the_nearest_name(words: tuple[str, ...], near: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "site_build", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert done.returncode != 0
    assert near in done.stderr.rpartition("Did you mean")[2]
    assert "Traceback" not in done.stderr


def test_a_card_is_written_where_it_is_told_and_says_whose_it_is(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert commands.main(["card", "power"]) == 1
    assert "-o" in capsys.readouterr().err
    out = tmp_path / "power.html"
    assert commands.main(["card", "power", "-o", str(out)]) == 0
    assert "--boat" in capsys.readouterr().out
    assert commands.main(["card", "power", "--boat", "ketch", "-o", str(out)]) == 0
    assert "Alder" in capsys.readouterr().out
    assert out.exists()

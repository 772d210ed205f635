"""The two commands before and around the build: setting up, progress, the server, the watcher.

Nothing here needs a network: packages come from a wheel that the test makes.
"""

from __future__ import annotations

import hashlib
import http.client
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import textwrap
import threading
import time
import tomllib
import urllib.request
import zipfile
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from site_build import browser_finder, commands, machine, server, steps
from site_build.steps import Trouble
from site_build.watch import watch

ROOT = Path(__file__).resolve().parent.parent
BASE_PYTHON = getattr(sys, "_base_executable", sys.executable)  # the one outside the venv


# --- The locks -------------------------------------------------------------------------------


def locked(name: str) -> dict[str, list[tuple[str, str, int]]]:
    """Package to its pins: version, marker, number of hashes."""
    text = (ROOT / "requirements" / f"{name}.txt").read_text().replace("\\\n", " ")
    pins: dict[str, list[tuple[str, str, int]]] = {}
    for line in text.splitlines():
        if line.strip() and not line.lstrip().startswith("#"):
            found = re.match(r"([\w.-]+)==(\S+)\s*(?:;(.*?))?\s*(?:--hash|$)", line)
            assert found, f"not a pin: {line}"
            pin = (found[2], found[3] or "", len(re.findall(r"--hash=sha256:[0-9a-f]{64}\b", line)))
            pins.setdefault(found[1], []).append(pin)
    return pins


@pytest.mark.parametrize("name", ["build", "test", "node", "browser"])
def test_every_package_is_pinned_with_hashes(name: str) -> None:
    for package, pins in locked(name).items():
        for version, _, hashes in pins:
            assert hashes, f"{package}=={version} has no hash"


@pytest.mark.parametrize("name", ["build", "test", "node", "browser"])
def test_every_wanted_package_is_locked(name: str) -> None:
    wanted = (ROOT / "requirements" / f"{name}.in").read_text()
    names = re.findall(r"^([a-z][\w.-]*)", wanted, re.MULTILINE)
    assert names
    assert set(names) <= set(locked(name))


def test_locks_of_build_and_test_agree() -> None:
    build, test = locked("build"), locked("test")
    for package in build.keys() & test.keys():
        assert [pin[0] for pin in build[package]] == [pin[0] for pin in test[package]], package


def test_one_version_of_what_the_site_is_made_of_for_every_python() -> None:
    """Else two machines would build two different sites."""
    assert {package: len(pins) for package, pins in locked("build").items() if len(pins) > 1} == {}


def test_locks_name_no_registry() -> None:
    for lock in (ROOT / "requirements").glob("*.txt"):
        assert "://" not in lock.read_text(), lock.name


def test_the_wheel_wants_what_is_locked_for_building_and_for_the_browser() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    build, browser = locked("build"), locked("browser")
    assert project["dependencies"]
    for wanted in project["dependencies"]:
        name, least = re.match(r"([\w.-]+)>=([\d.]+)", wanted).groups()  # type: ignore[union-attr]
        assert [build[name][0][0], browser[name][0][0]] == [least, least], name


# --- Setting up ------------------------------------------------------------------------------


def make_wheel(folder: Path, version: str) -> str:
    """A package `tiny` as a wheel; returns the line that locks it."""
    wheel = folder / f"tiny-{version}-py3-none-any.whl"
    about = f"tiny-{version}.dist-info"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("tiny.py", f"VERSION = {version!r}\n")
        archive.writestr(
            f"{about}/METADATA", f"Metadata-Version: 2.1\nName: tiny\nVersion: {version}\n"
        )
        archive.writestr(
            f"{about}/WHEEL",
            "Wheel-Version: 1.0\nGenerator: test\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        )
        archive.writestr(f"{about}/RECORD", "")
    digest = hashlib.sha256(wheel.read_bytes()).hexdigest()
    return f"{wheel.as_uri()} --hash=sha256:{digest}\n"


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project elsewhere, whose only requirement is `tiny`."""
    (tmp_path / "requirements").mkdir()
    (tmp_path / "requirements" / "build.txt").write_text(make_wheel(tmp_path, "1.0"))
    monkeypatch.setattr(machine, "ROOT", tmp_path)
    monkeypatch.setattr(machine, "VENV", tmp_path / ".venv")
    return tmp_path


def tiny_version() -> str:
    return ran(
        [machine.python(), "-c", "import tiny; print(tiny.VERSION)"], check=True
    ).stdout.strip()


def ran(command: Sequence[str | Path], **settings: Any) -> subprocess.CompletedProcess[str]:
    """A program run to its end, which comes within minutes on any machine."""
    return subprocess.run(command, capture_output=True, text=True, timeout=300, **settings)


def test_install_once_again_after_a_change_and_refuse_a_wrong_hash(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    machine.install("build")
    assert tiny_version() == "1.0"

    with monkeypatch.context() as patch:
        patch.setattr(machine, "run", lambda *_, **__: pytest.fail("nothing has changed"))
        machine.install("build")

    lock = project / "requirements" / "build.txt"
    lock.write_text(make_wheel(project, "1.1"))
    machine.install("build")
    assert tiny_version() == "1.1"

    lock.write_text(re.sub("[0-9a-f]{64}", "0" * 64, make_wheel(project, "1.2")))
    for _ in range(2):  # a failed installation is not taken for a good one the next time
        with pytest.raises(Trouble, match="HASHES"):
            machine.install("build")
    assert tiny_version() == "1.1"


def test_a_broken_virtual_environment_is_made_again(project: Path) -> None:
    machine.install("build")
    machine.python().unlink()
    machine.install("build")
    assert tiny_version() == "1.0"


def test_a_python_that_cannot_make_environments_says_what_to_install(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(machine.importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(machine, "can_apt", lambda: False)
    monkeypatch.setattr(machine.shutil, "which", lambda name: f"/usr/bin/{name}")
    version = "{}.{}".format(*sys.version_info)
    with pytest.raises(Trouble, match=rf"sudo apt-get install python{version}-venv") as trouble:
        machine.install("build")
    assert "\n" not in str(trouble.value)


def copy_commands(project: Path, build: str) -> None:
    """The commands, with a build that only does what the test wants to see."""
    package = project / "site_build"
    package.mkdir()
    for source in (ROOT / "site_build").glob("*.py"):
        shutil.copy(source, package)
    (package / "build.py").write_text(
        "import sys, tiny\ndef build_site(out, say):\n" + textwrap.indent(build, "    ")
    )


def test_a_command_sets_up_and_goes_on_inside_with_its_arguments(project: Path) -> None:
    copy_commands(project, "say(f'{tiny.VERSION} in {sys.prefix} to {out}')\nraise SystemExit(7)\n")
    command = [BASE_PYTHON, "-m", "site_build", "build", "--out", "a b"]
    first, second = (ran(command, cwd=project) for _ in range(2))
    built = f"1.0 in {machine.VENV} to a b\n"
    assert (first.returncode, first.stderr) == (7, "")
    assert first.stdout.startswith("Making a virtual environment")
    assert first.stdout.endswith(built)
    assert (second.returncode, second.stdout) == (7, built)


@pytest.mark.skipif(os.name == "nt", reason="sends the signal of Ctrl-C as POSIX does")
def test_serve_builds_tells_its_address_and_ends_with_ctrl_c(project: Path) -> None:
    copy_commands(project, "out.mkdir()\n(out / 'index.html').write_text('built')\n")
    with socket.create_server((server.HOST, 0)) as taken:
        port = taken.getsockname()[1]
        command = [BASE_PYTHON, "-u", "-m", "site_build", "serve", "--port", str(port)]
        with subprocess.Popen(
            command, cwd=project, stdout=subprocess.PIPE, text=True, preexec_fn=hears_ctrl_c
        ) as process:
            try:
                assert process.stdout is not None
                lines = []
                for line in process.stdout:
                    lines.append(line.strip())
                    if address := re.match(r"The guide is at (http://\S+)", line):
                        break
                assert address, lines
                assert f"Port {port} is taken." in lines
                with urllib.request.urlopen(address[1], timeout=30) as answer:
                    assert answer.read() == b"built"
                process.send_signal(signal.SIGINT)
                assert process.wait(30) == 0
                assert process.stdout.read().strip() == "Stopped."
            finally:
                process.kill()


def hears_ctrl_c() -> None:
    """A child of what was started in the background with & would not: it ignores that signal."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


def test_a_failed_build_is_told_without_a_traceback(project: Path) -> None:
    copy_commands(project, "from site_build.steps import Trouble\nraise Trouble('page 3: why')\n")
    command = [BASE_PYTHON, "-m", "site_build", "build"]
    answer = ran(command, cwd=project)
    assert (answer.returncode, answer.stderr) == (1, "page 3: why\n")


@pytest.mark.parametrize("command", ["", "serve", "build", "test", "clean", "bench"])
def test_help_needs_nothing_but_the_standard_library(command: str, project: Path) -> None:
    shutil.copytree(ROOT / "site_build", project / "site_build")
    # -I -S: neither the user's packages nor the installed ones
    code = (
        "import sys; sys.path.insert(0, '.')\n"
        "from site_build.commands import main\n"
        f"main({[*command.split(), '--help']!r})"
    )
    answer = ran([BASE_PYTHON, "-I", "-S", "-c", code], cwd=project)
    assert (answer.returncode, answer.stderr) == (0, "")
    assert "usage: python3 -m site_build" in answer.stdout
    assert not machine.VENV.exists()


def test_an_old_python_is_told_so_in_one_line() -> None:
    source = (ROOT / "site_build" / "__main__.py").read_text()
    code = f"import sys; sys.version_info = (3, 8, 1)\n{source}"
    answer = ran([sys.executable, "-c", code])
    assert answer.returncode == 1
    assert answer.stderr == "Brinebook needs Python 3.11 or newer; this is 3.8.\n"


def test_arguments_for_pytest_pass_in_order() -> None:
    options, rest = commands._parse(["test", "-k", "a or b", "--quick", "tests/x.py", "-x", "--lf"])
    assert options.quick
    assert not options.all_browsers
    assert rest == ["-k", "a or b", "tests/x.py", "-x", "--lf"]


def test_clean_removes_only_what_was_made(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("site", ".cache", "docs", ".venv", "node_modules"):
        (project / name).mkdir()
        (project / name / "file").touch()
    assert commands.main(["clean"]) == 0
    assert capsys.readouterr().out == "Removed site\nRemoved .cache\n"
    assert commands.main(["clean", "--all"]) == 0
    assert capsys.readouterr().out == "Removed .venv\nRemoved node_modules\n"
    assert commands.main(["clean"]) == 0
    assert capsys.readouterr().out == "Nothing to remove.\n"
    assert (project / "docs" / "file").exists()


# --- Node.js ---------------------------------------------------------------------------------


def fake_program(folder: Path, name: str, says: str, code: int = 0) -> Path:
    """A program that answers one line, for a machine of our own making."""
    folder.mkdir(exist_ok=True)
    program = folder / name
    program.write_text(f"#!/bin/sh\necho '{says}'\nexit {code}\n")
    program.chmod(0o755)
    return program


posix = pytest.mark.skipif(os.name == "nt", reason="stands in for programs with shell scripts")


@posix
@pytest.mark.parametrize(
    ("own", "has_npm", "wheel"),
    [
        ("v22.1.0", True, False),
        ("v18.19.0", True, True),
        ("v22.1.0", False, True),
        ("?", True, True),
    ],
)
def test_the_machines_own_node_is_used_if_new_and_whole(
    own: str, has_npm: bool, wheel: bool, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    programs = project / "programs"
    fake_program(programs, "node", own)
    if has_npm:
        fake_program(programs, "npm", "10.0.0")
    monkeypatch.setenv("PATH", str(programs))
    installed: list[str] = []
    monkeypatch.setattr(machine, "install", installed.append)
    machine.node.cache_clear()
    try:
        assert installed == ([] if machine.node() == programs / "node" else ["node"])
        assert bool(installed) == wheel
        assert (machine.npm() == [str(programs / "npm")]) != wheel
    finally:
        machine.node.cache_clear()


# --- Browsers --------------------------------------------------------------------------------


@posix
def test_a_browser_that_does_not_start_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    programs = tmp_path / "programs"
    *others, last = browser_finder.CHROMIUM.commands
    for name in others:
        fake_program(programs, name, "missing library", code=127)
    good = fake_program(programs, last, "Chrome 150")
    monkeypatch.setenv("PATH", f"{programs}:/bin:/usr/bin")
    monkeypatch.delenv("BRINEBOOK_CHROMIUM", raising=False)
    assert browser_finder.find(browser_finder.CHROMIUM) == good


def test_a_chosen_browser_that_is_not_there_is_an_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BRINEBOOK_CHROMIUM", str(tmp_path / "none"))
    with pytest.raises(Trouble, match="BRINEBOOK_CHROMIUM names no program"):
        browser_finder.chromium()


def test_no_browser_to_be_had_is_one_line_and_a_failure(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(browser_finder, "find", lambda browser: None)
    monkeypatch.setattr(browser_finder, "_from_playwright", lambda: None)
    monkeypatch.setattr(machine, "can_apt", lambda: False)
    monkeypatch.setattr(machine, "install", lambda *names: None)
    monkeypatch.setattr(machine, "inside", lambda: True)
    assert commands.main(["test"]) == 1
    error = capsys.readouterr().err
    assert error.startswith("The tests need Chromium: ")
    assert error.count("\n") == 1


# --- Steps that may take long ----------------------------------------------------------------


def script(code: str) -> list[str]:
    return [sys.executable, "-u", "-c", code]


def test_a_failed_step_shows_the_end_of_its_output(tmp_path: Path) -> None:
    with pytest.raises(Trouble, match="Step: failed\nbecause") as trouble:
        steps.run("Step", script("print('because'); raise SystemExit(3)"), cwd=tmp_path)
    assert str(trouble.value) == "Step: failed\nbecause"


def test_a_program_that_is_not_there_is_trouble(tmp_path: Path) -> None:
    with pytest.raises(Trouble, match="can't start"):
        steps.run("Step", [str(tmp_path / "none")], cwd=tmp_path)


def test_a_silent_step_is_ended_and_a_speaking_one_is_not(tmp_path: Path) -> None:
    with pytest.raises(Trouble, match="without a sign of life"):
        steps.run("Step", script("import time; time.sleep(60)"), cwd=tmp_path, patience=0.5)
    talk = "import time\nfor _ in range(8): print('.'); time.sleep(0.3)"
    steps.run("Step", script(talk), cwd=tmp_path, patience=1.5)


def test_a_long_step_tells_how_far_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(steps, "SPEAK_EVERY", 0.0)
    steps.run("Step", script("print('one'); print('two')"), cwd=tmp_path, note=str.upper)
    assert capsys.readouterr().out.splitlines()[:3] == ["Step …", "  ONE", "  TWO"]


# --- The server ------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    (site / "power").mkdir(parents=True)
    (site / "index.html").write_text("home")
    (site / "power" / "index.html").write_text("power")
    (site / "404.html").write_text("lost")
    (site / "a b.wasm").write_bytes(b"\0asm")
    (site / "x.mjs").write_text("1")
    (tmp_path / "secret.txt").write_text("secret")
    return site


@pytest.fixture
def site(folder: Path) -> Iterator[server.Site]:
    with server.serve(folder, prefix="/guide/") as running:
        yield running


Answer = tuple[int, str, http.client.HTTPMessage]


def get(site: server.Site, path: str, method: str = "GET", **headers: str) -> Answer:
    connection = http.client.HTTPConnection(server.HOST, site.port, timeout=10)
    connection.request(method, path, headers={k.replace("_", "-"): v for k, v in headers.items()})
    answer = connection.getresponse()
    body = answer.read().decode()
    connection.close()
    return answer.status, body, answer.headers


@pytest.mark.parametrize(
    ("path", "status", "body", "kind"),
    [
        ("/guide/", 200, "home", "text/html; charset=utf-8"),
        ("/guide/index.html?q=1", 200, "home", "text/html; charset=utf-8"),
        ("/guide/power/", 200, "power", "text/html; charset=utf-8"),
        ("/guide/a%20b.wasm", 200, "\0asm", "application/wasm"),
        ("/guide/x.mjs", 200, "1", "text/javascript; charset=utf-8"),
        ("/guide/x.mjs/", 404, "lost", "text/html; charset=utf-8"),
        ("/guide/none", 404, "lost", "text/html; charset=utf-8"),
        ("/", 404, "lost", "text/html; charset=utf-8"),
        ("/guide/../../secret.txt", 404, "lost", "text/html; charset=utf-8"),
        ("/guide/%2e%2e/secret.txt", 404, "lost", "text/html; charset=utf-8"),
        ("/guide//etc/passwd", 404, "lost", "text/html; charset=utf-8"),
        ("/guide/%00", 404, "lost", "text/html; charset=utf-8"),
        ("/guide/" + "x" * 5000, 404, "lost", "text/html; charset=utf-8"),
        ("/guide/" + "x/" * 2500, 404, "lost", "text/html; charset=utf-8"),
        ("/guide/%ff%ed%a0%80", 404, "lost", "text/html; charset=utf-8"),
    ],
)
def test_the_server_answers(
    site: server.Site, path: str, status: int, body: str, kind: str
) -> None:
    assert site.url == f"http://127.0.0.1:{site.port}/guide/"
    got_status, got_body, headers = get(site, path)
    assert (got_status, got_body, headers["Content-Type"]) == (status, body, kind)
    assert headers["Cache-Control"] == "no-cache"
    assert get(site, path, "HEAD")[:2] == (status, "")


def test_a_folder_without_its_slash_is_sent_on(site: server.Site) -> None:
    status, _, headers = get(site, "/guide/power")
    assert (status, headers["Location"]) == (301, "/guide/power/")


def test_a_file_that_has_not_changed_is_not_sent_again(site: server.Site, folder: Path) -> None:
    tag = get(site, "/guide/")[2]["ETag"]
    assert get(site, "/guide/", If_None_Match=tag)[:2] == (304, "")
    (folder / "index.html").write_text("home again")
    assert get(site, "/guide/", If_None_Match=tag)[:2] == (200, "home again")


def test_a_host_can_be_made_hostile(site: server.Site) -> None:
    site.host.types = {".wasm": "application/octet-stream"}
    site.host.headers = {"Content-Security-Policy": "default-src 'self'"}
    site.host.missing = {"x.mjs"}
    headers = get(site, "/guide/a%20b.wasm")[2]
    assert headers["Content-Type"] == "application/octet-stream"
    assert headers["Content-Security-Policy"] == "default-src 'self'"
    assert get(site, "/guide/x.mjs")[0] == 404
    assert site.host.asked == ["/guide/a b.wasm", "/guide/x.mjs"]


def test_many_ask_at_once(site: server.Site) -> None:
    """One who dawdles keeps nobody waiting."""
    with socket.create_connection((server.HOST, site.port)) as dawdler:
        dawdler.sendall(b"GET /guide/ HTTP/1.1\r\n")
        assert get(site, "/guide/")[0] == 200


def test_a_closed_server_answers_nothing(folder: Path) -> None:
    with server.serve(folder) as running:
        assert get(running, "/")[0] == 200
    with pytest.raises(ConnectionRefusedError):
        get(running, "/")


def test_a_taken_port_gives_the_next_free_one(folder: Path) -> None:
    with server.serve(folder) as first, server.serve_near(folder, first.port) as second:
        assert second.port > first.port
        assert get(second, "/")[1] == "home"


# --- Watching --------------------------------------------------------------------------------


class Done(Exception):
    """Ends a watch from within."""


def calls_for_build(root: Path, act: Callable[[], object], *, patience: float) -> bool:
    """Whether a watch calls for a build within `patience` [s] after `act`."""
    called = threading.Event()

    def changed() -> None:
        called.set()
        raise Done

    def look() -> None:
        with pytest.raises(Done):
            watch(root, changed)

    watcher = threading.Thread(target=look, daemon=True)
    watcher.start()
    time.sleep(0.5)  # let the watch begin
    act()
    seen = called.wait(patience)
    if not seen:
        (root / "docs" / "end.md").touch()
    watcher.join(10)
    assert not watcher.is_alive()
    return seen


@pytest.mark.parametrize(
    ("file", "builds"),
    [
        ("docs/new.md", True),
        ("calc/physics/motors.py", True),
        ("mkdocs.yml", True),
        ("site/index.html", False),
        ("calc/__pycache__/x.pyc", False),
        ("README.md", False),
    ],
)
def test_a_change_of_a_source_calls_for_a_build(tmp_path: Path, file: str, builds: bool) -> None:
    for name in ("docs", "calc/physics", "calc/__pycache__", "site_build", "site"):
        (tmp_path / name).mkdir(parents=True)
    (tmp_path / "mkdocs.yml").write_text("a: 1")
    seen = calls_for_build(
        tmp_path, lambda: (tmp_path / file).write_text("new"), patience=10 if builds else 1.5
    )
    assert seen == builds

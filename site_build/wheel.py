"""Packs all that an edition is built with into one wheel: no Node.js, no compiler is needed for it.

Beside `calc` and `site_build` it carries, as `site_build/packed`, what the repository has beside
them (pages, check values, licences) and what Node made once: the engine and the service worker
(`kit`). Two builds of one commit give the same bytes.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import asdict
from pathlib import Path

from calc import __version__

from . import fonts, kit, licences, machine, offline
from .steps import Say, Trouble

FIRST_OF_ZIP = str(offline.FIRST_OF_ZIP)
NOT_NEEDED = ("hatchling",)  # of what builds in the repository: there is nothing left to pack
SKIPPED = shutil.ignore_patterns("__pycache__", "*.pyc", machine.PACKED.name)

_PROJECT = """[build-system]
requires = ["hatchling"]
build-backend = "hatchling.build"

[project]
name = "brinebook"
version = "{version}"
description = "Guides for owners of small watermakers, whose pages compute: build your own edition"
requires-python = ">=3.11"
license = "MIT"
license-files = ["LICENSE"]
dependencies = {dependencies}

[project.scripts]
brinebook = "site_build.brinebook:main"
brinebook-calc = "calc.__main__:command"

[tool.hatch.build.targets.wheel]
packages = ["calc", "site_build"]
"""


def build(out: Path, say: Say, ready: kit.Kit | None = None) -> Path:
    """Write the wheel into a folder; returns its path. Raises Trouble when a step fails."""
    if machine.PACKED.is_dir():
        raise Trouble("A wheel is built in the repository; this is an installed one.")
    ready = ready or kit.kit(say)
    say("Packing the wheel …")
    with tempfile.TemporaryDirectory(prefix="brinebook-") as scratch:
        stage = Path(scratch)
        for name in ("calc", "site_build"):
            shutil.copytree(machine.REPOSITORY / name, stage / name, ignore=SKIPPED)
        shutil.copy(machine.REPOSITORY / "LICENSE", stage)
        _pack(stage / "site_build" / machine.PACKED.name, ready)
        needed = json.dumps(_dependencies(), indent=4)
        project = _PROJECT.format(version=__version__, dependencies=needed)
        (stage / "pyproject.toml").write_text(project, "utf-8")
        return _wheel(stage, out)


def _pack(target: Path, ready: kit.Kit) -> None:
    """What the repository has beside its code, and what Node made."""
    root = machine.REPOSITORY
    shutil.copytree(root / "docs", target / "docs")
    shutil.copytree(root / "tests" / "published", target / "tests" / "published")
    for name in ("mkdocs.yml", "LICENSE"):
        shutil.copy(root / name, target)
    for path in [*fonts.files(machine.NODE_MODULES), *fonts.ranges(machine.NODE_MODULES)]:
        place = target / path.relative_to(root)
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, place)
    ready.engine.copy_to(target / kit.ENGINE)
    (target / kit.WORKER).write_text(ready.worker, "utf-8")
    texts = [asdict(one) for one in licences.all_of_them()]
    (target / kit.LICENCES).write_text(json.dumps(texts, ensure_ascii=False), "utf-8")
    (target / kit.MOMENT).write_text(offline.commit_time(root) or FIRST_OF_ZIP, "utf-8")


def _dependencies() -> list[str]:
    """What the repository's own building is pinned to, as it stands in its list."""
    listed = (machine.REPOSITORY / "requirements" / "build.in").read_text("utf-8")
    lock = (machine.REPOSITORY / "requirements" / "build.txt").read_text("utf-8")
    pinned = dict(re.findall(r"^([\w.-]+)==([^\s;\\]+)", lock, re.MULTILINE))
    wanted = re.findall(r"^([\w-]+)", listed, re.MULTILINE)
    return [f"{name}=={pinned[name]}" for name in wanted if name not in NOT_NEEDED]


def _wheel(stage: Path, out: Path) -> Path:
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="brinebook-") as scratch:
        command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", scratch]
        env = {"SOURCE_DATE_EPOCH": (stage / "site_build/packed" / kit.MOMENT).read_text()}
        done = subprocess.run(
            command, cwd=stage, env={**os.environ, **env}, capture_output=True, text=True
        )
        if done.returncode:
            raise Trouble(f"Packing the wheel failed:\n{(done.stdout + done.stderr)[-2000:]}")
        made = next(Path(scratch).glob("*.whl"))
        return Path(shutil.move(made, out / made.name))

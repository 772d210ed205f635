"""What a host is told: a policy that says no more than is needed, and lines for three servers."""

from __future__ import annotations

import contextlib
import re
import socket
import urllib.request
from pathlib import Path

import pytest

from site_build import hosts, machine, server, server_finder


def directives(policy: str) -> dict[str, list[str]]:
    parts = [one.split() for one in policy.split("; ")]
    assert len({name for name, *_ in parts}) == len(parts), "each is said once"
    return {name: values for name, *values in parts}


def test_the_policy_allows_no_code_and_no_style_in_a_page_and_no_other_host() -> None:
    said = directives(hosts.policy())
    assert said["default-src"] == ["'self'"], "what isn't named comes from the site"
    assert "style-src" not in said and "connect-src" not in said
    assert said["script-src"] == ["'self'", "'wasm-unsafe-eval'"]
    for values in said.values():
        assert not {"'unsafe-inline'", "'unsafe-eval'", "*", "https:", "http:"} & set(values)


def test_only_hosts_that_are_named_may_show_a_calculator() -> None:
    assert directives(hosts.policy())["frame-ancestors"] == ["'self'"]
    named = directives(hosts.policy(["https://boats.example"]))
    assert named["frame-ancestors"] == ["'self'", "https://boats.example"]


@pytest.mark.parametrize("name", hosts.SERVERS)
@pytest.mark.parametrize(
    ("address", "path"),
    [("", "/"), ("https://boats.example", "/"), ("https://boats.example/a/b", "/a/b/")],
)
def test_a_servers_lines_know_path_policy_and_the_page_for_unknown_addresses(
    name: str, address: str, path: str
) -> None:
    lines = hosts.snippet(name, address, ["https://club.example"])
    assert hosts.policy(["https://club.example"]) in lines
    assert "404.html" in lines and "nosniff" in lines
    assert re.search(rf"(?:location|Alias|handle_path) \"?{re.escape(path)}[ \"*]", lines)
    assert lines.count("{") == lines.count("}"), "no slot is left, no bracket open"
    assert server_finder.PROGRAMS[name], "each is run by its lines: tests/browser/test_dealer.py"
    assert "${" not in lines
    bare = path.rstrip("/")  # an address typed without its last stroke
    assert (
        re.search(rf"(= |\^|redir ){bare or 'never'}[ $]", lines)
        if bare
        else "redir" not in lines.lower()
    )


@pytest.mark.parametrize("ci", [True, False])
def test_what_is_missing_of_the_servers_is_installed_in_ci_alone(
    ci: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    there = "nginx"
    installed: list[str] = []
    monkeypatch.setattr(server_finder, "find", lambda one: Path(one) if one == there else None)
    monkeypatch.setattr(machine, "can_apt", lambda: True)
    monkeypatch.setattr(machine, "apt_install", lambda *names: installed.extend(names))
    monkeypatch.setenv("CI", "true" if ci else "")
    server_finder.for_tests()
    wanted = {package for name, (_, package) in server_finder.PROGRAMS.items() if name != there}
    assert set(installed) == (wanted if ci else set())


def test_our_own_server_sends_what_a_host_should(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("hello")
    with server.serve(tmp_path) as site, urllib.request.urlopen(site.url) as reply:
        assert reply.headers["Content-Security-Policy"] == hosts.policy()
        assert reply.headers["X-Content-Type-Options"] == "nosniff"


def test_a_host_that_is_busy_turns_nobody_away(tmp_path: Path) -> None:
    """Browsers ask for a page's files at once; who is turned away tries again seconds later."""
    busy = server._Server((server.HOST, 0), server._Handler)  # it takes none of them
    with busy, contextlib.ExitStack() as all_of_them:
        for _ in range(60):
            one = socket.create_connection(busy.server_address[:2], timeout=10)
            all_of_them.enter_context(one)

"""Three common servers, run for a test with the lines that a host is told (`site_build.hosts`)."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

from site_build import hosts, server_finder
from site_build.server import HOST

PATIENCE = 20.0  # s for a server to listen
# None of them serves as root: whoever is, hands over to somebody who may read and nothing else.
SOMEBODY = "nobody" if hasattr(os, "geteuid") and os.geteuid() == 0 else None
_MODULES = [
    "mpm_event",
    "authz_core",
    "authz_host",
    "mime",
    "dir",
    "alias",
    "headers",
    "deflate",
    "filter",
    "setenvif",
]
_NGINX = """daemon off; pid {work}/pid; error_log {work}/error.log;
events {{}}
http {{
  include /etc/nginx/mime.types; access_log off;
  client_body_temp_path {work}; proxy_temp_path {work}; fastcgi_temp_path {work};
  uwsgi_temp_path {work}; scgi_temp_path {work};
  {before}
  server {{ listen {host}:{port}; {lines} }}
}}
"""
_APACHE = """ServerRoot {work}
ServerName {host}
Listen {host}:{port}
PidFile {work}/pid
DefaultRuntimeDir {work}
ErrorLog {work}/error.log
DocumentRoot {work}
{modules}
TypesConfig /etc/mime.types
DirectoryIndex index.html
{lines}
"""
_CADDY = """{{
    admin off
    auto_https off
}}
http://{host}:{port} {{
{lines}
}}
"""


@contextmanager
def running(name: str, site: Path, address: str) -> Iterator[str]:
    """The origin of a server of `hosts.SERVERS` that serves a site by those lines and no others.

    `address` is where the guide says that it is.
    """
    # Not in a folder of pytest's, which nobody else may read.
    with tempfile.TemporaryDirectory(prefix="brinebook-") as folder:
        served = Path(shutil.copytree(site, Path(folder) / "guide"))
        (work := Path(folder) / "work").mkdir()
        Path(folder).chmod(0o755)
        if SOMEBODY:
            shutil.chown(work, SOMEBODY)
        with _running(name, served, address, work) as origin:
            yield origin


@contextmanager
def _running(name: str, site: Path, address: str, work: Path) -> Iterator[str]:
    with socket.socket() as free:
        free.bind((HOST, 0))
        port = free.getsockname()[1]
    lines = hosts.snippet(name, address).replace("/srv/guide", str(site))
    config = work / "config"
    config.write_text(_config(name, lines, work, port), "utf-8")
    command = {
        "nginx": ["-p", work, "-c", config],
        "apache": ["-DFOREGROUND", "-f", config],
        "caddy": ["run", "--adapter", "caddyfile", "--config", config],
    }[name]
    with (work / "said").open("wb") as said:
        process = subprocess.Popen(
            [str(server_finder.find(name)), *map(str, command)],
            stdout=said,
            stderr=said,
            user=SOMEBODY,
            env={**os.environ, "HOME": str(work)},
        )
    try:
        _await(process, port, work)
        yield f"http://{HOST}:{port}"
    finally:
        process.terminate()
        process.wait(10)


def asked(url: str, headers: Mapping[str, str]) -> tuple[int, Mapping[str, str], bytes]:
    """What a server answers: status, headers by their names in small letters, the bytes as they came.

    Redirections are not followed, nothing is unpacked.
    """
    parts = urlsplit(url)
    line = HTTPConnection(str(parts.hostname), parts.port, timeout=PATIENCE)
    line.request("GET", parts.path, headers=dict(headers))
    reply = line.getresponse()
    body = reply.read()
    line.close()
    return reply.status, {name.lower(): value for name, value in reply.getheaders()}, body


def _config(name: str, lines: str, work: Path, port: int) -> str:
    place = {"work": work, "host": HOST, "port": port}
    if name == "nginx":
        before, _, rest = lines.partition("location")
        return _NGINX.format(**place, before=before, lines=f"location{rest}")
    if name == "apache":
        folder = "/usr/lib/apache2/modules"
        modules = "\n".join(f"LoadModule {one}_module {folder}/mod_{one}.so" for one in _MODULES)
        return _APACHE.format(**place, modules=modules, lines=lines)
    return _CADDY.format(**place, lines=lines)


def _await(process: subprocess.Popen[bytes], port: int, work: Path) -> None:
    """Until it listens."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and process.poll() is None:
        with socket.socket() as probe:
            if probe.connect_ex((HOST, port)) == 0:
                return
        time.sleep(0.05)
    raise AssertionError((work / "said").read_text("utf-8", "replace"))

"""A small web server for the built site, for reading it at home and for testing it.

It stands for any plain static host: files, a 404 page, caching by revalidation. Tests can make a
hostile one of it: a sub-path, wrong types, missing files, further headers.
"""

from __future__ import annotations

import gzip
import os
import shutil
import sys
import threading
import time
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from email.utils import formatdate
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path
from typing import BinaryIO
from urllib.parse import quote, unquote, urlsplit

from site_build import hosts
from site_build.steps import Trouble

HOST = "127.0.0.1"
PORTS_TRIED = 100
STALL = 60.0  # s that a file which never comes keeps its line
PIECE = 4096  # bytes: what takes turns on a slow line
LATE = 0.05  # s by which a piece's thread may wake late, and the line is as quick as it should be
PACKING = 5  # the level of gzip, as in hosts.py's lines for servers

# A table of our own: what Python's mimetypes answers depends on the machine.
TYPES: Mapping[str, str] = {
    ".css": "text/css; charset=utf-8",
    ".gz": "application/gzip",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/x-icon",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".map": "application/json",
    ".mjs": "text/javascript; charset=utf-8",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
    ".xml": "application/xml",
    ".zip": "application/zip",
}


class Line:
    """A slow line to the host: all that travels at one time shares its bytes a second."""

    def __init__(self, rate: float) -> None:
        self.carried = 0  # bytes that have come over it so far, or just do
        self._rate = rate
        self._free = 0.0  # when all that was given to it so far has arrived
        self._turn = threading.Lock()

    def carry(self, content: BinaryIO, away: Callable[[bytes], object]) -> None:
        """Give it a file's content; comes back when the last of it has arrived."""
        while piece := content.read(PIECE):
            with self._turn:
                self._free = max(self._free, time.monotonic() - LATE) + len(piece) / self._rate
                arrives = self._free
            time.sleep(max(0.0, arrives - time.monotonic()))
            with self._turn:  # first: who has read a file to its end asks for the count at once
                self.carried += len(piece)
            away(piece)


@dataclass
class Host:
    """How a folder is served. The fields may be changed while the server runs."""

    folder: Path
    prefix: str = "/"  # path under which the site lies, with a slash at both ends
    types: Mapping[str, str] = field(default_factory=dict)  # suffix to type, over TYPES
    headers: Mapping[str, str] = field(default_factory=dict)  # added to every answer
    missing: Collection[str] = ()  # files not found, as paths below the prefix: "a/b.wasm"
    drops: Callable[[str], bool] = lambda _: False  # whether a path's line drops half-way
    stalls: Callable[[str], bool] = lambda _: False  # whether nothing of a path's file ever comes
    line: Line | None = None  # a slow one; texts travel packed on it, as hosts send them
    asked: list[str] = field(default_factory=list)  # the path of every request so far

    def find(self, path: str) -> Path | None:
        """What a request's path stands for, a file or a folder, or None."""
        if not path.startswith(self.prefix) or "\0" in path:
            return None
        below = path.removeprefix(self.prefix)
        try:
            folder = self.folder.resolve()
            found = (folder / below.lstrip("/")).resolve()
            there = found.is_relative_to(folder) and found.exists()
        except (OSError, ValueError):  # a name longer than files have, or no name at all
            return None
        return found if there and below not in self.missing else None

    def type_of(self, file: Path) -> str:
        """The media type that the file is said to be of."""
        suffix = file.suffix.lower()
        return self.types.get(suffix, TYPES.get(suffix, "application/octet-stream"))


class Site:
    """A running server; it closes at the end of its `with` block."""

    def __init__(self, host: Host, port: int = 0) -> None:
        self.host = host
        self._server = _Server((HOST, port), _Handler)
        self._server.host = host
        self._thread = threading.Thread(
            target=self._server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True
        )
        self._thread.start()

    @property
    def port(self) -> int:
        """The port it listens on."""
        return int(self._server.server_address[1])

    @property
    def url(self) -> str:
        """The address of the site's first page, a slash at its end."""
        return f"http://{HOST}:{self.port}{quote(self.host.prefix)}"

    def wait(self) -> None:
        """Wait for Ctrl-C, or until the server is closed."""
        while self._thread.is_alive():
            self._thread.join(1)  # Windows can't interrupt a wait without end

    def close(self) -> None:
        """Stop serving and free the port."""
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()

    def __enter__(self) -> Site:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def serve(folder: Path, port: int = 0, prefix: str = "/") -> Site:
    """Serve a folder on 127.0.0.1, from threads of its own. Port 0 takes any free one.

    It sends the strict policy that a host should send: what doesn't run under it is found at home.
    Change `.host` to make it misbehave. Raises OSError when the port is taken.
    """
    return Site(Host(folder, prefix, headers=hosts.headers()), port)


def serve_near(folder: Path, port: int) -> Site:
    """Serve a folder on a port, or on the next free one after it. Raises Trouble if none is."""
    for candidate in range(port, min(port + PORTS_TRIED, 65536)):
        try:
            return serve(folder, candidate)
        except PermissionError as error:
            raise Trouble(f"This user may not serve on port {candidate}.") from error
        except OSError:
            continue
    raise Trouble(f"No free port from {port} on.")


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    # How many may wait to be taken. With the default, five, a browser that asks for all of a page's
    # files is turned away where the machine is busy, and tries again after seconds, or minutes.
    request_queue_size = 128
    allow_reuse_address = os.name != "nt"  # on Windows it would let two servers share a port
    host: Host

    def handle_error(self, request: object, client_address: object) -> None:
        """Browsers drop connections that they no longer want: no word about that."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


class _Handler(BaseHTTPRequestHandler):
    # HTTP/1.0, the default, closes each connection: a stopped server answers nothing more.
    server: _Server

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def log_message(self, *_: object) -> None:
        """Keep the terminal for what the builder says."""

    def _answer(self, *, with_body: bool) -> None:
        host = self.server.host
        path = unquote(urlsplit(self.path).path)
        host.asked.append(path)
        found = host.find(path)
        if found and found.is_dir() and not path.endswith("/"):
            self._head(HTTPStatus.MOVED_PERMANENTLY, {"Location": quote(path) + "/"})
            return
        file = found / "index.html" if found and found.is_dir() else found
        if file and file.is_file() and not (found == file and path.endswith("/")):
            self._send(HTTPStatus.OK, file, with_body)
        elif (page := host.folder / "404.html").is_file():
            self._send(HTTPStatus.NOT_FOUND, page, with_body)
        else:
            self._head(HTTPStatus.NOT_FOUND, {"Content-Length": "0"})

    def _send(self, status: HTTPStatus, file: Path, with_body: bool) -> None:
        about = file.stat()
        tag = f'"{about.st_mtime_ns:x}-{about.st_size:x}"'
        if status == HTTPStatus.OK and self.headers.get("If-None-Match") == tag:
            self._head(HTTPStatus.NOT_MODIFIED, {"ETag": tag})
            return
        path = unquote(urlsplit(self.path).path)
        media_type = self.server.host.type_of(file)
        headers = {
            "Content-Type": media_type,
            "Content-Length": str(about.st_size),
            "Last-Modified": formatdate(about.st_mtime, usegmt=True),
            "ETag": tag,
        }
        takes = self.headers.get("Accept-Encoding", "")
        if self.server.host.line and "gzip" in takes and hosts.packs(path, media_type):
            packed = gzip.compress(file.read_bytes(), PACKING)
            headers |= {"Content-Encoding": "gzip", "Content-Length": str(len(packed))}
            content: BinaryIO = BytesIO(packed)
        else:
            content = file.open("rb")
        with content:
            self._head(status, headers)
            if with_body:
                self._body(path, content, about.st_size)

    def _body(self, path: str, content: BinaryIO, size: int) -> None:
        host = self.server.host
        if host.stalls(path):
            time.sleep(STALL)
        elif host.drops(path):
            self.wfile.write(content.read(size // 2))
        elif host.line:
            host.line.carry(content, self.wfile.write)
        else:
            shutil.copyfileobj(content, self.wfile)

    def _head(self, status: HTTPStatus, headers: Mapping[str, str]) -> None:
        self.send_response(status)
        # no-cache: keep a copy, but ask each time whether it is still right.
        for name, value in {
            "Cache-Control": "no-cache",
            **headers,
            **self.server.host.headers,
        }.items():
            self.send_header(name, value)
        self.end_headers()

"""``levelcup preview``: the site as it would be, on this machine only, made anew on every save.

The server is the standard library's: one reader on one machine needs no more, and every page comes from a table in
memory, so that there is no path on the disk to lead astray. The watching is watchfiles', which asks the system to be
told instead of looking again and again.
"""

from __future__ import annotations

import mimetypes
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from threading import Condition, Event, Thread
from typing import Any, ClassVar
from urllib.parse import parse_qs, unquote, urlsplit

from pipeline.preview.larder import EMPTY, Book, Larder
from pipeline.preview.notes import HOME, bare_page, slug_of, with_notes
from pipeline.preview.shots import Shots
from pipeline.site.errors import SiteError

LOOPBACK = "127.0.0.1"
PORT = 4096
_BEAT = 15.0  # seconds after which a silent stream says that it is still there
_OWN = ("desk.css", "desk.js")
# A save is often two or three writes; what comes within this time is one change.
_SETTLE_MS, _STEP_MS = 60, 15


class PreviewError(Exception):
    """The preview cannot start; the message says why and what to do."""


@dataclass(slots=True)
class Desk:
    """What all connections share: the book, its number, and those who wait for the next."""

    larder: Larder
    book: Book = EMPTY
    version: int = 0
    closing: bool = False
    turn: Condition = field(default_factory=Condition)

    def put(self, book: Book) -> None:
        with self.turn:
            self.book = book
            self.version += 1
            self.turn.notify_all()

    def warm(self) -> None:
        """Makes ready for the first save, unless a template is wrong: its page will say so when it is asked for."""
        with self.turn, suppress(SiteError):
            self.larder.warm()

    def close(self) -> None:
        with self.turn:
            self.closing = True
            self.turn.notify_all()

    def page(self, path: str) -> tuple[int, str]:
        """The page at ``path`` with its notes: (status, HTML)."""
        with self.turn:  # rendering shares one environment; and a page must not change half-way
            book, version = self.book, self.version
            page = book.page(path)
            proven = book.proofs.get(slug_of(path))
            if page is not None:
                try:
                    return 200, with_notes(page.render(), path, book, version)
                except SiteError as error:
                    return 500, bare_page("This page cannot be made", error.problems, book, path, version)
            if proven is not None and proven.recipe is None:
                return 200, bare_page("This recipe cannot be read", (proven.sheet.file,), book, path, version)
            if book.problems and not book.pages:
                return 500, bare_page("The site cannot be made", book.problems, book, path, version)
            return 404, bare_page("There is no such page", (f"/{path}",), book, path, version)


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server_version = "LevelCup"
    sys_version = ""
    desk: ClassVar[Desk]
    hosts: ClassVar[frozenset[str]] = frozenset()

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing: the terminal is the cook's."""

    def do_GET(self) -> None:
        self._answer(True)

    def do_HEAD(self) -> None:
        self._answer(False)

    def _answer(self, body: bool) -> None:
        # A page elsewhere whose name was bent to this machine must not read what is not yet published.
        if self.headers.get("Host", "").lower() not in self.hosts:
            self._send(403, "text/plain; charset=utf-8", b"This preview answers to this machine only.\n", body)
            return
        parts = urlsplit(self.path)
        path = unquote(parts.path)
        if path == f"{HOME}news" and body:
            self._news(parse_qs(parts.query))
            return
        path = path.removeprefix("/")
        if path == "" or path.endswith("/"):
            path += "index.html"
        status, kind, content = self._find(path)
        self._send(status, kind, content, body)

    def _find(self, path: str) -> tuple[int, str, bytes]:
        """Only what stands in a table is answered; nothing of ``path`` ever reaches the disk."""
        own = path.removeprefix(HOME.lstrip("/"))
        if path.startswith(HOME.lstrip("/")) and own in _OWN:
            return 200, _kind(own), files("pipeline.preview").joinpath(own).read_bytes()
        asset = self.desk.book.assets.get(path)
        if isinstance(asset, bytes):
            return 200, _kind(path), asset
        try:
            if isinstance(asset, Path):
                return 200, _kind(path), asset.read_bytes()
            if path.startswith("photos/"):
                photo = self.desk.larder.shots.file(path.removeprefix("photos/"))
                if photo is not None:
                    return 200, _kind(path), photo.read_bytes()
        except (OSError, SiteError) as error:
            return 404, "text/plain; charset=utf-8", f"{error}\n".encode("utf-8", "replace")
        if not path.endswith(".html"):
            with self.desk.turn:
                page = self.desk.book.page(path)
                if page is not None:
                    return 200, _kind(path), page.render().encode("utf-8", "replace")
        status, html = self.desk.page(path)
        return status, "text/html; charset=utf-8", html.encode("utf-8", "replace")

    def _send(self, status: int, kind: str, content: bytes, body: bool = True) -> None:
        try:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(content)))
            self.send_header("Cache-Control", "no-store")
            self.send_header("X-Content-Type-Options", "nosniff")
            self.send_header("Cross-Origin-Resource-Policy", "same-origin")
            self.end_headers()
            if body:
                self.wfile.write(content)
        except (BrokenPipeError, ConnectionError):
            self.close_connection = True

    def _news(self, asked: dict[str, list[str]]) -> None:
        """A stream of events (WHATWG HTML, server-sent events): "saved" once there is a newer book than the page's."""
        since = asked.get("since", ["0"])[0]
        seen = int(since) if since.isdigit() else 0
        self.close_connection = True
        try:
            self.send_response(200)
            self.send_header("Content-Type", "text/event-stream")
            self.send_header("Cache-Control", "no-store")
            self.end_headers()
            self.wfile.write(b": here\n\n")
            desk = self.desk
            while True:
                with desk.turn:
                    if not desk.closing and desk.version <= seen:
                        desk.turn.wait(_BEAT)
                    if desk.closing:
                        return
                    newer, version = desk.version > seen, desk.version
                if newer:
                    self.wfile.write(f"event: saved\ndata: {version}\n\n".encode())
                    seen = version
                else:
                    self.wfile.write(b": still here\n\n")
                self.wfile.flush()
        except (BrokenPipeError, ConnectionError):
            return  # the reader went on to another page


def _kind(path: str) -> str:
    known = {".js": "text/javascript", ".avif": "image/avif", ".webp": "image/webp", ".woff2": "font/woff2",
             ".css": "text/css", ".xml": "application/xml", ".txt": "text/plain"}  # fmt: skip
    suffix = Path(path).suffix
    kind = known.get(suffix) or mimetypes.guess_type(path)[0] or "application/octet-stream"
    return f"{kind}; charset=utf-8" if kind.startswith("text/") or kind == "application/xml" else kind


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    # On Windows this would let two previews answer on one port in turn; elsewhere it only skips a wait.
    allow_reuse_address = sys.platform != "win32"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Nothing: a reader who hangs up is no error."""


def _watch(desk: Desk, stop: Event, tell: Callable[[str], None]) -> None:
    import watchfiles

    folder = desk.larder.folder
    roots = [p for p in (folder / "content", folder / "templates") if p.is_dir()]
    told = watchfiles.watch(*roots, debounce=_SETTLE_MS, step=_STEP_MS, stop_event=stop, rust_timeout=500,
                            yield_on_timeout=False, raise_interrupt=False)  # fmt: skip
    for changes in told:
        paths = {Path(path) for _, path in changes}
        try:
            desk.put(desk.larder.change(path.resolve() for path in paths))
        except Exception as error:  # a fault of ours must not end the watch: the next save may be read again
            desk.put(desk.book._replace(problems=(f"{type(error).__name__}: {error}",)))
        names = sorted(path.name for path in paths)
        tell(f"saved: {', '.join(names[:3])}{' …' if len(names) > 3 else ''}; {_said(desk.book)}")


def _said(book: Book) -> str:
    findings = [f for proven in book.proofs.values() for f in proven.sheet.findings]
    errors = sum(f.severity == "error" for f in findings)
    return f"{len(book.proofs)} recipes, {errors} errors, {len(findings) - errors} other findings"


def preview(
    folder: Path,
    port: int = PORT,
    tell: Callable[[str], None] = print,
    stop: Event | None = None,
    ready: Callable[[int], None] | None = None,
) -> None:
    """Serves the site of ``folder`` on this machine at ``port`` (0: any free one) until Ctrl-C, or until ``stop`` is
    set; pages reload when a file below content/ or templates/ is saved.

    ``tell`` is given a line to print for each thing that happens; ``ready`` the port, once pages are answered.
    Drafts are shown, marked as such, and findings stand beside the lines they concern. Nothing is published. Raises
    PreviewError where there is no content/ folder or the port is taken.
    """
    folder = folder.resolve()
    if not (folder / "content").is_dir():
        raise PreviewError(f"there is no content/ folder in {folder}; start with `levelcup draft --blank TITLE`")
    if not 0 <= port <= 65535:
        raise PreviewError(f"{port} is no port; choose one from 1024 to 65535")
    stop = stop or Event()
    with tempfile.TemporaryDirectory(prefix="levelcup-preview-") as work:
        # The pictures that publishing keeps are used, too, but never written to from here.
        desk = Desk(Larder(folder, Shots(Path(work))))

        class Handler(_Handler):
            pass

        Handler.desk = desk
        try:
            server = _Server((LOOPBACK, port), Handler)
        except OSError as error:
            why = error.strerror or str(error)
            raise PreviewError(f"port {port} cannot be had ({why}); try another, `--port {port + 1}`") from None
        with server:
            taken = int(server.server_address[1])
            names = (LOOPBACK, "localhost", "[::1]")
            Handler.hosts = frozenset(f"{name}:{taken}" for name in names)
            desk.put(desk.larder.open())
            watcher = Thread(target=_watch, args=(desk, stop, tell), daemon=True)
            watcher.start()
            serving = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
            serving.start()
            desk.warm()
            tell(f"the preview stands at http://{LOOPBACK}:{taken}/ (this machine only): {_said(desk.book)}")
            tell("it reloads when you save; Ctrl-C ends it")
            if ready:
                ready(taken)
            try:
                while not stop.wait(0.5):
                    pass
            except KeyboardInterrupt:
                stop.set()
            desk.close()
            server.shutdown()
            watcher.join(2)

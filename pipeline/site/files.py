"""Files of the site: written whole, linked where they stay the same, and the finished folder swapped in."""

from __future__ import annotations

import ctypes
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import blake2b
from io import FileIO
from pathlib import Path

from pipeline.site.errors import SiteError


def digest(*parts: bytes | str) -> str:
    """A short hash of some bytes or text."""
    h = blake2b(digest_size=12)
    for part in parts:
        raw = part.encode("utf-8", "surrogatepass") if isinstance(part, str) else part
        h.update(len(raw).to_bytes(8, "little"))
        h.update(raw)
    return h.hexdigest()


def write_bytes(path: Path, content: bytes) -> None:
    """Write a new file. What stands there is unlinked first: it may be a hard link to the last good site."""
    try:
        handle = _new(path)
    except FileExistsError:
        path.unlink()
        handle = _new(path)
    except FileNotFoundError:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = _new(path)
    with handle:
        written = 0
        while written < len(content):  # a full disk takes a part first, and says so at the next
            written += handle.write(memoryview(content)[written:])


def _new(path: Path) -> FileIO:
    """Without a buffer, which one write of the whole does not need: a third of the time of a small file."""
    return path.open("xb", buffering=0)


def link_or_copy(source: Path, target: Path) -> None:
    """The same file in a second place: a hard link, or a copy where the disk has none."""
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(source, target)
    except OSError:
        shutil.copyfile(source, target)


def remove(path: Path) -> None:
    """Take away a file or a whole folder, if it is there."""
    if path.is_symlink() or path.is_file():
        path.unlink(missing_ok=True)
    elif path.exists():
        shutil.rmtree(path)


@contextmanager
def alone(work: Path) -> Iterator[None]:
    """Hold ``work`` for this process; raise SiteError where another one holds it. A killed holder lets go."""
    work.mkdir(parents=True, exist_ok=True)
    ignore = work / ".gitignore"
    if not ignore.exists():
        ignore.write_text("*\n", "utf-8")
    with (work / "lock").open("a") as handle:
        try:
            import fcntl
        except ImportError:  # no such locks on Windows; two builds at once are then the cook's own care
            yield
            return
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise SiteError(f"{work}: another build of this site is running; wait until it is done") from None
        yield


def _exchange(a: Path, b: Path) -> bool:
    """Swap two folders in one step, so that no moment has neither. False where the system cannot."""
    try:
        libc = ctypes.CDLL(None, use_errno=True)
        if sys.platform.startswith("linux"):
            # renameat2(AT_FDCWD, a, AT_FDCWD, b, RENAME_EXCHANGE): linux/fs.h, fcntl.h
            return bool(libc.renameat2(-100, os.fsencode(a), -100, os.fsencode(b), 2) == 0)
        if sys.platform == "darwin":
            # renamex_np(a, b, RENAME_SWAP): sys/stdio.h
            return bool(libc.renamex_np(os.fsencode(a), os.fsencode(b), 2) == 0)
    except (OSError, AttributeError, TypeError):
        pass
    return False


def swap_in(fresh: Path, out: Path, old: Path) -> None:
    """Put the finished folder ``fresh`` in place of ``out``; what stood there goes to ``old``, then away.

    With the system's exchange there is at every moment a whole site at ``out``. Without it there are two renames,
    and :func:`recover` mends what a kill between them leaves.
    """
    remove(old)
    try:
        if not out.exists():
            fresh.rename(out)
            return
        if _exchange(fresh, out):
            fresh.rename(old)
        else:
            out.rename(old)
            try:
                fresh.rename(out)
            except OSError:
                old.rename(out)
                raise
    except OSError as error:
        raise SiteError(
            f"{out}: the finished site could not be moved in ({error.strerror}); the last one stands; "
            f"choose a folder that can be renamed"
        ) from None
    shutil.rmtree(old, ignore_errors=True)


def recover(out: Path, fresh: Path, old: Path) -> None:
    """Clear what a broken build left; a site that was moved aside and not replaced is moved back."""
    if old.exists() and not out.exists():
        old.rename(out)
    remove(old)
    remove(fresh)

"""What a built site is made of: for each file what it depended on and what it holds. It makes a folder ours."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from pipeline.site.errors import SiteError
from pipeline.site.files import digest, link_or_copy, write_bytes

NAME = ".levelcup.json"
_FORMAT = 1
NOTE = "README.md"  # stands in site_out/ in version control and is carried over
_HARMLESS = frozenset({NOTE, ".gitignore", ".gitkeep", ".DS_Store"})


@dataclass(frozen=True, slots=True)
class Entry:
    """``key`` is a hash of what a file depends on ("" where its content is the only key), ``held`` one of its bytes."""

    key: str
    held: str


@dataclass(slots=True)
class Manifest:
    files: dict[str, Entry] = field(default_factory=dict)

    def to_bytes(self) -> bytes:
        files = {name: [e.key, e.held] for name, e in sorted(self.files.items())}
        return (json.dumps({"format": _FORMAT, "files": files}, indent=0) + "\n").encode()


def read_manifest(out: Path) -> Manifest:
    """The manifest of the site at ``out``; empty where there is none to read."""
    try:
        told = json.loads((out / NAME).read_text("utf-8"))
        if told["format"] != _FORMAT:
            return Manifest()
        return Manifest({str(name): Entry(str(key), str(held)) for name, (key, held) in told["files"].items()})
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return Manifest()


def refuse_others(out: Path) -> None:
    """Raise SiteError where ``out`` is something that no build of ours made."""
    if not out.exists():
        return
    if not out.is_dir():
        raise SiteError(f"{out}: this is a file; name a folder for the site")
    names = {p.name for p in out.iterdir()}
    if NAME not in names and names - _HARMLESS:
        some = ", ".join(sorted(names - _HARMLESS)[:3])
        raise SiteError(
            f"{out}: this folder holds things that no build put there ({some}); the site is swapped in whole, so "
            f"name an empty or a new folder for it"
        )


def strangers(out: Path, manifest: Manifest) -> list[str]:
    """Files in ``out`` that no build made (a note, a host's settings), relative, in order. They are carried over."""
    if not out.is_dir():
        return []
    found = (p for p in out.rglob("*") if p.is_symlink() or not p.is_dir())
    names = (p.relative_to(out).as_posix() for p in found)
    return sorted(n for n in names if n not in manifest.files and n != NAME)


@dataclass(slots=True)
class Shelf:
    """Where the new site is put together: files are written new, or linked over from the last one.

    ``last`` is the standing site; ``written`` and ``kept`` count what became of each file.
    """

    fresh: Path
    last: Path
    before: Manifest
    now: Manifest = field(default_factory=Manifest)
    written: list[str] = field(default_factory=list)
    kept: int = 0

    def _link(self, name: str, entry: Entry) -> bool:
        """Take the last site's file if it still holds what was written (someone may have edited it)."""
        source = self.last / name
        try:
            if source.is_symlink() or digest(source.read_bytes()) != entry.held:
                return False
            link_or_copy(source, self.fresh / name)
        except OSError:
            return False
        self.now.files[name] = entry
        self.kept += 1
        return True

    def reuse(self, name: str, key: str) -> bool:
        """Keep the last site's file if it was made from the same things."""
        entry = self.before.files.get(name)
        return entry is not None and entry.key == key and bool(key) and self._link(name, entry)

    def put(self, name: str, content: bytes, key: str = "") -> None:
        """A file with this content; where the last site has the very same, that one."""
        held = digest(content)
        before = self.before.files.get(name)
        if before is not None and before.held == held and self._link(name, Entry(key, held)):
            return
        write_bytes(self.fresh / name, content)
        self.note(name, key, held)

    def note(self, name: str, key: str, held: str) -> None:
        """A file that stands in the fresh folder already."""
        self.now.files[name] = Entry(key, held)
        self.written.append(name)

    def carry(self, names: Mapping[str, None] | list[str]) -> None:
        """Bring over files that are not ours. Raises SiteError where a page of the same name exists."""
        for name in names:
            if name in self.now.files:
                raise SiteError(
                    f"{self.last / name}: this file is not the site's own, but a page wants that name; move it away"
                )
            source, target = self.last / name, self.fresh / name
            target.parent.mkdir(parents=True, exist_ok=True)
            if source.is_symlink():
                target.symlink_to(source.readlink())
            else:
                link_or_copy(source, target)

    def finish(self) -> tuple[str, ...]:
        """Write the manifest; the names that the last site had and this one has not."""
        write_bytes(self.fresh / NAME, self.now.to_bytes())
        return tuple(sorted(set(self.before.files) - set(self.now.files)))

"""From a file to the text of a new recipe.yaml, whichever kind of file it is. Nothing here writes over anything."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

from pipeline.film.captions import read_captions
from pipeline.film.draft.compose import draft_from
from pipeline.film.spoken.things import Finds
from pipeline.recipe.page import PageError, draft_from_page

_PAGES = frozenset((".html", ".htm", ".xhtml"))
# No page of a recipe is larger; reading one of this size takes half a minute (measured).
_LARGEST = 20_000_000
# So many folders up, a file lies outside the cook's folder, and the reader refuses it (pipeline.recipe.values).
_OUTSIDE = "../../../../"
# File names that say nothing of the dish. Common practice, no source.
_NAMELESS = re.compile(
    r"(?:captions?|subtitles?|subs?|transcript|cc|film|video|movie|untitled|download|index|page|recipes?|content"
    r"|desktop|downloads|documents|tmp|temp)?[-_. ]*(?:en(?:[-_](?:us|gb|au|ca))?|final|v?\d*)?\Z",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Drafted:
    """``text``: the recipe.yaml; ``notes``: what to say beside it, a sentence each."""

    text: str
    notes: tuple[str, ...]


def draft_command(source: Path, table: Finds, out: Path | None = None, which: int = 1) -> Drafted:
    """The draft of a captions file or of a saved page, told apart by what is in it.

    ``out``: the file that the draft will be written to, for the way from there to the captions (beside ``source`` by
    default). ``which``: of several recipes on a page, which one, from 1. Raises CaptionError, PageError or OSError.
    """
    if is_page(source):
        if source.stat().st_size > _LARGEST:
            raise PageError(f"this page has more than {_LARGEST // 1_000_000} MB; save it without its pictures")
        page = draft_from_page(source.read_bytes(), which)
        return Drafted(page.text, (*page.notes, *_counted(page.text)))
    transcript = read_captions(source)
    folder = (out or source).absolute().parent
    captions = _way(source.absolute(), folder)
    text = draft_from(transcript, table, captions or source.name, stem_of(source), away=not captions)
    repairs = tuple(f"line {repair.line}: {repair.message}" for repair in transcript.repairs)
    copy = () if captions else (f"copy {source.name} into the recipe's folder, for a recipe names no file outside",)
    return Drafted(text, (*repairs, *_counted(text), *copy))


def _way(source: Path, folder: Path) -> str:
    """The way from the recipe's folder to the captions, "" where a recipe may not name them."""
    try:
        way = Path(os.path.relpath(source, folder)).as_posix()
    except ValueError:  # another drive
        return ""
    return "" if way.startswith(_OUTSIDE) else way


def write_new(path: Path, text: str) -> bool:
    """Writes a file that is not there yet, its folders too; False, and nothing done, where one is. Raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        return False
    return True


def is_page(source: Path) -> bool:
    """Whether a file is HTML, by its name or its beginning. Raises OSError."""
    if source.suffix.lower() in _PAGES:
        return True
    with source.open("rb") as file:
        start = file.read(1024)
    return bool(
        re.match(rb"(?:\xef\xbb\xbf)?\s*(?:<!--.*?-->\s*)*<(?:!doctype html|html|head|body)\b", start, re.I | re.S)
    )


def stem_of(source: Path) -> str:
    """A title from the file's name or its folder's, "" where neither says anything."""
    for name in (source.name.split(".")[0], source.absolute().parent.name):
        words = re.sub(r"[-_.\s]+", " ", name).strip()
        if words and not _NAMELESS.match(name) and re.search(r"[^\W\d]{3}", words):
            return words[:1].upper() + words[1:]
    return ""


def _counted(text: str) -> tuple[str, ...]:
    """What there is in a draft, and how much of it wants a look."""
    checks = sum(1 for line in text.splitlines() if "check: " in line and not line.startswith("# its moment"))
    steps = len(re.findall(r"^    text: \||^  - text: \|", text, re.MULTILINE))
    looks = f"; {checks} places to check" if checks > 1 else "; one place to check" if checks else ""
    return (f"{steps} step{'s' if steps != 1 else ''}{looks}",)

"""The film's own files in the site: the film itself where it has no address elsewhere, and its captions."""

from __future__ import annotations

import shutil
from pathlib import Path

from pipeline.film.captions import read_captions
from pipeline.film.transcript import CaptionError, Transcript
from pipeline.recipe.model import Recipe
from pipeline.site.compose import FilmFiles
from pipeline.site.files import digest, link_or_copy
from pipeline.site.manifest import Shelf

# A master of the cut does not belong on a web page; a film of this size can be shown from an ordinary host.
MOST_BYTES = 500_000_000
_KINDS = {
    ".mp4": "video/mp4",
    ".m4v": "video/mp4",
    ".webm": "video/webm",
    ".ogv": "video/ogg",
    ".mov": "video/quicktime",
}


def _stamp(ms: int) -> str:
    seconds, rest = divmod(ms, 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.{rest:03}"


def as_webvtt(transcript: Transcript) -> str:
    """The captions as WebVTT (W3C): cues of plain text, escaped."""
    out = ["WEBVTT", ""]
    for cue in transcript.cues:
        text = cue.text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
        lines = [line for line in text.splitlines() if line.strip()]
        if lines and cue.end > cue.start:
            out += [f"{_stamp(cue.start)} --> {_stamp(cue.end)}", *lines, ""]
    return "\n".join(out) + "\n"


def _inside(recipe: Recipe, name: str) -> Path | None:
    path = (recipe.folder / name).resolve()
    return path if path.is_relative_to(recipe.folder.resolve()) and path.is_file() else None


def film_files(recipe: Recipe, shelf: Shelf, notes: list[str]) -> FilmFiles:
    """Put the film's file and captions onto the shelf, unless the film has an address; say what was left out."""
    video = recipe.video
    if video is None or video.address or not video.file:
        return FilmFiles()
    name = str(video.file)
    path = _inside(recipe, name)
    suffix = Path(name).suffix.lower()
    if path is None or suffix not in _KINDS:
        why = "no such film beside the recipe" if path is None else f"a browser cannot play {suffix or 'this'}"
        notes.append(f"{recipe.folder / name}: {why}; the page shows its moments without it")
        return FilmFiles()
    size = path.stat().st_size
    if size > MOST_BYTES:
        notes.append(
            f"{path}: the film has {size // 1_000_000} MB, too much to put on the site; give it an address instead"
        )
        return FilmFiles()
    source = f"films/{recipe.slug}{suffix}"
    # Reading a film only to hash it would take longer than the whole build; size and time tell a new cut.
    held = digest(f"{size} {path.stat().st_mtime_ns}")
    # Never a link to the cook's own film: whatever is done to the site must not reach it.
    target, last = shelf.fresh / source, shelf.last / source
    before = shelf.before.files.get(source)
    if before is not None and before.held == held and last.is_file() and last.stat().st_size == size:
        link_or_copy(last, target)
        shelf.now.files[source] = before
        shelf.kept += 1
    else:
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, target)
        shelf.note(source, "", held)
    track = ""
    captions = _inside(recipe, str(video.captions)) if video.captions else None
    if captions is not None:
        try:
            track = f"films/{recipe.slug}.vtt"
            shelf.put(track, as_webvtt(read_captions(captions)).encode())
        except CaptionError:
            track = ""
            notes.append(f"{captions}: these captions cannot be read; the film is shown without them")
    return FilmFiles(source, _KINDS[suffix], track)

"""Captions of every format in, one Transcript out."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

from pipeline.film.blocks import is_arrowed, is_webvtt, read_subrip, read_webvtt
from pipeline.film.clean import Token, tokens
from pipeline.film.decode import decode
from pipeline.film.mend import mend_raw, untangle
from pipeline.film.raw import Read
from pipeline.film.rolling import Spoken, unroll
from pipeline.film.timed import is_timed, read_timed
from pipeline.film.transcript import CaptionError, Cue, Repair, Transcript, Word

# So many repairs of one kind are told one by one; more are summed up in one note.
_EACH = 3


def read_captions(path: Path) -> Transcript:
    """The transcript of a captions file: SubRip, WebVTT or timed text, told by what is in it, not by its
    name.

    Times are whole milliseconds. Raises CaptionError where nothing can be read, OSError where there is no
    file.
    """
    text, repairs = decode(path.read_bytes(), str(path))
    return _read(text, str(path), repairs)


def read_captions_text(text: str, path: str | Path) -> Transcript:
    """The same from memory; ``path`` is for messages. Raises CaptionError."""
    return _read(text.replace("\r\n", "\n").replace("\r", "\n").lstrip("\ufeff"), str(path), [])


def _read(text: str, path: str, repairs: list[Repair]) -> Transcript:
    if not text.strip():
        raise CaptionError(path, [(1, "the captions file is empty")])
    read = _by_format(text, path)
    read.repairs[:0] = repairs
    lines = [[tokens(line) for line in cue.lines] for cue in read.cues]
    if not any(words for cue in lines for words in cue):
        if not read.problems:
            read.problems.append((1, "there are no spoken words in these captions"))
        raise CaptionError(path, sorted(read.problems))
    # A caption keeps its words by its line in the file, which no other has.
    spoken = {cue.line: words for cue, words in zip(read.cues, lines, strict=True)}
    cues = mend_raw(read, [sum(map(len, words)) for words in lines])
    if read.problems:
        raise CaptionError(path, sorted(read.problems))
    shown = [Spoken(c.line, c.start or 0, c.end or 0, [w for w in spoken[c.line] if w]) for c in cues]
    first = shown[0].line
    repeats = unroll(shown)
    if repeats:
        what = "one caption shows" if repeats == 1 else f"{repeats} captions show"
        before = "the one before it" if repeats == 1 else "the one before them"
        read.note(first, f"{what} again what {before} showed; it is counted once")
    apart, cut = untangle(shown)
    if cut and not repeats:
        many = f"{len(cut)} captions from here on overlap the next; each ends where the next begins"
        one = "this caption overlaps the next; it ends where the next begins"
        read.note(cut[0], one if len(cut) == 1 else many)
    return _transcript(path, apart, _summed(read.repairs))


def _by_format(text: str, path: str) -> Read:
    webvtt = is_webvtt(text)
    if is_arrowed(text):
        read = read_webvtt(text) if webvtt else read_subrip(text)
        if not webvtt and path.lower().endswith(".vtt"):
            read.repairs.insert(0, Repair(1, "the first line “WEBVTT” is missing; read all the same"))
        return read
    if webvtt:
        raise CaptionError(path, [(1, "this WebVTT file has no caption with a readable time in it")])
    if is_timed(text):
        return read_timed(text)
    message = (
        "this is neither SubRip nor WebVTT nor timed text; "
        "begin each paragraph with its time, as in “[1:05] Now the flour”"
    )
    raise CaptionError(path, [(1, message)])


def _transcript(path: str, apart: Sequence[Spoken], repairs: tuple[Repair, ...]) -> Transcript:
    cues: list[Cue] = []
    words: list[Word] = []
    for cue in apart:
        found = cue.words()
        index = len(cues)
        text = " ".join(token.text for token in found)
        cues.append(Cue(cue.start, cue.end, text, cue.line))
        for token, (start, end) in zip(found, _times(found, cue.start, cue.end), strict=True):
            words.append(Word(start, end, token.text, index))
    return Transcript(path, tuple(cues), tuple(words), repairs)


def _times(found: Sequence[Token], start: int, end: int) -> list[tuple[int, int]]:
    """Each word's time: as the file gives it, and between those moments shared out by letters, whole ms."""
    anchors: list[tuple[int, int]] = [(0, start)]
    for i, token in enumerate(found):
        if token.at is not None and i > 0 and anchors[-1][1] <= token.at <= end:
            anchors.append((i, token.at))
        elif token.at is not None and i == 0 and start <= token.at <= end:
            anchors[0] = (0, token.at)
    anchors.append((len(found), end))
    result: list[tuple[int, int]] = []
    for (first, begin), (last, stop) in pairwise(anchors):
        # One more for the gap behind each word, so that "a" has a length, too.
        sizes = [len(token.text) + 1 for token in found[first:last]]
        total, done = sum(sizes), 0
        for size in sizes:
            until = done + size
            result.append((begin + (stop - begin) * done // total, begin + (stop - begin) * until // total))
            done = until
    return result


def _summed(repairs: Sequence[Repair]) -> tuple[Repair, ...]:
    """Repairs in file order; the many of one kind become one."""
    by_kind: dict[str, list[Repair]] = {}
    for repair in repairs:
        kind = "no time" if "is no time" in repair.message else repair.message
        by_kind.setdefault(kind, []).append(repair)
    result: list[Repair] = []
    for same in by_kind.values():
        if len(same) <= _EACH:
            result += same
        else:
            result.append(Repair(same[0].line, f"{same[0].message} (and {len(same) - 1} more like it)"))
    return tuple(sorted(result, key=lambda r: r.line))

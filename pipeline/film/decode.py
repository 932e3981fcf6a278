"""A captions file's bytes as text: the encodings that real files come in."""

from __future__ import annotations

import codecs

from pipeline.film.transcript import CaptionError, Repair

# An hour of captions with word times is about half a megabyte; what is far above is no captions file.
LARGEST = 20_000_000

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def decode(data: bytes, path: str) -> tuple[str, list[Repair]]:
    """The text with plain line ends (one newline), and what had to be put right on the way.

    UTF-8 with or without a mark, UTF-16 and UTF-32 with one, UTF-16 without one (told by its zero bytes);
    what is none of these is read as Windows-1252, with a note. Raises CaptionError for data that is no text
    or is larger than LARGEST bytes.
    """
    if len(data) > LARGEST:
        raise CaptionError(path, [(1, f"the file has {len(data):,} bytes: too large for captions")])
    repairs: list[Repair] = []
    encoding = next((name for mark, name in _MARKS if data.startswith(mark)), None)
    if encoding is None and b"\0" in data[:4000]:
        encoding = _unmarked(data[:4000])
        if encoding is None:
            raise CaptionError(path, [(1, "the file is not text; give the captions as .srt, .vtt or .txt")])
        repairs.append(Repair(1, f"the file does not say its encoding; read as {encoding.upper()}"))
    try:
        text = data.decode(encoding or "utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        if encoding is not None:
            message = f"the file is cut short or damaged: it is not {encoding.upper()} from here on"
            raise CaptionError(path, [(line, message)]) from None
        text = data.decode("cp1252", errors="replace")
        repairs.append(Repair(line, "the file is not UTF-8; read as Windows-1252"))
    return text.replace("\r\n", "\n").replace("\r", "\n").lstrip("\ufeff"), repairs


def _unmarked(head: bytes) -> str | None:
    """UTF-16 of Western text has a zero in every second byte."""
    odd, even = head[1::2].count(0), head[0::2].count(0)
    half = max(len(head) // 2, 1)
    if odd > 0.7 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.7 * half and odd < 0.1 * half:
        return "utf-16-be"
    return None

"""From a marked film's script to captions, as people and as machines write them, the same ones for the same seed.

Forms (``SUFFIX`` has their file names' ends):

``vtt``, ``srt``
    captions by hand: whole words, punctuation, two lines at most, cut where a sentence or a clause ends
``timed``
    plain timed text, ``[m:ss] words``, a stamp every quarter of a minute or so (never where a step begins on purpose)
``machine``
    WebVTT as machines make it: lower case, no punctuation, cues of 2 to 3 s cut anywhere, each shown again above the
    next one; words are dropped, misheard (``mishearing.yaml``) and numbers come as figures or as words
``machine-srt``
    the same words as SubRip, without the rolling

Words keep the times that :func:`marked.spoken` gives them, so a film's truth holds for all forms.
``python tests/film/noise.py NAME FORM [SEED]`` prints one.
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Literal

from ears import NOISE, Heard, Noise, by_ear
from marked import APART, FILMS, Film, Said, Token, load, spoken

Form = Literal["vtt", "srt", "timed", "machine", "machine-srt"]
SUFFIX: dict[Form, str] = {"vtt": ".vtt", "srt": ".srt", "timed": ".txt", "machine": ".vtt", "machine-srt": ".srt"}
FORMS: tuple[Form, ...] = tuple(SUFFIX)
MACHINE: tuple[Form, ...] = ("machine", "machine-srt")


def captions(film: Film, form: Form, seed: int = 0, noise: Noise = NOISE) -> str:
    """The film's captions. ``noise`` touches the machine forms only. Raises KeyError for an unknown form."""
    rng = _chance(film, form, seed)
    return _WRITERS[form](hear(film, form, seed, noise), rng)


def write(film: Film, form: Form, folder: Path, seed: int = 0, noise: Noise = NOISE) -> Path:
    """Writes ``captions`` with its form's suffix into the folder; where it stands."""
    path = folder / f"captions{SUFFIX[form]}"
    path.write_text(captions(film, form, seed, noise), encoding="utf-8")
    return path


def hear(film: Film, form: Form, seed: int = 0, noise: Noise = NOISE) -> list[Heard]:
    """The words that stand in those captions. For a form by hand, all of them as they are."""
    heard = [Heard(t.start, t.end, t.text, (n,)) for n, t in enumerate(spoken(film.paragraphs))]
    if form not in MACHINE:
        return heard
    rng = _chance(film, "ears", seed)  # both machine forms hear the same
    return by_ear(heard, rng, noise)


def spared(film: Film, form: Form, seed: int = 0, noise: Noise = NOISE) -> list[tuple[Said, bool]]:
    """Each spoken amount, and whether all of its words reached the captions unharmed (a changed number form is no
    harm). What was dropped or misheard may still be understood; nobody can be blamed if not."""
    tokens = spoken(film.paragraphs)
    safe = {n for w in hear(film, form, seed, noise) if w.whole for n in w.tokens}
    return [(said, all(n in safe for n in tokens_of(said, film, tokens))) for said in film.said]


def tokens_of(said: Said, film: Film, tokens: Sequence[Token]) -> range:
    """The indices of an amount's words in ``spoken(film.paragraphs)``. Raises ValueError if they don't stand there."""
    for first, token in enumerate(tokens):
        if token.start != said.time:
            continue
        text = film.paragraphs[token.paragraph].text
        place = text.find(said.words, token.place)
        if 0 <= place - token.place < len(token.text):
            end = place + len(said.words)
            last = first
            while last < len(tokens) and tokens[last].paragraph == token.paragraph and tokens[last].place < end:
                last += 1
            return range(first, last)
    raise ValueError(f"{film.name}: {said.words!r} is not said at {said.time} ms")


def _chance(film: Film, what: str, seed: int) -> random.Random:
    return random.Random(f"{film.name}/{what}/{seed}")


_PAUSE = 700  # ms of silence at which any captioner ends a cue
_WIDE = 42  # characters a line of captions; common practice, no source


def _groups(heard: Sequence[Heard], cut: Callable[[list[Heard], Heard], bool]) -> list[list[Heard]]:
    """Words in cues: a new one begins where ``cut`` says so of the cue so far and the next word."""
    groups: list[list[Heard]] = []
    for word in heard:
        if not groups or cut(groups[-1], word):
            groups.append([])
        groups[-1].append(word)
    return groups


def _by_hand(heard: Sequence[Heard]) -> list[list[Heard]]:
    def cut(cue: list[Heard], word: Heard) -> bool:
        size = sum(len(w.text) + 1 for w in cue)
        last = cue[-1].text
        return (
            word.start - cue[-1].end > _PAUSE
            or size + len(word.text) > 2 * _WIDE - 6
            or (size > 24 and last[-1] in ".?!")
            or (size > _WIDE and last[-1] in ",;:")
            or word.end - cue[0].start > 6500
        )

    return _groups(heard, cut)


def _by_machine(heard: Sequence[Heard], rng: random.Random) -> list[list[Heard]]:
    length = rng.randint(2000, 3000)

    def cut(cue: list[Heard], word: Heard) -> bool:
        nonlocal length
        if word.start - cue[-1].end > 3 * _PAUSE or word.end - cue[0].start > length:
            length = rng.randint(2000, 3000)
            return True
        return False

    return _groups(heard, cut)


def _lines(cue: Sequence[Heard]) -> str:
    """A cue's text on one line, or two of about the same length."""
    text = " ".join(w.text for w in cue)
    if len(text) <= _WIDE:
        return text
    spaces = [m.start() for m in re.finditer(" ", text)]
    middle = min(spaces, key=lambda at: abs(at - len(text) // 2))
    return f"{text[:middle]}\n{text[middle + 1 :]}"


def _clock(ms: int, point: str) -> str:
    seconds, ms = divmod(ms, 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}{point}{ms:03}"


def _vtt(heard: Sequence[Heard], _: random.Random) -> str:
    cues = [f"{_clock(c[0].start, '.')} --> {_clock(c[-1].end, '.')}\n{_lines(c)}\n" for c in _by_hand(heard)]
    return "WEBVTT\n\n" + "\n".join(cues)


def _srt_of(cues: Sequence[Sequence[Heard]]) -> str:
    return "\n".join(
        f"{n}\n{_clock(c[0].start, ',')} --> {_clock(c[-1].end, ',')}\n{_lines(c)}\n" for n, c in enumerate(cues, 1)
    )


def _srt(heard: Sequence[Heard], _: random.Random) -> str:
    return _srt_of(_by_hand(heard))


def _machine_srt(heard: Sequence[Heard], rng: random.Random) -> str:
    return _srt_of(_by_machine(heard, rng))


def _machine(heard: Sequence[Heard], rng: random.Random) -> str:
    """Each cue stands until the next one begins, with the line before it above: what rolls was said once."""
    cues = _by_machine(heard, rng)
    texts = [" ".join(w.text for w in cue) for cue in cues]
    ends = [max(a[-1].end, min(b[0].start, a[-1].end + 2000)) for a, b in pairwise(cues)] + [cues[-1][-1].end]
    out = ["WEBVTT\n"]
    for n, (cue, text, end) in enumerate(zip(cues, texts, ends, strict=True)):
        above = f"{texts[n - 1]}\n" if n and ends[n - 1] == cue[0].start else ""
        out.append(f"{_clock(cue[0].start, '.')} --> {_clock(end, '.')}\n{above}{text}\n")
    return "\n".join(out)


def _timed(heard: Sequence[Heard], rng: random.Random) -> str:
    length = rng.randint(10_000, 20_000)

    def cut(block: list[Heard], word: Heard) -> bool:
        nonlocal length
        ends = block[-1].text.rstrip("\"'”’")[-1:] in (".", "?", "!")
        if ends and word.start - block[0].start > length:
            length = rng.randint(10_000, 20_000)
            return True
        return False

    def stamp(ms: int) -> str:
        hours, rest = divmod(ms // 1000, 3600)
        return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"

    return "\n\n".join(f"[{stamp(b[0].start)}] {' '.join(w.text for w in b)}" for b in _groups(heard, cut)) + "\n"


_WRITERS: dict[Form, Callable[[Sequence[Heard], random.Random], str]] = {
    "vtt": _vtt, "srt": _srt, "timed": _timed, "machine": _machine, "machine-srt": _machine_srt,
}  # fmt: skip


if __name__ == "__main__":
    name, form = sys.argv[1:3]
    home = next(f for f in (FILMS / name, APART / name) if f.exists())
    print(captions(load(home), form, int((sys.argv[3:] or ["0"])[0])), end="")  # type: ignore[arg-type]

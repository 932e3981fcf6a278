"""The marked films: scripts of what is said, and by hand what a careful listener hears in them.

A film is a folder under ``films/`` (``films/apart/`` holds those that nobody tunes on):

``recipe.yaml``
    the written recipe, in the source format, without any ``at:``.
``script.txt``
    what is said, one paragraph a line, ``[m:ss] words``; a line ``== STEP n`` stands right before the paragraph in
    which step n of the recipe (from 1, in written order) really begins. A step that is never shown has no such line.
``truth.yaml``
    ``marks``: step number and milliseconds. ``said``: every amount that is spoken, in order:

    - ``time``: milliseconds, when its first word begins
    - ``words``: the words exactly as said
    - ``ingredient``: the name on the recipe's line, or null; ``component`` beside it where two lines share a name
    - ``reading``: the same amount as a cook would type it ("650 g", "2 3/4 cups", "450 F", "2 to 3 min")
    - ``kind``: ``use``, ``recap`` (said again at the end, or told in advance), ``list`` (the opening list),
      ``substitution``, ``pan`` (the size of a vessel), ``viewer`` (a viewer's amount), ``repeat`` ("as I said") or
      ``other`` (a length, another cook's amount, times and heats that are no instruction of this recipe)
    - ``pair: true`` where it says the amount before it once more in another measure

    A count of people, pans or minutes late is no amount; a count of an ingredient ("two eggs") is one.
    ``slips``: what is said and disagrees with the written recipe: ``time``, ``words``, ``recipe`` (what stands there).

Words have no times of their own in a script: :func:`spoken` spreads them over their paragraph by letters.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import yaml

FILMS = Path(__file__).parent / "films"
APART = FILMS / "apart"

# Words a second at which a paragraph is spoken where its stamp leaves time to spare: 156 words a minute, an easy
# presenter. Common practice, no source.
EASY = 2.6

_LINE = re.compile(r"\[(?:(\d+):)?(\d{1,2}):(\d\d)\] (\S.*)")
_STEP = re.compile(r"== STEP (\d+)")


@dataclass(frozen=True, slots=True)
class Paragraph:
    """``start`` in whole milliseconds; ``steps`` begin here (numbers from 1); ``line`` in the script, from 1."""

    start: int
    text: str
    steps: tuple[int, ...]
    line: int


@dataclass(frozen=True, slots=True)
class Token:
    """One word as the script has it, its time in whole milliseconds, its paragraph and its place in that text."""

    start: int
    end: int
    text: str
    paragraph: int
    place: int


@dataclass(frozen=True, slots=True)
class Said:
    """One spoken amount; see the module's head."""

    time: int
    words: str
    ingredient: str | None
    reading: str
    kind: str
    pair: bool = False
    component: str | None = None


@dataclass(frozen=True, slots=True)
class Slip:
    """Something said that disagrees with the recipe; ``recipe`` is what is written there."""

    time: int
    words: str
    recipe: str


@dataclass(frozen=True, slots=True)
class Film:
    """A marked film. ``marks``: step number (from 1) to milliseconds."""

    name: str
    folder: Path
    paragraphs: tuple[Paragraph, ...]
    marks: dict[int, int]
    said: tuple[Said, ...]
    slips: tuple[Slip, ...]

    @property
    def recipe(self) -> Path:
        return self.folder / "recipe.yaml"


def read_script(text: str, name: str = "script.txt") -> tuple[Paragraph, ...]:
    """The paragraphs of a script. Raises ValueError, with the line, where it is not one."""
    found: list[Paragraph] = []
    steps: list[int] = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip() or line.startswith("#"):
            continue
        if m := _STEP.fullmatch(line.strip()):
            steps.append(int(m[1]))
        elif m := _LINE.fullmatch(line.rstrip()):
            seconds = int(m[1] or 0) * 3600 + int(m[2]) * 60 + int(m[3])
            if found and seconds * 1000 <= found[-1].start:
                raise ValueError(f"{name}:{number}: the stamp does not come after the one before it")
            found.append(Paragraph(seconds * 1000, m[4], tuple(steps), number))
            steps = []
        else:
            raise ValueError(f"{name}:{number}: neither '[m:ss] words' nor '== STEP n': {line!r}")
    if steps:
        raise ValueError(f"{name}: no paragraph after the last '== STEP'")
    return tuple(found)


def spoken(paragraphs: Sequence[Paragraph]) -> tuple[Token, ...]:
    """Every word with its time: spread by letters from its paragraph's stamp to the next one, or to where the words
    would end at :data:`EASY` words a second if that is earlier (the rest is a pause)."""
    tokens: list[Token] = []
    for at, paragraph in enumerate(paragraphs):
        found = list(re.finditer(r"\S+", paragraph.text))
        length = round(len(found) * 1000 / EASY)
        if at + 1 < len(paragraphs):
            length = min(length, paragraphs[at + 1].start - paragraph.start)
        # a figure takes as long to say as its words, roughly three letters a digit
        sizes = [max(1, sum(3 if c.isdigit() else c.isalpha() for c in m[0])) for m in found]
        whole = sum(sizes)
        edges = [paragraph.start]
        done = 0
        for size in sizes:
            done += size
            edges.append(paragraph.start + length * done // whole)
        tokens += [
            Token(start, end, m[0], at, m.start()) for m, (start, end) in zip(found, pairwise(edges), strict=True)
        ]
    return tuple(tokens)


def load(folder: Path) -> Film:
    """Reads one film. Raises ValueError or KeyError where its files are not as the module's head says."""
    script = folder / "script.txt"
    truth: dict[str, Any] = yaml.safe_load((folder / "truth.yaml").read_text(encoding="utf-8"))
    return Film(
        folder.name,
        folder,
        read_script(script.read_text(encoding="utf-8"), f"{folder.name}/script.txt"),
        dict(truth["marks"]),
        tuple(Said(**one) for one in truth["said"]),
        tuple(Slip(**one) for one in truth["slips"]),
    )


def films(apart: bool = False) -> Iterator[Film]:
    """The films to tune on, by name; with ``apart`` those that are kept apart instead."""
    folders = sorted((APART if apart else FILMS).glob("*/script.txt"))
    return (load(script.parent) for script in folders)

"""Scores what is heard against a marked corpus: `python tests/film/spoken_scorer.py [FILE…]` prints recall, precision
and every miss. The corpus' format is explained at its head."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

from pipeline.film.spoken import Spoken, heard
from pipeline.film.transcript import Cue, Transcript, Word
from pipeline.measure.amount import Amount
from pipeline.measure.duration import read_duration
from pipeline.measure.grammar import read_amount
from pipeline.measure.heat import Duration, Heat, read_heat
from pipeline.measure.lookup import load

HERE = Path(__file__).parent
CORPUS = HERE / "spoken_marked.txt"
KEPT_APART = HERE / "spoken_kept_apart.txt"
#: Kept apart at first, each scored once and then learned from; their heads say how they stood.
ONCE_APART = tuple(HERE / f"spoken_apart{number}.txt" for number in (2, 3, 4, 5, 6))
#: Marked before anything was run on them, scored once, and learned from at once.
VOICES = tuple(HERE / f"spoken_voices{number}.txt" for number in (7, 8, 9, 10))
#: Kept apart still: nothing in the grammar was made for these.
UNSEEN = HERE / "spoken_apart7.txt"

Key = tuple[str, tuple[object, ...]]


@dataclass(frozen=True)
class Mark:
    """One thing to hear: its kind, its statements as comparable keys, and the ingredient's words ("" is not scored)."""

    line: int
    text: str
    key: Key
    ingredient: str


@dataclass(frozen=True)
class Sentence:
    line: int
    text: str
    marks: tuple[Mark, ...]


@dataclass
class Score:
    """Counts over a corpus; ``misses`` are printable."""

    hit: int = 0
    missed: int = 0
    wrong: int = 0
    named: int = 0
    to_name: int = 0
    misses: list[str] = field(default_factory=list)

    @property
    def recall(self) -> float:
        return self.hit / max(self.hit + self.missed, 1)

    @property
    def precision(self) -> float:
        return self.hit / max(self.hit + self.wrong, 1)

    @property
    def names(self) -> float:
        return self.named / max(self.to_name, 1)


def transcript(text: str) -> Transcript:
    """A sentence as a film of one caption, 400 ms a word."""
    words = tuple(Word(400 * i, 400 * i + 400, word, 0) for i, word in enumerate(text.split()))
    return Transcript("", (Cue(0, 400 * len(words), text, 1),), words)


def amount_key(a: Amount) -> tuple[object, ...]:
    return (a.unit.name, a.low, a.high, a.about)


def heat_key(h: Heat) -> tuple[object, ...]:
    return (h.scale, h.low, h.high, h.fan, h.about)


def time_key(t: Duration) -> tuple[object, ...]:
    return (t.low, t.high, t.about)


def key_of(said: Spoken) -> Key:
    """What a heard thing says, to be compared with a mark."""
    if said.kind == "heat":
        return ("heat", tuple(heat_key(h) for h in said.heats))
    if said.kind == "time":
        return ("time", tuple(time_key(t) for t in said.times))
    amounts = [amount_key(a) for a in said.amounts]
    if said.whole:
        amounts.append(("of", *amount_key(said.whole)))
    return (said.kind, tuple(amounts))


def _amount(text: str, line: int) -> Amount:
    read = read_amount(text, 0, bare=True)
    if read is None or read.end != len(text):
        raise ValueError(f"line {line}: “{text}” is no amount")
    return read.amount


def _mark(text: str, line: int) -> Mark:
    body, _, ingredient = (part.strip() for part in text.partition(" : "))
    kind, _, rest = body.partition(" ")
    if kind == "heat":
        heats = [read_heat(part) for part in rest.split(" / ")]
        if not all(heats):
            raise ValueError(f"line {line}: “{rest}” is no heat")
        return Mark(line, text, ("heat", tuple(heat_key(h[0]) for h in heats if h)), "")
    if kind == "time":
        times = [read_duration(part) for part in rest.split(" / ")]
        if not all(times):
            raise ValueError(f"line {line}: “{rest}” is no time")
        return Mark(line, text, ("time", tuple(time_key(t[0]) for t in times if t)), "")
    if kind == "size":
        sizes = [f"{n} {u}".strip() for n, u in re.findall(r"((?:about )?[\d./ ]+?) ([a-z]+)\b\.?", rest)]
        sizes = [s.replace(" in", " inch") for s in sizes]
        return Mark(line, text, ("size", tuple(amount_key(_amount(s, line)) for s in sizes)), "")
    body, _, whole = body.partition(" of ")
    keys: list[tuple[object, ...]] = [amount_key(_amount(part, line)) for part in body.split(" / ")]
    if whole:
        keys.append(("of", *amount_key(_amount(whole, line))))
    return Mark(line, text, ("amount", tuple(keys)), ingredient)


def read_corpus(path: Path) -> list[Sentence]:
    """The marked sentences of a file. Raises ValueError with the line for a mark that says nothing readable."""
    found: list[tuple[int, str, list[Mark]]] = []
    for line, text in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if text.startswith("> "):
            found.append((line, text[2:], []))
        elif text.strip() and not text.startswith("#") and text.strip() != "-":
            found[-1][2].append(_mark(text.strip(), line))
    return [Sentence(line, text, tuple(marks)) for line, text, marks in found]


def _same_name(said: Spoken, wanted: str) -> bool:
    mine, other = (name.casefold().replace("-", " ") for name in (said.ingredient, wanted))
    if not mine:
        return False
    if mine == other or mine.removesuffix("s") == other.removesuffix("s"):
        return True
    found = load().find(other)
    return bool(found and said.match and found.row.name == said.match.row.name)


def score(sentences: Iterable[Sentence]) -> Score:
    """A mark is hit when one heard thing has the same kind and the same statements, all of them; each counts once."""
    table, total = load(), Score()
    for sentence in sentences:
        left = list(heard(transcript(sentence.text), table))
        missed: list[Mark] = []
        for mark in sentence.marks:
            at = next((i for i, said in enumerate(left) if key_of(said) == mark.key), None)
            if at is None:
                missed.append(mark)
                continue
            said = left.pop(at)
            total.hit += 1
            if mark.ingredient:
                total.to_name += 1
                if _same_name(said, mark.ingredient):
                    total.named += 1
                else:
                    names = f"name: {mark.ingredient} ≠ {said.ingredient!r}"
                    total.misses.append(f"{sentence.line}: {sentence.text}\n    {names}")
        total.missed += len(missed)
        total.wrong += len(left)
        if missed or left:
            lines = [f"{sentence.line}: {sentence.text}"]
            lines += [f"    missed: {mark.text}" for mark in missed]
            lines += [f"    heard:  {said.kind} {_shown(said)}" for said in left]
            total.misses.append("\n".join(lines))
    return total


def _shown(said: Spoken) -> str:
    parts = [
        *(f"{_number(a.low, a.high)} {a.unit.symbol}{' about' if a.about else ''}" for a in said.amounts),
        *(f"{_number(h.low, h.high)} {h.scale}{' fan' if h.fan else ''}" for h in said.heats),
        *(f"{t.low}-{t.high} s{' about' if t.about else ''}" for t in said.times),
    ]
    return f"{' / '.join(parts)} : {said.ingredient} [{said.words}]"


def _number(low: Fraction, high: Fraction) -> str:
    return str(low) if low == high else f"{low}-{high}"


def lines(path: Path) -> Iterator[str]:
    """The printed report on one corpus."""
    sentences = read_corpus(path)
    got = score(sentences)
    empty = sum(1 for sentence in sentences if not sentence.marks)
    yield from got.misses
    yield (
        f"{path.name}: {len(sentences)} sentences ({empty} with nothing to hear), {got.hit + got.missed} marks: "
        f"recall {got.recall:.1%}, precision {got.precision:.1%}, ingredient {got.names:.1%}"
    )


if __name__ == "__main__":
    for name in sys.argv[1:] or map(str, (CORPUS, KEPT_APART, *ONCE_APART, *VOICES, UNSEEN)):
        print("\n".join(lines(Path(name))))

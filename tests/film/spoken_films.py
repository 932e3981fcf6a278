"""What is heard of the amounts that are marked in the films: ``python tests/film/spoken_films.py`` prints every miss.

A marked amount is heard where something of the same value is said over its words. Alternatives ("one and a half cups,
278 grams") are marked one by one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from marked import Film, Said, films, spoken

from pipeline.film.spoken import Spoken, heard
from pipeline.film.transcript import Cue, Transcript, Word
from pipeline.measure.amount import Amount
from pipeline.measure.duration import read_duration
from pipeline.measure.grammar import read_amount
from pipeline.measure.heat import read_heat
from pipeline.measure.lookup import load

Key = tuple[str, Fraction, Fraction]


def transcript_of(film: Film) -> Transcript:
    """The script as captions that a person made."""
    tokens = spoken(film.paragraphs)
    words = tuple(Word(t.start, t.end, t.text, t.paragraph) for t in tokens)
    cues = tuple(Cue(p.start, p.start + 1, p.text, p.line) for p in film.paragraphs)
    return Transcript(film.name, cues, words)


def wanted(said: Said) -> set[Key]:
    """The values that a marked reading can be, sizes side by side."""
    text = said.reading
    if (heats := read_heat(text)) and re.search(r"(?:[FC°]|gas|degrees)", text):
        return {(heats[0].scale, heats[0].low, heats[0].high)}
    if times := read_duration(text):
        return {("time", Fraction(times[0].low), Fraction(times[0].high))}
    found: set[Key] = set()
    at = 0
    while at < len(text):
        read = read_amount(text, at, bare=True)
        if read is None:
            at += 1
            continue
        found.add(_plain(read.amount))
        at = max(read.end, at + 1)
    return found


def _plain(amount: Amount) -> Key:
    """Half a kilo is five hundred grams."""
    name, by = {"kilogram": ("gram", 1000), "liter": ("milliliter", 1000)}.get(amount.unit.name, (amount.unit.name, 1))
    return name, amount.low * by, amount.high * by


def keys(said: Spoken) -> set[Key]:
    """The values of one heard thing."""
    result: set[Key] = {_plain(a) for a in said.amounts}
    count = said.amounts[0] if len(said.amounts) > 1 and said.amounts[0].unit.kind == "count" else None
    if count is not None and count.low == count.high > 0:  # "two tins, four hundred grams each" are heard as 800 g
        result |= {(name, low / count.low, high / count.low) for name, low, high in map(_plain, said.amounts[1:])}
    result |= {(h.scale, h.low, h.high) for h in said.heats}
    result |= {("time", Fraction(t.low), Fraction(t.high)) for t in said.times}
    if said.whole:
        result.add(_plain(said.whole))
    return result


def misses(film: Film) -> Iterator[tuple[Said, list[Spoken]]]:
    """Marked amounts that are not heard, and what is heard over their words instead."""
    got = heard(transcript_of(film), load())
    for one in film.said:
        over = [s for s in got if s.start - 1500 <= one.time <= s.end + 1500]
        want = wanted(one)
        if not any(want & keys(s) for s in over):
            yield one, over


def extra(film: Film) -> Iterator[Spoken]:
    """What is heard where nothing is marked within three words."""
    for said in heard(transcript_of(film), load()):
        if not any(said.start - 1500 <= one.time <= said.end + 1500 for one in film.said):
            yield said


def recall(apart: bool = False, others: bool = True) -> tuple[int, int]:
    """How many marked amounts are heard, and how many there are; without ``others`` only those of the recipe."""
    marked = missed = 0
    for film in films(apart):
        marked += sum(1 for one in film.said if others or one.kind != "other")
        missed += sum(1 for one, _ in misses(film) if others or one.kind != "other")
    return marked - missed, marked


def main() -> None:
    for film in films():
        for one, over in misses(film):
            instead = " | ".join(s.words for s in over)
            print(f"{film.name} {one.time}: {one.words!r} = {one.reading} ({one.kind}): {instead}")
        for said in extra(film):
            print(f"{film.name} {said.start}: extra {said.words!r}")
    print("heard {} of {}".format(*recall()), "· of the recipe's: {} of {}".format(*recall(others=False)))


if __name__ == "__main__":
    main()

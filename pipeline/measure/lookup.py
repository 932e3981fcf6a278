"""From a cook's words to a row of the ingredient table, or to nothing; never to the nearest thing, silently.

The principle: every word of the phrase must be accounted for, by the row's name or alias, by its state, by the word
for a piece of it ("clove" beside garlic), or by the closed list in ``data/words.csv``. One word left over means that
the ingredient is unknown: "coconut milk" is not milk with something in front.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

from pipeline.measure.ingredients import How, Match, Row
from pipeline.measure.phrase import (
    Phrase,
    Tokens,
    Word,
    is_preparation,
    singular,
    split_words,
    take_apart,
    tokens,
    turned,
)
from pipeline.measure.record import replace
from pipeline.measure.rows import read_row
from pipeline.measure.spelling import mend

_FILE = "ingredients.csv"
# The most words that a name may have; more are not looked for.
_LONGEST = 8
# States in which a piece weighs something else than the fresh one does: no weight of a piece is handed on to them.
_OTHER_PIECES = frozenset({"dried", "canned", "cooked", "ground"})
_SCORE: dict[How, float] = {"name": 1.0, "alias": 1.0, "inside": 0.95, "spelling": 0.9}


class _Entry(NamedTuple):
    """A row before it is built: ``cells`` as in the file, or the finished ``row`` of a cook's own."""

    name: str
    state: str
    aliases: tuple[str, ...]
    cells: Sequence[str] = ()
    place: str = ""
    row: Row | None = None


_Hit = tuple[int, int | None]


class Table:
    """The ingredient table. Immutable: :meth:`with_rows` gives another one."""

    def __init__(self, entries: Iterable[_Entry], index: dict[str, _Hit] | None = None) -> None:
        """``index``: what :meth:`index` of the same entries gives, where it is at hand already."""
        self._entries: list[_Entry] = list(entries)
        self._groups: list[list[int]] = []
        self._group_of: dict[str, int] = {}
        self._built: dict[int, Row] = {}
        for number, entry in enumerate(self._entries):
            group = self._group_of.setdefault(entry.name, len(self._groups))
            if group == len(self._groups):
                self._groups.append([])
            self._groups[group].append(number)
        self._index = self.index() if index is None else index
        self._answers: dict[str, Match | None] = {}
        self._strange: set[str] = set()
        self._known: frozenset[str] | None = None

    def index(self) -> dict[str, _Hit]:
        """Every name and alias in its one form (singular, one spelling), and the group it leads to; with the row's
        number where the alias is that of a state ("almond meal")."""
        index: dict[str, _Hit] = {}
        for group, numbers in enumerate(self._groups):
            index[_key(tokens(self._entries[numbers[0]].name))] = (group, None)
        for group, numbers in enumerate(self._groups):
            for number in numbers:
                for alias in self._entries[number].aliases:
                    index[_key(tokens(alias))] = (group, None if number == numbers[0] else number)
        for key, hit in list(index.items()):
            words = key.split()
            if {"pepper", "peppers"} & set(words) and not self._is_spice(hit[0]):
                for one, other in (("pepper", "peppers"), ("peppers", "pepper")):
                    index.setdefault(" ".join(other if w == one else w for w in words), hit)
        return index

    def _is_spice(self, group: int) -> bool:
        return self._entries[self._groups[group][0]].state in ("ground", "whole")

    def __len__(self) -> int:
        return len(self._entries)

    def rows(self) -> Iterator[Row]:
        """Every row, in the order of the file, a cook's own last."""
        for number in range(len(self._entries)):
            yield self._row(number)

    def with_rows(self, rows: Iterable[Row]) -> Table:
        """A table in which ``rows`` stand, too. One of the same name and state takes the old one's place: what it does
        not give (aliases, pieces, a cup) stays as it was, and so does the form. A name or alias of theirs wins over
        the same alias elsewhere."""
        rows = list(rows)
        own = {(row.name, row.state): row for row in rows}
        entries = []
        for number, entry in enumerate(self._entries):
            row = own.pop((entry.name, entry.state), None)
            if row is None:
                entries.append(entry)
                continue
            old = self._row(number)
            both = (*row.aliases, *(a for a in entry.aliases if a not in row.aliases))
            counts = {**old.counts, **row.counts}
            row = replace(row, aliases=both, counts=counts, cup=row.cup or old.cup, form=old.form)
            entries.append(_Entry(row.name, row.state, both, row=row))
        taken = {tokens(name) for row in rows for name in (row.name, *row.aliases)}
        entries = [
            replace(e, aliases=tuple(a for a in e.aliases if e.row is not None or tokens(a) not in taken))
            for e in entries
        ]
        entries += [_Entry(r.name, r.state, r.aliases, row=r) for r in own.values()]
        return Table(entries)

    def find(self, words: str, *, mend: bool = True) -> Match | None:
        """The row for a cook's words ("unsalted butter, softened"), or None where the ingredient is not known.

        Where the words name a state ("flour, sifted") and the table has it, that row is taken. ``mend``: misspelt
        words of a name are put right, which is slow beside all else; false where most words are no name at all.
        Answers are kept: a recipe and its film ask for the same words again and again.
        """
        if words not in self._answers and (mend or words not in self._strange):
            phrase = take_apart(words)
            found = self._search(phrase) if phrase.head else None
            if found is None and not mend:
                self._strange.add(words)
                return None
            if found is None and phrase.head:
                found = self._find_mended(phrase)
            self._answers[words] = found and replace(found, words=words)
        found = self._answers.get(words)
        return None if found is not None and found.how == "spelling" and not mend else found

    def _find_mended(self, phrase: Phrase) -> Match | None:
        """The same with misspelt words of the name put right."""
        if self._known is None:
            self._known = frozenset(word for key in self._index for word in key.split())
        for head in dict.fromkeys((phrase.whole, phrase.head)):
            mended = mend(head, self._known)
            if mended is not None:
                right, likeness = mended
                found = self._search(replace(phrase, head=right, whole=right))
                if found is not None:
                    return replace(found, how="spelling", score=round(_SCORE["spelling"] * likeness, 3))
        return None

    def near(self, words: str, n: int = 3) -> tuple[str, ...]:
        """Up to ``n`` names that look like the words, best first, for "did you mean"; never taken silently."""
        from rapidfuzz import fuzz, process

        head = " ".join(take_apart(words).head)
        if not head:
            return ()
        choices = {key: self._entries[self._groups[group][0]].name for key, (group, _) in self._index.items()}
        result: list[str] = []
        found = process.extract(head, list(choices), scorer=fuzz.token_set_ratio, limit=n * 20, score_cutoff=70)
        found.sort(key=lambda f: (-f[1], -fuzz.ratio(head, f[0])))
        for choice, _, _ in found:
            name = choices[choice]
            if name not in result:
                result.append(name)
        return tuple(result[:n])

    def _row(self, number: int) -> Row:
        """The finished row; melted butter has the stick of butter, but dried mint has not the leaf of fresh."""
        built = self._built.get(number)
        if built is not None:
            return built
        entry = self._entries[number]
        row = entry.row or read_row(entry.cells, entry.place)
        first = self._first(number)
        if not row.counts and first != number and not _OTHER_PIECES & set(row.state.split()):
            row = replace(row, counts=self._row(first).counts)
        self._built[number] = row
        return row

    def _first(self, number: int) -> int:
        return self._groups[self._group_of[self._entries[number].name]][0]

    def _search(self, phrase: Phrase) -> Match | None:
        """A phrase whose words are spelt as the table spells them."""
        head = phrase.head
        if phrase.whole != head:  # "tuna in olive oil", where the table has it so
            found = self._match(phrase.whole, phrase.tails)
            if found is not None:
                return found
        if phrase.other:  # "almond or oat milk": the first shares the last words of the second
            for start in range(1, len(phrase.other)):
                found = self._match(head + phrase.other[start:], ())
                if found is not None:
                    return found
        if phrase.tails:
            tail, rest = phrase.tails[0], phrase.tails[1:]
            alone = self._match(head, phrase.tails)
            explained = is_preparation(tail)
            for joined in (tail + head, head + tail):  # "sugar, brown" and "egg, white only"
                found = self._match(joined, rest)
                if found is not None and (alone is None or found.row.name != alone.row.name):
                    return replace(found, how="inside", score=_SCORE["inside"])
                explained = explained or found is not None
            return alone if explained else None
        return self._match(head, ())

    def _match(self, head: Tokens, tails: tuple[Tokens, ...]) -> Match | None:
        for candidate in (head, *turned(head)):
            for start, stop in _spans(len(candidate)):
                hit = self._index.get(_key(candidate[start:stop]))
                if hit is None:
                    continue
                match = self._explain(candidate, start, stop, hit, tails)
                if match is not None:
                    return match
        return None

    def _explain(self, head: Tokens, start: int, stop: int, hit: _Hit, tails: tuple[Tokens, ...]) -> Match | None:
        """The match, if every word outside ``head[start:stop]`` is accounted for."""
        group, pointed = hit
        beside: list[Word] = []
        pieces: list[Tokens] = []
        for words, word in (*split_words(head[:start]), *split_words(head[stop:])):
            if word is None:
                pieces.append(words)
            else:
                beside.append(word)
        said = [w for tail in tails for _, w in split_words(tail) if w is not None]
        chosen = self._choose(group, pointed, [*beside, *said])
        row = self._row(chosen)
        words_for_it = {singular(word) for r in (row, self._row(self._first(chosen))) for word in r.counts}
        if any(piece[0] not in words_for_it for piece in pieces):
            return None
        name = set(head[start:stop])
        states = {row.state, *row.state.split()}
        for word in (*beside, *said):
            if word.kind == "liquid" and row.form != "liquid" and word in beside:
                return None
            if word.kind == "cut" and row.form != "solid" and not states & set(word.means):
                return None
            if word.kind == "strong" and not (states | name) & set(word.means):
                return None
            if word.against & states and not name & word.against:
                return None
        how: How = "inside"
        if not beside and not pieces:
            how = "name" if head[start:stop] == tokens(row.name) else "alias"
        return Match(row, how, _SCORE[how], " ".join(head))

    def _choose(self, group: int, pointed: int | None, words: list[Word]) -> int:
        """Which row of the group the state words ask for: the one that most of them name; the group's first if none."""
        rank: dict[str, float] = {}
        for word in words:
            for place, state in enumerate(word.means):
                rank[state] = rank.get(state, 0.0) + (2.0 if word.kind == "strong" else 1.0) - place / 10
        best, best_score = self._groups[group][0] if pointed is None else pointed, 0.0
        if pointed is not None:
            best_score = 1.5  # an alias that names its state yields only to a stronger word
        for number in self._groups[group]:
            state = self._entries[number].state
            parts = [state] if state in rank else state.split()
            if parts and all(s in rank for s in parts):
                score = sum(rank[s] for s in parts)
                if score > best_score:
                    best, best_score = number, score
        return best


def _key(words: Tokens) -> str:
    return " ".join(words)


def _spans(n: int) -> Iterator[tuple[int, int]]:
    """Every stretch of n words, the longest first, from the right: the noun comes last in English."""
    for size in range(min(n, _LONGEST), 0, -1):
        for start in range(n - size, -1, -1):
            yield start, start + size


def read_table(text: str, place: str, index: dict[str, _Hit] | None = None) -> Table:
    """The table in a file's text. Raises ValueError where a row breaks the grammar, when the row is first needed."""
    lines = text.splitlines()
    skip = sum(1 for line in lines if line.startswith("#")) + 1
    return Table(
        (
            _Entry(cells[0], cells[1], tuple(cells[2].split(";")) if cells[2] else (), cells, f"{place}:{number}")
            for number, cells in enumerate(csv.reader(lines[skip:]), skip + 1)
        ),
        index,
    )


@cache
def load() -> Table:
    """The table that ships with the program (``data/ingredients.csv``), read once.

    Its index stands ready in ``data/ingredients-index.json``, because making it takes five times as long as the rest;
    the script that writes the one writes the other, and a test holds them together.
    """
    data = Path(__file__).parent / "data"
    index = json.loads(data.joinpath("ingredients-index.json").read_text(encoding="utf-8"))
    return read_table(data.joinpath(_FILE).read_text(encoding="utf-8"), _FILE, index)

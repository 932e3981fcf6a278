"""From a cook's words to a row of the ingredient table, or to nothing; never to the nearest thing, silently.

The principle: every word of the phrase must be accounted for, by the row's name or alias, by its state, by the word
for a piece of it ("clove" beside garlic), or by the closed list in ``data/words.csv``. One word left over means that
the ingredient is unknown: "coconut milk" is not milk with something in front.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources

from pipeline.measure.ingredients import How, Match, Row
from pipeline.measure.phrase import (
    Phrase,
    Tokens,
    Word,
    singular,
    split_words,
    take_apart,
    tokens,
    vocabulary,
)
from pipeline.measure.rows import read_row
from pipeline.measure.units import find_unit

_FILE = "ingredients.csv"
# The most words that a name may have; more are not looked for.
_LONGEST = 8
_SCORE: dict[How, float] = {"name": 1.0, "alias": 1.0, "inside": 0.95, "spelling": 0.9}
# Shortest word that may be a misspelling of another, and from where on two wrong letters are forgiven.
_MIN_LETTERS, _TWO_WRONG = 5, 10


@dataclass(frozen=True, slots=True)
class _Entry:
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
            if "pepper" in key.split() and self._entries[self._groups[hit[0]][0]].state not in ("ground", "whole"):
                index.setdefault(key.replace("pepper", "peppers"), hit)
        return index

    def __len__(self) -> int:
        return len(self._entries)

    def rows(self) -> Iterator[Row]:
        """Every row, in the order of the file, a cook's own last."""
        for number in range(len(self._entries)):
            yield self._row(number)

    def with_rows(self, rows: Iterable[Row]) -> Table:
        """A table in which ``rows`` stand, too; one of the same name and state takes the old one's place."""
        own = {(row.name, row.state): row for row in rows}
        entries = []
        for entry in self._entries:
            row = own.pop((entry.name, entry.state), None)
            if row is None:
                entries.append(entry)
            else:
                both = (*row.aliases, *(a for a in entry.aliases if a not in row.aliases))
                entries.append(_Entry(row.name, row.state, both, row=replace(row, aliases=both)))
        taken = {tokens(name) for row in rows for name in (row.name, *row.aliases)}
        entries = [
            replace(e, aliases=tuple(a for a in e.aliases if e.row is not None or tokens(a) not in taken))
            for e in entries
        ]
        entries += [_Entry(r.name, r.state, r.aliases, row=r) for r in own.values()]
        return Table(entries)

    def find(self, words: str) -> Match | None:
        """The row for a cook's words ("unsalted butter, softened"), or None where the ingredient is not known.

        Where the words name a state ("flour, sifted") and the table has it, that row is taken.
        """
        phrase = take_apart(words)
        if not phrase.head:
            return None
        found = self._search(phrase)
        if found is None:
            mended = self._mend(phrase)
            if mended is None:
                return None
            found = self._search(mended[0])
            if found is None:
                return None
            return Match(found.row, "spelling", round(_SCORE["spelling"] * mended[1], 3), words)
        return replace(found, words=words)

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
        """The finished row; a state's row has the pieces of its group's first row where it names none itself."""
        built = self._built.get(number)
        if built is not None:
            return built
        entry = self._entries[number]
        row = entry.row or read_row(entry.cells, entry.place)
        first = self._groups[self._group_of[entry.name]][0]
        if not row.counts and first != number:
            row = replace(row, counts=self._row(first).counts)
        self._built[number] = row
        return row

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
            explained = _is_preparation(tail)
            for joined in (tail + head, head + tail):  # "sugar, brown" and "egg, white only"
                found = self._match(joined, rest)
                if found is not None and (alone is None or found.row.name != alone.row.name):
                    return replace(found, how="inside", score=_SCORE["inside"])
                explained = explained or found is not None
            return alone if explained else None
        return self._match(head, ())

    def _match(self, head: Tokens, tails: tuple[Tokens, ...]) -> Match | None:
        for candidate in (head, *_turned(head)):
            for start, stop in _spans(len(candidate)):
                hit = self._index.get(_key(candidate[start:stop]))
                if hit is None:
                    continue
                match = self._explain(candidate, start, stop, hit, tails)
                if match is not None:
                    return match
        return None

    def _explain(
        self, head: Tokens, start: int, stop: int, hit: _Hit, tails: tuple[Tokens, ...]
    ) -> Match | None:
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
        if pieces and not all(any(singular(k) == p[0] for k in row.counts) for p in pieces):
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

    def _mend(self, phrase: Phrase) -> tuple[Phrase, float] | None:
        """The phrase with misspelt words of its head put right, and how near they were; None where nothing is."""
        known = {word for key in self._index for word in key.split()}
        listed = {word for key in vocabulary().words for word in key}
        head: list[str] = []
        worst = 1.0
        for word in phrase.head:
            right = word if word in known or word in listed else _respell(word, known | listed)
            if right is None:
                return None
            if right != word:
                from rapidfuzz.distance import OSA

                worst = min(worst, OSA.normalized_similarity(word, right))
            head.append(right)
        return (replace(phrase, head=tuple(head)), worst) if worst < 1.0 else None


def _is_preparation(tail: Tokens) -> bool:
    """Whether what follows the comma is a preparation; a lone strange word may be half of the name."""
    if len(tail) > 1:
        return True
    return tail[0].endswith(("ed", "en", "ly")) or all(w is not None for _, w in split_words(tail))


def _key(words: Tokens) -> str:
    return " ".join(words)


def _spans(n: int) -> Iterator[tuple[int, int]]:
    """Every stretch of n words, the longest first, from the right: the noun comes last in English."""
    for size in range(min(n, _LONGEST), 0, -1):
        for start in range(n - size, -1, -1):
            yield start, start + size


def _turned(head: Tokens) -> Iterator[Tokens]:
    """"grated zest of 1 lemon" as "grated lemon zest", "clove of garlic" as "garlic clove", "pinch of salt" as "salt"."""
    at = next((i for i, word in enumerate(head[1:-1], 1) if word in ("of", "from")), None)
    if at is None:
        return
    beside: Tokens = ()
    content: list[Tokens] = []
    for part in (head[:at], head[at + 1 :]):
        groups = [(words, word) for words, word in split_words(part) if not words[0][0].isdigit()]
        beside += tuple(w for words, word in groups if word is not None for w in words)
        content.append(tuple(w for words, word in groups if word is None for w in words))
    before, after = content
    if not after:
        return
    yield (*beside, *after, *before)
    if before and all(find_unit(word) is not None for word in before):
        if "can" in before or "tin" in before:
            yield ("canned", *beside, *after)
        yield (*beside, *after)


def _respell(word: str, known: set[str]) -> str | None:
    """The one known word that this is a misspelling of, or None: one wrong letter beside doubled ones, two in a long
    word; the first letter is right."""
    from rapidfuzz.distance import OSA

    if len(word) < _MIN_LETTERS or word[0].isdigit() or word in food_words():
        return None
    limit = 2 if len(word) >= _TWO_WRONG else 1
    short = _undoubled(word)
    near = [
        (OSA.distance(short, _undoubled(other), score_cutoff=limit), other)
        for other in known
        if len(other) >= _MIN_LETTERS - 1 and abs(len(other) - len(word)) <= limit + 1 and other[0] == word[0]
    ]
    near = sorted(pair for pair in near if pair[0] <= limit)
    if not near or (len(near) > 1 and near[1][0] == near[0][0]):
        return None
    return near[0][1]


def _undoubled(word: str) -> str:
    """One letter for each doubled one, the commonest slip: "cinammon" and "cinnamon" are alike."""
    return "".join(c for i, c in enumerate(word) if i == 0 or c != word[i - 1])


@cache
def food_words() -> frozenset[str]:
    """Words that USDA SR28 uses of foods: known to be no misspelling, whether the table has the food or not."""
    text = resources.files("pipeline.measure").joinpath("data", "food-words.txt").read_text(encoding="utf-8")
    return frozenset(word for line in text.splitlines() if not line.startswith("#") for word in line.split())


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
    data = resources.files("pipeline.measure").joinpath("data")
    index = json.loads(data.joinpath("ingredients-index.json").read_text(encoding="utf-8"))
    return read_table(data.joinpath(_FILE).read_text(encoding="utf-8"), _FILE, index)

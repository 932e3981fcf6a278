"""Each amount heard with all that tells what it is: its ingredient, its part of the dish, the talk around it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pipeline.film.align.folds import bare
from pipeline.film.draft.mentions import Mention
from pipeline.film.draft.parts import made_here
from pipeline.film.draft.scenes import Scene, kinds_in
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.measure.ingredients import Row
from pipeline.measure.record import replace
from pipeline.recipe.names import singular

# Words before and behind an amount that tell what kind it is ("the rest of the …, that's one teaspoon").
_AROUND = 5
# How far back the ingredient of an amount that names none is looked for, in words.
_BACK = 14
# Before a name these are more than chatter: plain flour is not any flour.
_TELLING = frozenset(("plain", "fresh", "extra-virgin"))
# Behind a name these say how it is prepared.
_PREPARED = word_set("chopped sliced diced minced grated crushed melted softened shredded halved quartered peeled")
# Words that a cook leaves out when she speaks, and that the page needs.
_HEADS = frozenset(("flour", "rice"))
# Words in the place of a name that name nothing.
_EMPTY = word_set("""
    it them that this those these each one ones stuff everything which what both meat mixture mix batter
    liquid speck thing things mine yours
    """)
# "Keep a cup of the cooking water": no ingredient. Common practice, no source.
_KEPT = word_set("keep save reserve saved kept reserved")
# "It makes about four cups" is no ingredient.
_MAKES = word_set("makes make yields yield gives serves fills")
# Behind these words stands the sum of what was said before.
_SUMS = frozenset(["all", "altogether", "total", "so", "makes"])


@dataclass(frozen=True, slots=True)
class Event:
    """``kinds``: what the words around say of it (data/talk.txt, and "kept"); ``guessed_name``: its ingredient was not
    named with it; ``note``: how that is prepared."""

    said: Spoken
    name: str
    row: Row | None
    part: str
    stance: str
    kinds: frozenset[str]
    guessed_name: bool
    note: str = ""


@dataclass(frozen=True, slots=True)
class Ears:
    """A film, and what is needed to understand an amount in it. ``times``: when a word begins, ms."""

    scenes: Sequence[Scene]
    parts: Sequence[str]
    plain: Sequence[str]
    named: Sequence[Mention]
    times: Callable[[int], int]
    table: Finds

    def events(self, heard: Sequence[Spoken]) -> list[Event]:
        """One event for each amount of one thing, in the order said."""
        apart = [part for one in heard if one.kind == "amount" and one.amounts for part in self._apart(one)]
        return [self._event(one, apart) for one in apart]

    def _apart(self, said: Spoken) -> list[Spoken]:
        """A statement cut where it says a part and then the whole."""
        places = self._places(said)
        for n in range(1, len(said.amounts)):
            word = places[n]
            gap = set(self.plain[places[n - 1] : word])
            between = [m for m in self.named if places[n - 1] < m.first and m.last <= places[n]]
            other = [m for m in between if said.match is None or m.row != said.match.row.name]
            twice = any(
                a.unit == said.amounts[n].unit and a.unit.kind != "count" and a.value != said.amounts[n].value
                for a in said.amounts[:n]
            )
            if not twice:
                continue
            named = other[-1].match if other else said.match
            name = " ".join(self.plain[other[-1].first : other[-1].last]) if other else said.ingredient
            if not other and not gap & _SUMS:
                return [replace(said, amounts=said.amounts[:n])]
            times = self.times(word)
            second = replace(
                said, first=word, start=times, amounts=said.amounts[n:], ingredient=name, match=named, size=""
            )
            own = min(places[n - 1] + len(said.amounts[n - 1].text.split()), word)
            return [replace(said, last=own, amounts=said.amounts[:n]), *self._apart(second)]
        return [said]

    def _places(self, said: Spoken) -> list[int]:
        """The first word of each amount in a statement."""
        places: list[int] = []
        at = said.first
        for amount in said.amounts:
            words = [bare(w) for w in amount.text.replace("-", " ").split()]
            found = next((i for i in range(at, said.last) if words and self.plain[i].startswith(words[0])), at)
            places.append(found)
            at = min(found + 1, max(said.last - 1, found))
        return places

    def scene_of(self, word: int) -> int:
        """The index of the sentence a word is in."""
        low, high = 0, len(self.scenes) - 1
        while low < high:
            middle = (low + high + 1) // 2
            if self.scenes[middle].first <= word:
                low = middle
            else:
                high = middle - 1
        return low

    def _event(self, said: Spoken, amounts: Sequence[Spoken]) -> Event:
        n = self.scene_of(said.first)
        scene = self.scenes[n]
        before = max((o.last for o in amounts if o.last <= said.first), default=0)
        around = self.plain[max(said.first - _AROUND, before) : said.last + 2]
        name, row, guessed = said.ingredient, said.match.row if said.match else None, False
        unsure = said.match is not None and said.match.how == "spelling"
        empty = not name or name in _EMPTY or name.startswith("ice cold")
        if empty or unsure:
            mention = self._meant(said, amounts)
            if empty:
                name, row = "", None
            if mention is not None:
                name = " ".join(self.plain[mention.first : mention.last])
                row, guessed = mention.match.row, True
        note = ""
        words = name.split()
        if words and words[0] in self.plain[said.first : said.last]:
            at = self.plain.index(words[0], said.first)
            if at > said.first and self.plain[at - 1] in _TELLING and row is not None:
                name, words = f"{self.plain[at - 1]} {name}", [self.plain[at - 1], *words]
        if len(words) > 1 and words[-1] in _PREPARED:
            name, note = " ".join(words[:-1]), words[-1]
        elif self.plain[said.last : said.last + 1] and self.plain[said.last] in _PREPARED:
            note = self.plain[said.last]  # "four cloves of garlic, minced"
        if row is not None:
            name = self._whole_name(name, row)
        kinds = {*kinds_in(around), *({"optional"} & scene.marks)}
        if _KEPT & set(self.plain[max(said.first - 3, before) : said.first]):
            kinds.add("kept")
        if "pinch" in around and self.plain[said.last : said.last + 1] == ["if"]:
            kinds.add("maybe")
        if (said.first and self.plain[said.first - 1] in _MAKES) or self.plain[max(said.first - 2, 0)] in _MAKES:
            kinds.add("made")
        lead = self.plain[max(said.first - 3, before) : said.first]
        part = next((w for w in ("juice", "zest") if w in lead), "")
        if part and "of" in lead and name and not name.endswith((part, f"{part}s")):
            found = self.table.find(f"{singular(name)} {part}")
            if found is not None:  # "the juice of one lemon, about three tablespoons"
                name, row = f"{singular(name)} {part}", found.row
                kinds.add("fruit")
        stance = scene.stance_at(said.first)
        return Event(said, name, row, self.parts[n], stance, frozenset(kinds), guessed, note)

    def _whole_name(self, name: str, row: Row) -> str:
        """ "whole wheat" is whole wheat flour, "basmati" basmati rice."""
        head = row.name.split()[-1]
        if head in name.split() or len(row.name.split()) < 2:
            return name
        longer = self.table.find(f"{name} {head}")
        same = longer is not None and longer.row.name == row.name and longer.how != "spelling"
        return f"{name} {head}" if same and head in _HEADS else name

    def _meant(self, said: Spoken, amounts: Sequence[Spoken]) -> Mention | None:
        """The ingredient named last before an amount that names none, unless that has an amount of its own."""
        before = [
            m
            for m in self.named
            if said.first - _BACK <= m.first and m.last <= said.first and not made_here(self.plain[m.last - 1])
        ]
        for mention in reversed(before):
            if any(o is not said and o.first <= mention.first < o.last for o in amounts):
                return mention if {"altogether", "total"} & set(self.plain[said.first : said.last + 2]) else None
            return mention
        return None

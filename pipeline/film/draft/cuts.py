"""Statements cut in two where they speak of two things, or say a part and then the whole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from pipeline.film.align.folds import bare
from pipeline.film.draft.mentions import Mention
from pipeline.film.draft.typed import is_sum, say_typed
from pipeline.film.spoken.said import Spoken
from pipeline.measure.grammar import read_amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import compare
from pipeline.measure.record import replace

# Said between two amounts, the second is what is meant. Common practice, no source.
_CORRECTS = frozenset(("no", "sorry", "rather", "actually", "mean", "wait", "correction", "scratch"))
# Behind these words stands the sum of what was said before.
_SUMS = frozenset(["all", "altogether", "total", "so", "makes"])
# Where one says so much more than the other, they are not of one thing: a slip of the tongue is less.
_FAR_OFF = Fraction(7, 10)


@dataclass(frozen=True, slots=True)
class Cuts:
    """A film's words, bare; the foods ``named`` in it; ``times``: when a word begins, ms; ``flat``: no stops;
    ``begins``: the first word of the sentence that a word is in."""

    plain: Sequence[str]
    named: Sequence[Mention]
    times: Callable[[int], int]
    flat: bool
    begins: Callable[[int], int]

    def apart(self, said: Spoken) -> list[Spoken]:
        """One statement, or the two or more that were heard as one."""
        return [part for one in self._unsummed(said) for two in self._ill_matched(one) for part in self._apart(two)]

    def _ill_matched(self, said: Spoken) -> list[Spoken]:
        """Captions without stops, "one cup of sugar 200 grams two eggs": 200 grams are not the eggs'."""
        if said.match is None or len(said.amounts) != 2:
            return [said]
        first, second = said.amounts
        if not self.flat:
            return self._in_two_sentences(said, said.match.row)
        verdict = compare(first, second, said.match.row, said.size)
        if verdict.status != "disagrees" or (second.unit.kind != "count" and abs(verdict.off) < _FAR_OFF):
            return [said]
        word = self._places(said)[1]
        before = self.plain[said.first : word]
        named = said.ingredient.split()[-1]
        if "count" in (first.unit.kind, second.unit.kind):
            named_last = named in self.plain[max(said.last - 2, said.first) : said.last]
            if first.unit.kind == second.unit.kind or not named_last or second.unit.kind != "count":
                return [said]
        elif "of" in before and named in before[before.index("of") :]:
            # "a hundred and forty grams of flour two hundred mil": of what was lost
            return [replace(said, amounts=(first,), last=word)]
        one = replace(said, amounts=(first,), last=word, ingredient="", match=None, size="")
        return [one, replace(said, first=word, start=self.times(word), amounts=(second,))]

    def _in_two_sentences(self, said: Spoken, row: Row) -> list[Spoken]:
        """Two amounts that cannot be of one thing, a sentence each: "butter, eighty five. You can do it all butter,
        that's six ounces"."""
        first, second = said.amounts
        verdict = compare(first, second, row, said.size)
        if "count" in (first.unit.kind, second.unit.kind) or verdict.status != "disagrees":
            return [said]
        word = self._places(said)[1]
        begin = self.begins(word)
        if begin <= said.first:
            return [said]
        one = replace(said, amounts=(first,), last=min(begin, said.last))
        if said.ingredient.split()[-1] in self.plain[word : said.last]:
            one = replace(one, ingredient="", match=None, size="")
        return [one, replace(said, first=word, start=self.times(word), amounts=(second,))]

    def _unsummed(self, said: Spoken) -> list[Spoken]:
        """ "Four cups and one teaspoon of salt" are two amounts: nobody measures one thing by the cup and the
        teaspoon."""
        last = said.amounts[-1]
        words = last.text.lower().split()
        if "and" not in words or not is_sum(last) or not any(word.startswith("teaspoon") for word in words):
            return [said]
        read = [read_amount(part, 0) for part in say_typed(last).split(" + ")]
        parts = [got.amount for got in read if got is not None]
        if len(parts) != 2 or parts[0].unit.name != "cup" or parts[1].unit.name != "teaspoon":
            return [said]
        cut = next((i for i in range(said.first, said.last) if self.plain[i] == "and"), said.first)
        one = replace(said, amounts=(*said.amounts[:-1], parts[0]), last=cut, ingredient="", match=None)
        return [one, replace(said, first=cut + 1, start=self.times(cut + 1), amounts=(parts[1],))]

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
            if not twice and not (other and self._of_another(said, other[-1], word)):
                continue
            named = other[-1].match if other else said.match
            name = " ".join(self.plain[other[-1].first : other[-1].last]) if other else said.ingredient
            if not other and gap & _CORRECTS:
                return self._apart(replace(said, amounts=said.amounts[n:]))
            if not other and not gap & _SUMS:
                return [replace(said, amounts=said.amounts[:n])]
            times = self.times(word)
            second = replace(
                said, first=word, start=times, amounts=said.amounts[n:], ingredient=name, match=named, size=""
            )
            own = min(places[n - 1] + len(said.amounts[n - 1].text.split()), word)
            return [replace(said, last=own, amounts=said.amounts[:n]), *self._apart(second)]
        return [said]

    def _of_another(self, said: Spoken, food: Mention, word: int) -> bool:
        """ "Six cloves, and ginger the same by eye, that's twenty grams": another food begins between two amounts."""
        own = said.match.row.name if said.match else ""
        if {*own.split()} & {*food.row.split()} or self.begins(food.first) != self.begins(word):
            return False
        if self.flat:
            return food.last == word
        return self.plain[food.first - 1] in ("and", "then", "plus")

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

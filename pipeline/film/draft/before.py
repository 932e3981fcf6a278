"""The food named before an amount that it is of, where it names none itself or seems to be of another one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pipeline.film.draft.mentions import Mention
from pipeline.film.draft.naming import weighs
from pipeline.film.draft.others import PEOPLE
from pipeline.film.draft.parts import made_here
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.measure.ingredients import Row

#: How far back the ingredient of an amount that names none is looked for, in words.
BACK = 14
#: A food named so many words before an amount may be what it is of.
RIGHT_BEFORE = 3
# Before the food that a sentence begins with, and behind it. Before a food that only tells more of that one.
_LEADS = word_set("and now then the so okay ok right next but also your my our some")
_TURNS = word_set("first next now then too is are has have must wants want goes go needs need comes come it's that's")
_ARTICLES = word_set("the a an not no off like")
_ANEW = word_set("and then plus or")
# A food that is called has so many words at most, and the last of them more letters.
_CALLED, _SHORT = 2, 3
# So many sentences and words back a food is looked for where it is the only one.
_SENTENCES, _FAR = 4, 40


@dataclass(frozen=True, slots=True)
class Before:
    """A film's bare words, the foods ``named`` in it, and those ``likened`` only; ``ends``: a stop or a comma behind a
    word; ``begins``: the first word of the sentence that a word is in; ``flat``: the captions have no stops."""

    plain: Sequence[str]
    named: Sequence[Mention]
    ends: Sequence[bool]
    begins: Callable[[int], int]
    flat: bool
    likened_only: Sequence[Mention]

    def likened(self, said: Spoken, row: Row | None) -> bool:
        """Whether the name stands before the amount, in a likeness only ("soft, like hand cream. 150 grams of it")."""
        if row is None or not said.ingredient or said.ingredient.split()[-1] in self.plain[said.first : said.last + 1]:
            return False
        before = [m for m in self.likened_only if said.first - 2 * BACK <= m.first < said.first]
        return any(m.row == row.name for m in before)

    def nearer(self, said: Spoken, row: Row | None) -> Mention | None:
        """The food that an amount is of where it seems to be of one that stands farther off, or of what that goes into:
        "the chicken. Thighs, one kilo", "salt in the water, one teaspoon"; None where it may be what it seems."""
        if row is None or self.flat or not said.ingredient:
            return None
        if said.ingredient.split()[-1] in self.plain[said.first : said.last + 1]:
            return None
        before = [m for m in self.named if said.first - 2 * BACK <= m.first and m.last <= said.first]
        own = next((m for m in reversed(before) if m.row == row.name), None)
        if own is None:
            return None
        if own.placed:
            begin = self.begins(own.first)
            return next((m for m in reversed(before) if begin <= m.first < own.first and not m.placed), None)
        here = self.begins(said.first)
        if own.first >= here:
            return None
        return next((m for m in reversed(before) if m.first >= here and not m.placed), None)

    def ahead_of_comma(self, said: Spoken, row: Row | None, amounts: Sequence[Spoken]) -> Mention | None:
        """ "Olive oil, say two tablespoons, salt": the food right before an amount, where a comma parts it from the
        next one."""
        if row is None or self.flat or not said.ingredient or "of" in self.plain[said.first : said.last]:
            return None
        name = said.ingredient.split()
        at = next((i for i in range(said.last - 1, said.first, -1) if self.plain[i] == name[0]), 0)
        if not at or not self.ends[at - 1]:
            return None
        before = next((m for m in reversed(self.named) if m.last <= said.first), None)
        if before is None or before.row == row.name or said.first - before.last > 1:
            return None
        return None if any(o is not said and o.first <= before.first < o.last for o in amounts) else before

    def weighed(self, said: Spoken, row: Row | None, amounts: Sequence[Spoken]) -> Mention | None:
        """ "Butter three tablespoons 42 grams leeks": the food named right before a weight and a volume that can be of
        it, and not of what is named behind them."""
        if weighs(said.amounts, row, said.size) != "disagrees" and (row is not None or said.ingredient == ""):
            return None
        for mention in reversed(self.named):
            if mention.last > said.first or said.first - mention.last > RIGHT_BEFORE:
                continue
            taken = any(o is not said and o.first <= mention.first < o.last for o in amounts)
            same = row is not None and mention.row == row.name
            return None if taken or same or weighs(said.amounts, mention.match.row) != "agrees" else mention
        return None

    def meant(self, said: Spoken, amounts: Sequence[Spoken]) -> Mention | None:
        """The ingredient named last before an amount that names none, unless that has an amount of its own."""
        # so far back; or farther, in the same sentence or the one before, where but one food is named there
        here = self.begins(said.first)
        since = said.first - BACK
        for begin in (here, self.begins(here - 1) if here and not self.flat else here):
            named = {m.row for m in self.named if begin <= m.first < said.first}
            if named:
                since = min(since, max(begin, said.first - 2 * BACK)) if len(named) == 1 else since
                break
        before = [
            self.topic_of(m)
            for m in self.named
            if since <= m.first
            and m.last <= said.first
            and not made_here(self.plain[m.last - 1])
            and not only_begun(said, self.plain[m.last - 1])
        ]
        for mention in reversed(before):
            if any(o is not said and o.first <= mention.first < o.last for o in amounts):
                own = self.plain[said.first : said.last + 2]
                again = {"altogether", "total"} & {*own} or own[-2:] in (["of", "them"], ["of", "it"], ["of", "those"])
                return mention if again else None
            return mention
        return None if self.flat else self._farther(said, amounts)

    def topic(self, word: int) -> Mention | None:
        """The food that the sentence of a word begins with, "White pepper, …", "Now the salt first, …"."""
        at = self.begins(word)
        while at < word and self.plain[at] in _LEADS:
            at += 1
        food = next((m for m in self.named if m.first == at), None)
        if food is None or food.last > word:
            return None
        return food if self.ends[food.last - 1] or self.plain[food.last] in _TURNS else None

    def topic_of(self, mention: Mention) -> Mention:
        """The food that its sentence begins with where a food is only said of that one ("pepper, the whole corns",
        "salt, the coarse one, not the table salt", "breadcrumbs, off a loaf"); else the food itself."""
        topic = self.topic(mention.first)
        led = {*self.plain[max(mention.first - 2, 0) : mention.first]}
        return topic if topic is not None and led & _ARTICLES and not led & _ANEW else mention

    def _farther(self, said: Spoken, amounts: Sequence[Spoken]) -> Mention | None:
        """The one food that the few sentences before a spoonful speak of, where nothing else was measured since: "while
        hot only, ghee. A small brush, quick, on one side. For all ten I am taking two tablespoons"; before another
        amount, the one that a sentence begins with ("Coconut. Now, this is a fresh one. You grate it … one cup")."""
        spoon = said.amounts[0].unit.name in ("teaspoon", "tablespoon")
        if not spoon and said.amounts[0].unit.kind == "count":
            return None
        since = max(said.first - _FAR, *(o.last for o in amounts if o.last <= said.first), 0)
        end = begin = self.begins(said.first)
        for n in range(_SENTENCES):
            if not begin or end <= since:
                return None
            begin = self.begins(begin - 1)
            here = [m for m in self.named if max(begin, since) <= m.first < end and not m.placed]
            here = [m for m in here if not made_here(self.plain[m.last - 1])]
            made = not spoon and any(made_here(word) for word in self.plain[begin:end])
            if made:
                return None
            if here:
                near = spoon or not n or self.topic(here[0].last) is here[0]
                return here[-1] if near and len({m.row for m in here}) == 1 else None
            end = begin
        return None

    def topic_unknown(self, said: Spoken) -> str:
        """What the sentence before an amount calls and says nothing of, "Saltfish. Eight ounces", where the film speaks
        of it again; "" where there is none."""
        here = self.begins(said.first)
        begin = self.begins(here - 1) if here and not self.flat else here
        while begin < here and self.plain[begin] in _LEADS:
            begin += 1
        words = self.plain[begin:here]
        known = any(m.first < said.first and m.last > begin for m in self.named)
        if not 0 < len(words) <= _CALLED or known or any(self.plain[here : said.first]) or "" in words:
            return ""
        often = sum(1 for word in self.plain if word == words[-1]) > 1
        return " ".join(words) if often and len(words[-1]) > _SHORT and not PEOPLE & {*words} else ""


def only_begun(said: Spoken, name: str) -> bool:
    """ "One tea, one teaspoon": the word is the beginning of the measure that was then said."""
    unit = said.amounts[0].unit.name
    return len(name) > 2 and unit != name and unit.startswith(name)

"""What an amount is of: the name said with it, made whole; or the food named before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pipeline.film.align.folds import stop_words
from pipeline.film.draft.before import BACK, RIGHT_BEFORE, Before, only_begun
from pipeline.film.draft.mentions import Mention
from pipeline.film.draft.naming import COLOURS, EMPTY, SMALL, by_sound, completed, names_nothing, whole_name
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.measure.ingredients import Row
from pipeline.measure.units import EACH
from pipeline.recipe.names import singular

# Before a name these are more than chatter: plain flour is not any flour.
_TELLING = frozenset(("plain", "fresh", "extra-virgin"))
# Behind a name these say how it is prepared.
_PREPARED = word_set("chopped sliced diced minced grated crushed melted softened shredded halved quartered peeled")
# These say but half of it: "an onion cut in slices", "parmesan finely grated".
_HOW = word_set("cut finely thinly roughly coarsely freshly good lightly well nicely ready")
# "The white stuff", "the red ones".
_STUFF = word_set("stuff one ones kind sort")
# Words that a cook leaves out when she speaks, and that the page needs.
_HEADS = frozenset(("flour", "rice"))
# Pieces that few foods have. Common practice, no source.
_PIECES = word_set("clove sprig stalk rasher")
# What is taken of a fruit, by the words for it. Common practice, no source.
_OF_FRUIT = {
    "juice": "juice", "squeezed": "juice", "zest": "zest", "zested": "zest", "skin": "zest", "rind": "zest",
    "peel": "zest", "juiced": "juice",
}  # fmt: skip
_OUTSIDE = word_set("yellow outside outsides green orange")
_JUST = word_set("only just none")


@dataclass(frozen=True, slots=True)
class Called:
    """``guessed``: the food was not named with the amount; ``note``: how it is prepared; ``heard_as``: the word that
    its name was misheard for; ``of_fruit``: it is a fruit's juice or zest, and the fruit was named."""

    name: str
    row: Row | None
    guessed: bool
    note: str
    heard_as: str
    of_fruit: bool


@dataclass(frozen=True, slots=True)
class Caller:
    """``back``: the film's words and the foods named in them; ``table``: the ingredient table."""

    back: Before
    table: Finds

    @property
    def plain(self) -> Sequence[str]:
        return self.back.plain

    @property
    def named(self) -> Sequence[Mention]:
        return self.back.named

    def call(self, said: Spoken, amounts: Sequence[Spoken], before: int) -> Called:
        """What ``said`` is of. ``amounts``: all that were heard; ``before``: where the amount before it ends."""
        name, row, guessed = said.ingredient, said.match.row if said.match else None, False
        unsure = said.match is not None and said.match.how == "spelling"
        note = ""
        heard_as = ""
        if name:
            name, row = self._trimmed(name, row)
        doubtful = row is None or (unsure and self.back.flat)  # a machine misspells nothing: it takes another word
        if name and doubtful and not name.startswith("ice cold"):
            name, row, heard_as = self._known(said)
            unsure = False
        bare_count = all(a.unit is EACH for a in said.amounts)
        near = self.plain[max(said.first - RIGHT_BEFORE - 1, 0) : said.last + 1]
        if bare_count and name and not any(word in near for word in name.split()):
            name, row = "", None
        if row is not None and (better := self._counted_as(said, row)) is not None:
            name, row = better
        if name and self._of_it(said, name):
            unsure = True  # "toss those with sugar. Two tablespoons of it"
        if name and (better := self._of_topic(said, name)) is not None:
            name, row = better
        if not name:
            name, row = self._of_kind(said)
        if not name:
            name, row = self._as_before(said, amounts)
        if name and (only_begun(said, name) or name.split()[0] in SMALL):
            name, row = "", None
        empty = not name or name in EMPTY or name.startswith("ice cold") or self.back.likened(said, row)
        nearer = self.back.nearer(said, row)
        lighter = nearer or self.back.weighed(said, row, amounts) or self.back.ahead_of_comma(said, row, amounts)
        if lighter is not None:
            name, row, guessed = lighter.name(self.plain), lighter.match.row, lighter is not nearer
        elif empty or unsure:
            mention = self.back.meant(said, amounts)
            if said.ingredient and not name and mention is not None and said.first - mention.last > RIGHT_BEFORE:
                mention = None  # what was named was no food: anything farther off would be a guess
            if mention is not None and bare_count and said.first - mention.last > RIGHT_BEFORE:
                mention = None  # "a cabbage. Eleven people watched it, and I knew eight of them"
            if empty:
                name, row = "", None
            if mention is not None:
                name = mention.name(self.plain)
                close = said.first - mention.last <= 1 and self.back.begins(said.first) <= mention.first
                row, guessed = mention.match.row, self.back.flat or not close
        if not name and not names_nothing(called := self.back.topic_unknown(said), self.back.flat, True):
            name, guessed = called, True
        words = name.split()
        if words and words[0] in self.plain[said.first : said.last]:
            at = self.plain.index(words[0], said.first)
            if at > said.first and self.plain[at - 1] in _TELLING and row is not None:
                name, words = f"{self.plain[at - 1]} {name}", [self.plain[at - 1], *words]
        if len(words) > 1 and (words[-1] in _PREPARED or self._done_to(words, row)):
            name, note = " ".join(words[:-1]), "" if words[-1] in _HOW else words[-1]
        elif self.plain[said.last : said.last + 1] and self.plain[said.last] in _PREPARED:
            note = self.plain[said.last]  # "four cloves of garlic, minced"
        if row is not None:
            name = self._whole_name(name.removesuffix("'s"), row)
        words = name.split()
        if len(words) > 1 and words[0] == "sized":
            name = " ".join(words[1:])  # "three medium sized onions"
        for word in self.plain[said.first : said.last]:
            name = name.replace(word.replace("-", " "), word) if "-" in word else name
        if row is not None and self.table.find(name) is None:
            name = row.name  # "spuds": the page says it as the table does
        of_fruit = False
        if part := self._of_fruit(said, name, before):
            found = self.table.find(f"{singular(name)} {part}")
            if found is not None and found.how != "spelling":
                name, row, of_fruit = f"{singular(name)} {part}", found.row, True
        return Called(name, row, guessed, note, heard_as, of_fruit)

    def _of_fruit(self, said: Spoken, name: str, before: int) -> str:
        """Whether it is the fruit's "juice" or "zest": "the juice of one lemon", "lemon, the juice, two tablespoons";
        "" where it is the fruit. ``before``: where the amount before it ends."""
        kind = said.amounts[0].unit.kind
        if not name or name.split()[-1] in ("juice", "zest") or kind not in ("count", "volume"):
            return ""
        if kind == "count":
            lead = self.plain[max(said.first - RIGHT_BEFORE, before) : said.first]
            of = next((w for w in ("juice", "zest") if w in lead), "") if "of" in lead else ""
            return of or ("" if self.back.flat else self._only_part(said, before))
        near = self.plain[max(said.first - BACK // 2, before) : said.last + 2]
        return next((_OF_FRUIT[word] for word in near if word in _OF_FRUIT), "")

    def _only_part(self, said: Spoken, before: int) -> str:
        """ "In goes the zest, and it's two lemons", "one lemon, only the yellow from it", "two limes, juiced"; "" where
        both are wanted, or neither."""
        begin = max(self.back.begins(said.first), before)
        end = said.last
        while end < min(said.last + BACK // 2, len(self.plain)) and self.back.begins(end) <= said.first:
            end += 1
        near = [*self.plain[begin : said.first], *self.plain[said.last : end]]
        told = {_OF_FRUIT[word] for word in near if word in _OF_FRUIT}
        if not told and {*near} & _OUTSIDE and {*near} & _JUST:
            told = {"zest"}
        return told.pop() if len(told) == 1 else ""

    def _counted_as(self, said: Spoken, row: Row) -> tuple[str, Row | None] | None:
        """The food right before an amount where what was taken for it has no such pieces: "two cloves" of garlic, and
        of no cumin; no name where there is none. None where its name may stand."""
        unit = said.amounts[0].unit.name
        if unit not in _PIECES or unit in row.counts or len(said.amounts) > 1:
            return None
        food = next((m for m in self.named if 0 <= said.first - m.last <= RIGHT_BEFORE), None)
        if food is not None and unit in food.match.row.counts:
            return " ".join(self.plain[food.first : food.last]), food.match.row
        return "", None

    def _of_topic(self, said: Spoken, name: str) -> tuple[str, Row | None] | None:
        """ "Coriander, the seed, one tablespoon": what a name is in full that only tells of the food that its sentence
        begins with; None where it may stand."""
        own = next((m for m in reversed(self.named) if m.last <= said.first and name in m.name(self.plain)), None)
        if own is None or self.back.begins(own.first) != self.back.begins(said.first):
            return None
        topic = self.back.topic_of(own)
        if topic.row == own.row or name.endswith(topic.name(self.plain)):
            return None
        whole = f"{singular(topic.name(self.plain))} {name}"
        known = self.table.find(whole)
        if known is not None and known.how != "spelling":
            return whole, known.row
        return None

    def _of_it(self, said: Spoken, name: str) -> bool:
        """Whether an amount is "of it", so of what was named last, and the name stands elsewhere."""
        near = self.plain[said.first : said.last + 2]
        return name.split()[-1] not in near and any(a == "of" and b in ("it", "that") for a, b in pairwise(near))

    def _as_before(self, said: Spoken, amounts: Sequence[Spoken]) -> tuple[str, Row | None]:
        """ "Two tablespoons more of the cordial": the elderflower cordial that was measured before."""
        behind = self.plain[said.last - 1 : said.last + 4]
        word = next((c for a, b, c in zip(behind, behind[1:], behind[2:], strict=False) if (a, b) == ("of", "the")), "")
        before = [o for o in amounts if o.last <= said.first and o.ingredient.split()[-1:] == [word]]
        return (before[-1].ingredient, before[-1].match.row if before[-1].match else None) if before else ("", None)

    def _done_to(self, words: Sequence[str], row: Row | None) -> bool:
        """Whether the last word says what was done to the food: "flour spooned", "sweet potato cubed"."""
        done = words[-1].endswith(("ed", "ly")) and not words[-1].endswith("eed")
        if row is None or not (done or words[-1] in _HOW):
            return False
        known = self.table.find(" ".join(words[:-1]))
        return known is not None and known.how != "spelling" and known.row.name == row.name

    def _trimmed(self, name: str, row: Row | None) -> tuple[str, Row | None]:
        """ "Coconut milk the full fat" is coconut milk: what the table knows up to a word that names nothing."""
        if name.endswith("'s") and (known := self.table.find(name.removesuffix("'s"))) is not None:
            return name.removesuffix("'s"), known.row
        words = name.split()
        for size in range(1, len(words)):
            if words[size] not in stop_words() or words[size] == "of":
                continue
            known = self.table.find(" ".join(words[:size]))
            if known is not None and known.how != "spelling" and (row is None or known.row.name == row.name):
                return " ".join(words[:size]), known.row
        return name, row

    def _known(self, said: Spoken) -> tuple[str, Row | None, str]:
        """What the table makes of a name that it does not know as it was heard, and the word misheard for it; no name
        where it is none."""
        name = whole_name(said.ingredient)
        if name != said.ingredient and (known := self.table.find(name)) is not None:
            return name, known.row, ""
        words = name.split()
        # a machine takes one word for another; who writes captions by hand does not
        food = by_sound(name, (self.plain[m.last - 1] for m in self.named)) if self.back.flat else ""
        if food and (found := self.table.find(food)) is not None:
            return food, found.row, words[-1]
        last = next((i for i in range(said.last - 1, said.first - 1, -1) if self.plain[i] == words[0]), said.last)
        of = last > 0 and self.plain[last - 1] == "of"
        if names_nothing(name, self.back.flat, of):
            return "", None, ""
        name, row = completed(name, self._named_before(said), self.table)
        return ("", None, "") if row is None and name in COLOURS else (name, row, "")

    def _named_before(self, said: Spoken) -> list[str]:
        since = said.first - 2 * BACK
        return [" ".join(self.plain[m.first : m.last]) for m in self.named if since <= m.first < said.first]

    def _of_kind(self, said: Spoken) -> tuple[str, Row | None]:
        """ "Half a cup of the white stuff": a kind of what was named before."""
        own = self.plain[said.first : said.last]
        kind = next((a for a, b in pairwise(own) if b in _STUFF and a not in stop_words()), "") if "of" in own else ""
        name, row = completed(kind, self._named_before(said), self.table, True) if kind else ("", None)
        return (name, row) if row is not None else ("", None)

    def _whole_name(self, name: str, row: Row) -> str:
        """ "whole wheat" is whole wheat flour, "basmati" basmati rice."""
        head = row.name.split()[-1]
        if head in name.split() or len(row.name.split()) < 2:
            return name
        longer = self.table.find(f"{name} {head}")
        same = longer is not None and longer.row.name == row.name and longer.how != "spelling"
        return f"{name} {head}" if same and head in _HEADS else name

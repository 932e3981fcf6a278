"""Each amount heard with all that tells what it is: its ingredient, its part of the dish, the talk around it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from pipeline.film.draft.before import Before
from pipeline.film.draft.called import Caller
from pipeline.film.draft.chains import names_first
from pipeline.film.draft.cuts import Cuts
from pipeline.film.draft.made import is_made
from pipeline.film.draft.mentions import Mention, part_of_more
from pipeline.film.draft.scenes import Scene, kinds_in
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.units import EACH

# Words before and behind an amount that tell what kind it is ("the rest of the …, that's one teaspoon").
_AROUND = 5
# "Keep a cup of the cooking water": no ingredient. Common practice, no source.
_KEPT = word_set("keep save reserve saved kept reserved")
# Before what another thing stands in for: "instead of the parsley", "if you haven't any". Common practice, no source.
_MISSING = re.compile(
    r"\b(?:instead of|in place of|without|no|don't have|haven't(?: got)?|can't (?:have|eat|get|find)|skip|hate)"
    r"(?: (?:the|any|a|an|your))?$"
)
# What is now, whatever was told before it.
_IS = frozenset((a, b) for a in ("and", "so") for b in ("it's", "that's"))
_WE = word_set("we i you we'll you'll")
_NEED = word_set("need want use take")
# "Flour, 200 grams, and oats, the same again": so soon after, the number is the same and the food is another.
_AS_MUCH_MS = 12_000
# An aside goes on for so many sentences where they speak of the same thing.
_ASIDE_GOES_ON = 2
# "Put it on a bun": where something goes is no amount of it.
_PLACES = word_set("on onto in into from off under over inside like per")


@dataclass(frozen=True, slots=True)
class Event:
    """``kinds``: what the words around say of it (data/talk.txt, and "kept"); ``guessed_name``: its ingredient was not
    named with it; ``note``: how that is prepared; ``heard_as``: the word that its name was misheard for; ``instead``:
    what it takes back; ``own_name``: the food is named among its own words."""

    said: Spoken
    name: str
    row: Row | None
    part: str
    stance: str
    kinds: frozenset[str]
    guessed_name: bool
    note: str = ""
    heard_as: str = ""
    instead: Spoken | None = None
    own_name: bool = True


@dataclass(frozen=True, slots=True)
class Ears:
    """A film, and what is needed to understand an amount in it. ``times``: when a word begins, ms; ``ends``: whether
    a stop or a comma stands behind it; ``flat``: its
    captions have no stops; ``likened``: foods named only to say what something is like."""

    scenes: Sequence[Scene]
    parts: Sequence[str]
    plain: Sequence[str]
    named: Sequence[Mention]
    times: Callable[[int], int]
    table: Finds
    ends: Sequence[bool]
    flat: bool = False
    likened: Sequence[Mention] = ()

    def events(self, heard: Sequence[Spoken]) -> list[Event]:
        """One event for each amount of one thing, in the order said."""
        cut = Cuts(self.plain, self.named, self.times, self.flat, self._begins).apart
        apart = [part for one in heard if one.kind == "amount" and one.amounts for part in cut(one)]
        if self.flat:
            apart = names_first(apart, self.plain, self.named)
        caller = self._caller
        return self._asides_on(_as_much([self._event(one, apart, caller) for one in apart]))

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

    def _event(self, said: Spoken, amounts: Sequence[Spoken], caller: Caller) -> Event:
        n = self.scene_of(said.first)
        scene = self.scenes[n]
        before = max((o.last for o in amounts if o.last <= said.first), default=0)
        since = max(said.first - _AROUND, before, 0 if self.flat else scene.first)
        around = [*self.plain[since : said.last + 2]]
        around += [""] * (said.last + 2 - len(self.plain))
        called = caller.call(said, amounts, before)
        kinds = {*kinds_in(around), *({"optional"} & scene.marks)}
        if "more" in kinds and "more" not in kinds_in(around[:-2]):
            kinds.discard("more")  # "fifty grams of butter, and another onion"
        said_so = " ".join(self.plain[said.first : said.last + 4])
        if "part" in kinds and called.name and re.search(r" of (?:that|it) (?:as well|too)\b", said_so):
            kinds.discard("part")  # "cider vinegar, two tablespoons of that as well"
        if _KEPT & set(self.plain[max(said.first - 3, before) : said.first]):
            kinds.add("kept")
        counted = said.amounts[0].unit.kind == "count" and said.amounts[0].value == 1
        if counted and self.plain[said.first] in ("a", "an") and self.plain[said.first - 1] in _PLACES and said.first:
            kinds.add("made")  # "put it on a bun", "onto a rack"
        if "pinch" in around and self.plain[said.last : said.last + 1] == ["if"]:
            kinds.add("maybe")
        if is_made(said, self.plain, self.ends, self.flat):
            kinds.add("made")
        if called.of_fruit:
            kinds.add("fruit")
        if all(a.unit is EACH for a in said.amounts) and part_of_more(self.plain, self.ends, said.last):
            kinds.add("made")  # "two bacon sandwiches"
        stance = scene.stance_at(said.first)
        if (
            stance == "instead"
            and "told" in scene.marks
            and _here(self.plain[max(said.first - _AROUND, 0) : said.first])
        ):
            stance = "use"  # "she poured it in her hand, so I measured that, and it's two teaspoons"
        if stance == "use" and called.row is not None and self._of_aside(n, called.row):
            stance = "instead"
        return Event(
            said,
            called.name,
            called.row,
            self.parts[n],
            stance,
            frozenset(kinds),
            called.guessed,
            called.note,
            called.heard_as,
            own_name=bool({*called.name.split()[-1:]} & {*self.plain[said.first : said.last]}),
        )

    def _of_aside(self, n: int, row: Row) -> bool:
        """Whether sentence ``n`` goes on with what the one before it put in another's place ("… with dill instead of
        the parsley. One tablespoon of dill is plenty"): the food was not named before that."""
        before = next(
            (s for s in self.scenes[max(n - _ASIDE_GOES_ON, 0) : n] if s.stance in ("instead", "asked")), None
        )
        own = [m.first for m in (*self.named, *self.likened) if m.row == row.name]
        if before is None or not own or not before.first <= own[0] < before.last:
            return False
        return not _MISSING.search(" ".join(self.plain[max(own[0] - _AROUND, before.first) : own[0]]))

    def _asides_on(self, events: Sequence[Event]) -> list[Event]:
        """The events; an amount that takes its name from an aside right before it, of what was measured already, is of
        that aside ("if you want it thin, leave out half the cornflour. So half a tablespoon")."""
        result: list[Event] = []
        for event in events:
            said, n = event.said, self.scene_of(event.said.first)
            before = reversed(self.scenes[max(n - _ASIDE_GOES_ON, 0) : n])
            aside = next((scene for scene in before if scene.stance in ("instead", "asked")), None)
            own = [m for m in self.named if event.row and m.row == event.row.name and m.first < said.last]
            if (
                aside is not None
                and event.stance == "use"
                and not self.flat
                and own
                and aside.first <= own[-1].first < aside.last
                and any(o.row and event.row and o.row.name == event.row.name for o in result)
            ):
                event = replace(event, stance="instead")
            result.append(event)
        return result

    def _begins(self, word: int) -> int:
        return self.scenes[self.scene_of(word)].first

    @property
    def _caller(self) -> Caller:
        return Caller(Before(self.plain, self.named, self.ends, self._begins, self.flat, self.likened), self.table)


def _here(led: Sequence[str]) -> bool:
    """Whether words before an amount come back to here and now: "and it's", "but we only need"."""
    taken = any(a in _WE and (b in _NEED or c in _NEED) for a, b, c in zip(led, led[1:], [*led[2:], ""], strict=False))
    return tuple(led[-2:]) in _IS or taken


def _as_much(events: Sequence[Event]) -> list[Event]:
    """The events; where one is as much as the one before it of another food, "again" and "the same" speak of that
    ("baking soda, one teaspoon … salt, one teaspoon again")."""
    result: list[Event] = []
    for event in events:
        before = result[-1] if result else None
        if (
            before is not None
            and "again" in event.kinds
            and not event.guessed_name
            and event.name
            and (before.row or before.name) != (event.row or event.name)
            and event.said.start - before.said.end < _AS_MUCH_MS
            and any(_equal(a, b) for a in before.said.amounts for b in event.said.amounts)
        ):
            event = replace(event, kinds=(event.kinds - {"again"}) | {"as much"})
        result.append(event)
    return result


def _equal(a: Amount, b: Amount) -> bool:
    return (a.low, a.high) == (b.low, b.high) and (a.unit == b.unit or EACH in (a.unit, b.unit))

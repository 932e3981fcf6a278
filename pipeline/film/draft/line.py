"""One ingredient line in the making, and whether something said is of the same thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from fractions import Fraction

from pipeline.film.align.folds import fold, pale_words
from pipeline.film.draft.alike import agree, size_of
from pipeline.film.draft.events import Event
from pipeline.film.draft.typed import say_typed
from pipeline.film.spoken.said import Spoken
from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import compare
from pipeline.measure.record import replace
from pipeline.measure.units import EACH
from pipeline.recipe.names import singular

# Two words that a machine may take for one another have so many of their letters in common (difflib's ratio).
_SOUNDS_ALIKE = 0.55
# A number that is so far off what is weighed is no count. Common practice, no source.
_NO_COUNT = Fraction(3)
# Animals whose cuts a cook calls by their name alone.
_MEATS = ("chicken", "pork", "beef", "lamb", "turkey", "duck", "veal", "salmon", "cod")


@dataclass(slots=True)
class Line:
    """One ingredient line in the making. ``heard``: the statements it rests on; ``parts_said``: amounts that are a
    part of it, by the Spoken's first word; ``doubts``: what the cook should look at, each a short sentence."""

    part: str
    name: str
    row: Row | None
    amounts: list[Amount]
    size: str
    start: int
    listed: bool
    note: str = ""
    recap: bool = False
    optional: bool = False
    summed: bool = False
    heard: list[Spoken] = field(default_factory=list)
    parts_said: dict[int, tuple[Amount, ...]] = field(default_factory=dict)
    doubts: list[str] = field(default_factory=list)

    def agrees(self, said: Spoken) -> bool:
        """Whether what was said means this line's amount."""
        return agree(self.amounts, said.amounts, self.row, self.size or said.size)

    @property
    def head(self) -> str:
        return self.name.split()[-1] if self.name else ""


def own_amounts(event: Event) -> list[Amount]:
    """The amounts without "two or three oranges" of what is said of their zest."""
    amounts = list(event.said.amounts)
    if event.name.split()[-1:] and event.name.split()[-1] in ("zest", "juice"):
        amounts = [a for a in amounts if a.unit is not EACH or "fruit" in event.kinds] or amounts
    measured = next((a for a in amounts if a.unit.kind == "mass"), None)
    if measured is not None and amounts[0].unit is EACH and not event.said.size:
        verdict = compare(amounts[0], measured, event.row)
        if verdict.status == "disagrees" and abs(verdict.off) > _NO_COUNT:
            return amounts[1:]  # "twenty five deka of potatoes, two hundred fifty gram": of a unit not heard
    return amounts


def without_stray_sticks(said: Spoken, row: Row | None) -> Spoken:
    """Without "one stick" of what has no sticks: captions lost whose it was."""
    if row is None or "stick" in row.counts:
        return said
    kept = tuple(a for a in said.amounts if a.unit.name != "stick")
    return replace(said, amounts=kept) if kept else said


def another_kind(name: str, listed: str) -> bool:
    """Whether a name says of what is listed that it is of another kind: powdered sugar, but not fine salt."""
    more = set(name.split()) - set(listed.split())
    return bool(more) and not all(fold(word) in pale_words() for word in more)


def fuller(one: str, other: str) -> bool:
    """Whether ``one`` says more of the same: "bread flour" than "flour", "lemon juice" than "lemon"."""
    return len(one) > len(other) and (one.endswith(f" {other}") or one.startswith(f"{other} "))


def same_thing(line: Line, event: Event) -> bool:
    if not event.name:
        return False
    if line.row is not None and event.row is not None:
        if line.row.name == event.row.name:
            return True
        kinds = {line.row.name, event.row.name}
        if any(meat in kinds and any(kind.startswith(f"{meat} ") for kind in kinds) for meat in _MEATS):
            return line.agrees(event.said)  # "a kilo of chicken" are the thighs
        one, other = sorted((line.name, event.name), key=len)
        if other in (f"{singular(one)} juice", f"{singular(one)} zest", f"{one} juice", f"{one} zest"):
            # "an orange" on the list is "the zest of the orange" later on
            return line.listed or all(a.unit.kind != "count" for a in event.said.amounts)
        return " " not in one and (other.endswith(f" {one}") or (len(one) > 4 and other.endswith(one)))
    if event.name == line.name or event.name.split()[-1] == line.head:
        return True
    # "one and a half cups of seminar" after a list with as much semolina: misheard
    alike = SequenceMatcher(None, event.name, line.name).ratio() >= _SOUNDS_ALIKE
    return event.row is None and line.row is not None and alike and line.agrees(event.said)


def roomiest(lines: Sequence[Line], said: Spoken) -> Line:
    """The line whose amount is nearest above what was said."""

    def room(line: Line) -> tuple[bool, Fraction]:
        a, b = size_of(line.amounts, line.row), size_of(said.amounts, line.row)
        if a is None or b is None or a[0] != b[0]:
            return True, Fraction(0)
        return a[1] < b[1], abs(a[1] - b[1])

    return min(lines, key=room)


def say(said: Spoken) -> str:
    return " or ".join(say_typed(amount) for amount in said.amounts)

"""The ingredient lines of a draft: what was said of each ingredient, put together from all over the film."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from pipeline.film.align.folds import bare
from pipeline.film.clock import say_moment
from pipeline.film.draft.mentions import Mention
from pipeline.film.draft.parts import MAIN, part_names
from pipeline.film.draft.scenes import Scene, kinds_in
from pipeline.film.draft.typed import say_typed
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.things import Finds
from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import compare
from pipeline.measure.units import EACH, factor

# Words before and behind an amount that tell what kind it is ("the rest of the …, that's one teaspoon").
_AROUND = 5
# The same amount of the same thing in another part of the dish, said so long after, is a second one.
_SECOND_MS = 40_000
# How far back the ingredient of an amount that names none is looked for, in words.
_BACK = 14
# Words that a cook leaves out when she speaks, and that the page needs.
_HEADS = frozenset(("flour", "rice"))
# Words in the place of a name that name nothing.
_EMPTY = frozenset(
    "it them that this those these each one ones stuff everything which what both meat mixture mix batter liquid "
    "speck thing things mine yours".split()
)
# Parts of a dish that are ingredients as well. Common practice, no source.
_RAW = frozenset("rice pasta oil cream".split())
# "Keep a cup of the cooking water": no ingredient. Common practice, no source.
_KEPT = frozenset("keep save reserve saved kept reserved".split())


# Units of a piece, of which nobody writes a line where the thing is measured elsewhere.
_LOOSE = frozenset("bag jar drop piece sheet handful knob box bottle packet cube ball strip square scoop".split())
# Behind these words stands the sum of what was said before.
_SUMS = frozenset("all altogether total so makes".split())
# Water for boiling is no ingredient line: so much of it (ml) goes down the sink. Common practice, no source.
_BOILING = 1_800


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
    recap: bool = False
    optional: bool = False
    summed: bool = False
    heard: list[Spoken] = field(default_factory=list)
    parts_said: dict[int, tuple[Amount, ...]] = field(default_factory=dict)
    doubts: list[str] = field(default_factory=list)

    @property
    def head(self) -> str:
        return self.name.split()[-1] if self.name else ""


@dataclass(slots=True)
class Gathered:
    """All lines in the order said, and the amounts of which nobody can tell what they are of."""

    lines: list[Line] = field(default_factory=list)
    lost: list[Spoken] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Event:
    said: Spoken
    name: str
    row: Row | None
    part: str
    stance: str
    kinds: frozenset[str]
    guessed_name: bool


class Gatherer:
    """Puts the amounts heard together into lines, one event after the other."""

    def __init__(
        self,
        scenes: Sequence[Scene],
        parts: Sequence[str],
        plain: Sequence[str],
        named: Sequence[Mention],
        times: Callable[[int], int],
        table: Finds,
    ) -> None:
        """``times``: when a word begins, ms."""
        self.times = times
        self.table = table
        self.scenes = scenes
        self.parts = parts
        self.plain = plain
        self.named = named
        self.result = Gathered()

    def gather(self, heard: Sequence[Spoken]) -> Gathered:
        """The lines. Amounts in asides, substitutions and questions make none."""
        apart = [part for one in heard if one.kind == "amount" and one.amounts for part in self._apart(one)]
        events = [self._event(one, apart) for one in apart]
        for event in events:
            if event.stance in ("list", "use"):
                self._take(event)
        for event in events:
            if event.stance == "recap":
                self._recap(event)
        self.result.lines = [line for line in self.result.lines if not self._loose(line)]
        self.result.lines.sort(key=lambda line: line.start)
        return self.result

    def _apart(self, said: Spoken) -> list[Spoken]:
        """A statement cut where it speaks of something else or says a part and then the whole."""
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
            if not twice and not (other and said.ingredient and self._apart_at(said, n, other[0], gap)):
                continue
            named = other[-1].match if other else said.match
            name = " ".join(self.plain[other[-1].first : other[-1].last]) if other else said.ingredient
            if twice and not other and not gap & _SUMS:
                return [replace(said, amounts=said.amounts[:n])]
            times = self.times(word)
            second = replace(
                said, first=word, start=times, amounts=said.amounts[n:], ingredient=name, match=named, size=""
            )
            own = min(places[n - 1] + len(said.amounts[n - 1].text.split()), word)
            return [replace(said, last=own, amounts=said.amounts[:n]), *self._apart(second)]
        return [said]

    def _apart_at(self, said: Spoken, n: int, other: Mention, gap: set[str]) -> bool:
        """ "A bay leaf and the rest of the salt, that's one teaspoon": two things, though said in one breath."""
        head = said.ingredient.split()[-1]
        named = head in self.plain[said.first : other.first]
        return named and all(a.unit.kind == "count" for a in said.amounts[:n]) and bool(gap & {"and", "rest"})

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

    def _loose(self, line: Line) -> bool:
        """Whether a line is but a piece of what another line measures: "a bag of cucumbers", "a drop of jam"."""
        if any(a.unit.kind != "count" or a.unit.name not in _LOOSE for a in line.amounts):
            return False
        others = [o for o in self.result.lines if o is not line and (o.row and line.row and o.row.name == line.row.name)]
        return any(a.unit.name not in _LOOSE for o in others for a in o.amounts)

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

    def _event(self, said: Spoken, amounts: Sequence[Spoken]) -> _Event:
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
        if row is not None:
            name = self._whole_name(name, row)
        kinds = {*kinds_in(around), *({"optional"} & scene.marks)}
        if _KEPT & set(self.plain[max(said.first - 3, before) : said.first]):
            kinds.add("kept")
        if "pinch" in around and self.plain[said.last : said.last + 1] == ["if"]:
            kinds.add("kept")
        stance = scene.stance_at(said.first)
        return _Event(said, name, row, self.parts[n], stance, frozenset(kinds), guessed)

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
        before = [m for m in self.named if said.first - _BACK <= m.first and m.last <= said.first]
        for mention in reversed(before):
            if any(o is not said and o.first <= mention.first < o.last for o in amounts):
                return mention if {"altogether", "total"} & set(self.plain[said.first : said.last + 2]) else None
            return mention
        return None

    def _take(self, event: _Event) -> None:
        line = self._line_for(event)
        if line is None:
            if not event.name or event.kinds & {"again", "kept"} or self._no_line(event):
                self.result.lost.append(event.said)
                return
            self._new(event)
            return
        line.heard.append(event.said)
        self._merge(line, event)

    def _no_line(self, event: _Event) -> bool:
        """Whether an amount is of nothing that belongs in a list: "24 rolls", "a tube of paint", a pot of water."""
        counted = all(a.unit.kind == "count" for a in event.said.amounts)
        head = event.name.split()[-1]
        loose = event.said.amounts[0].unit.name in _LOOSE
        if counted and (event.row is None or (head in part_names() and (loose or head == event.name))):
            return True
        if event.name in part_names() and event.name not in _RAW and part_names()[event.name] in self.parts:
            return True  # half a cup of the sauce that is made here
        alike = [line for line in self.result.lines if line.row and event.row and line.row.name == event.row.name]
        measured = [line for line in alike if any(a.unit.kind != "count" for a in line.amounts)]
        if measured and (event.guessed_name or (counted and not event.said.size)):
            return True
        if event.row is not None and event.row.form == "liquid" and event.said.amounts[0].unit is EACH and counted:
            return "" not in event.row.counts
        if event.row is not None and event.row.name == "water":
            return any(a.unit.kind == "volume" and a.value * factor(a.unit) >= _BOILING for a in event.said.amounts)
        return False

    def _new(self, event: _Event) -> Line:
        line = Line(
            event.part,
            event.name,
            event.row,
            _own(event),
            event.said.size,
            event.said.start,
            event.stance == "list",
            recap=event.stance == "recap",
            optional="optional" in event.kinds,
            heard=[event.said],
        )
        if event.guessed_name:
            line.doubts.append("the ingredient was named before the amount")
        if event.said.guessed:
            line.doubts.append("heard without a unit")
        self.result.lines.append(line)
        return line

    def _line_for(self, event: _Event) -> Line | None:
        """The line this amount belongs to, None where it makes one of its own."""
        alike = [line for line in self.result.lines if _same_thing(line, event)]
        # "sugar" may be the brown sugar, but only where the amount says so.
        alike = [
            line
            for line in alike
            if not (line.row and event.row and line.row.name != event.row.name)
            or line.listed
            or agree(line, event.said)
            or event.kinds & {"part", "more", "again"}
        ]
        if not alike:
            return None
        here = [line for line in alike if line.part == event.part]
        equal = [line for line in alike if agree(line, event.said)]
        for line in equal:
            if line in here or line.listed or "again" in event.kinds or event.stance == "recap":
                return line
        for line in equal:
            if event.said.start - line.start < _SECOND_MS or MAIN in (line.part, event.part):
                return line
        if event.stance == "list":
            return None
        listed = [line for line in alike if line.listed]
        if listed:
            return next((line for line in listed if line in here), None) or _roomiest(listed, event.said)
        marked = event.kinds & {"part", "more", "whole", "again"}
        if here:
            line = here[-1]
            return line if marked or line.summed or self._smaller(line, event.said) is None else None
        return alike[-1] if marked else None

    def _smaller(self, line: Line, said: Spoken) -> bool | None:
        """Whether less is said than the line has; None where both differ but cannot be compared."""
        a, b = _size(line.amounts, line.row), _size(said.amounts, line.row)
        return b < a if a is not None and b is not None else None

    def _merge(self, line: Line, event: _Event) -> None:
        said = event.said
        if event.row is not None and not event.guessed_name and _fuller(event.name, line.name):
            line.name, line.row = event.name, event.row
        line.size = line.size or said.size
        if agree(line, said):
            _add_measures(line, said.amounts)
            return
        smaller = self._smaller(line, said)
        at = say_moment(said.start)
        if "whole" in event.kinds and smaller is False:
            line.amounts, line.summed = list(said.amounts[-2:]), True
            return
        if line.listed or line.summed and "more" not in event.kinds:
            if smaller and (line.listed or event.kinds & {"part", "more"}):
                line.parts_said[said.first] = said.amounts
                if not event.kinds & {"part", "more"}:
                    line.doubts.append(f"{_say(said)} at {at}: a part, or a slip?")
            else:
                line.doubts.append(f"but {_say(said)} at {at}: which is right?")
            return
        total = _sum(line.amounts, said.amounts)
        if total is not None and event.kinds & {"more", "part"}:
            first = line.heard[0]
            if not line.parts_said:
                line.parts_said[first.first] = tuple(line.amounts)
            line.parts_said[said.first] = said.amounts
            line.amounts = total
            line.doubts.append(f"said in parts: {_say(first)} at {say_moment(first.start)}, {_say(said)} at {at}")
            return
        line.doubts.append(f"but {_say(said)} at {at}: which is right?")

    def _recap(self, event: _Event) -> None:
        """A recap adds what was not heard before, and asks where it says otherwise."""
        alike = [line for line in self.result.lines if _same_thing(line, event)]
        if any(agree(line, event.said) for line in alike):
            line = next(line for line in alike if agree(line, event.said))
            line.heard.append(event.said)
            if not event.said.guessed:
                _add_measures(line, event.said.amounts)
            return
        if len(alike) == 1 and not event.said.guessed:
            said = event.said
            alike[0].doubts.append(f"but {_say(said)} at {say_moment(said.start)}, in the recap: which is right?")
        elif not alike and event.name and event.row is not None and not event.said.guessed and not self._no_line(event):
            line = self._new(event)
            line.part = next((o.part for o in self.result.lines if o is not line), MAIN)
            line.doubts.append("heard in the recap only")


def _own(event: _Event) -> list[Amount]:
    """The amounts without "two or three oranges" of what is said of their zest."""
    amounts = list(event.said.amounts)
    if event.name.split()[-1:] and event.name.split()[-1] in ("zest", "juice"):
        amounts = [a for a in amounts if a.unit is not EACH] or amounts
    return amounts


def _fuller(one: str, other: str) -> bool:
    """Whether ``one`` says more of the same: "bread flour" than "flour", "lemon juice" than "lemon"."""
    return len(one) > len(other) and (one.endswith(f" {other}") or one.startswith(f"{other} "))


def agree(line: Line, said: Spoken) -> bool:
    """Whether all that can be compared of two statements means one amount (at least one pair of them can)."""
    known = False
    for b in said.amounts:
        for a in line.amounts:
            if a.unit.kind == b.unit.kind == "count":
                if a.unit != b.unit and EACH not in (a.unit, b.unit):
                    continue
                if a.unit == b.unit:
                    if (a.low, a.high) != (b.low, b.high):
                        return False
                    known = True
                continue
            status = compare(a, b, line.row, line.size or said.size).status
            if status == "disagrees":
                return False
            known = known or status in ("agrees", "loose")
    return known


def _same_thing(line: Line, event: _Event) -> bool:
    if not event.name:
        return False
    if line.row is not None and event.row is not None:
        if line.row.name == event.row.name:
            return True
        one, other = sorted((line.name, event.name), key=len)
        if other in (f"{one} juice", f"{one} zest"):
            return all(a.unit.kind != "count" for a in event.said.amounts)
        return " " not in one and (other.endswith(f" {one}") or (len(one) > 4 and other.endswith(one)))
    return event.name == line.name or event.name.split()[-1] == line.head


def _roomiest(lines: Sequence[Line], said: Spoken) -> Line:
    """The line whose amount is nearest above what was said."""

    def room(line: Line) -> tuple[bool, Fraction]:
        a, b = _size(line.amounts, line.row), _size(said.amounts, line.row)
        if a is None or b is None:
            return True, Fraction(0)
        return a < b, abs(a - b)

    return min(lines, key=room)


def _size(amounts: Sequence[Amount], row: Row | None) -> Fraction | None:
    """A number to compare amounts of one thing by: grams, else millilitres, else the count."""
    for kind in ("mass", "volume", "count"):
        for amount in amounts:
            if amount.unit.kind != kind:
                continue
            if kind == "count":
                return amount.value
            value = amount.value * factor(amount.unit)
            density = row.density() if row else None
            if kind == "volume":
                return value * density.typical if density else value
            return value
    return None


def _family(amount: Amount) -> str:
    if amount.unit.kind == "count":
        return amount.unit.name
    if amount.unit.kind == "mass":
        return "metric" if amount.unit.name in ("gram", "kilogram", "milligram") else "ounces"
    return "jug" if amount.unit.symbol in ("ml", "cl", "dl", "l") else "cups"


def _add_measures(line: Line, amounts: Sequence[Amount]) -> None:
    """Keeps a statement in a measure in which the line was not said yet."""
    told = {_family(a) for a in line.amounts}
    for amount in amounts:
        if _family(amount) not in told and amount.unit is not EACH:
            line.amounts.append(amount)
            told.add(_family(amount))


def _sum(one: Sequence[Amount], other: Sequence[Amount]) -> list[Amount] | None:
    """Two parts added, in each measure that both were said in; None where there is none."""
    added: list[Amount] = []
    for a in one:
        b = next((b for b in other if b.unit == a.unit), None)
        if b is not None:
            near, far = a.near + b.near, a.far + b.far
            added.append(Amount(a.low + b.low, a.high + b.high, a.unit, near, far, a.about or b.about))
    return added or None


def _say(said: Spoken) -> str:
    return " or ".join(say_typed(amount) for amount in said.amounts)

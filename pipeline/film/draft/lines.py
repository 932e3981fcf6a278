"""The ingredient lines of a draft: what was said of each ingredient, put together from all over the film."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from pipeline.film.clock import say_moment
from pipeline.film.draft.alike import CONTAINERS, with_measures
from pipeline.film.draft.events import Event
from pipeline.film.draft.line import (
    Line,
    another_kind,
    own_amounts,
    roomiest,
    same_thing,
    say,
)
from pipeline.film.draft.merge import AT_ONCE_MS, NO_UNIT, merge, settle_parts, smaller, takes_from, without_totals
from pipeline.film.draft.naming import UNITS
from pipeline.film.draft.parts import MAIN
from pipeline.film.draft.typed import is_sum
from pipeline.film.draft.worth import LOOSE, is_piece, is_sound, no_line
from pipeline.film.spoken.said import Spoken
from pipeline.measure.units import EACH

# The same amount of the same thing in another part of the dish, said so long after, is a second one.
_SECOND_MS = 40_000


_THEM = frozenset(("them", "it", "that", "those"))
# "Together they are three hundred grams", "and that's two cups".
_SUBJECT = 4
_THEY = frozenset(("they", "it", "that", "those", "these", "this", "which", "together"))
_ARE = frozenset(("are", "is", "weigh", "weighs", "come", "comes", "make", "makes", "equals", "were", "was"))
_THEYRE = frozenset(("they're", "it's", "that's", "it'll", "that'll", "it'd", "that'd"))
_ONTO = frozenset(("in", "into", "on", "onto", "over", "to"))
# An amount of nothing, so few words behind another and as much as it, is the same amount.
_ECHO = 14


@dataclass(slots=True)
class Gathered:
    """All lines in the order said, and the amounts of which nobody can tell what they are of."""

    lines: list[Line] = field(default_factory=list)
    lost: list[Spoken] = field(default_factory=list)


class Gatherer:
    """Puts the amounts heard together into lines, one event after the other."""

    def __init__(self, parts: Sequence[str], plain: Sequence[str] = (), flat: bool = False) -> None:
        """``parts``: the parts of the dish, by sentence; ``plain``: the film's words, bare; ``flat``: no stops."""
        self.parts = frozenset(parts)
        self.plain = plain
        self.flat = flat
        self.result = Gathered()

    def gather(self, events: Sequence[Event]) -> Gathered:
        """The lines. Amounts in asides, substitutions and questions make none."""
        for event in events:
            if event.stance in ("list", "use"):
                self._take(event)
        for event in events:
            if event.stance == "recap":
                self._recap(event)
        self.result.lines = [line for line in self.result.lines if not is_piece(line, self.result.lines)]
        self.result.lines = without_totals(self.result.lines)
        self.result.lines.sort(key=lambda line: line.start)
        for line in self.result.lines:
            settle_parts(line)
        return self.result

    def _take(self, event: Event) -> None:
        if (whole := self._of_them(event)) is not None:
            whole.heard.append(event.said)
            return
        line = self._line_for(event)
        if (line is None or not line.agrees(event.said)) and self._echoed(event, line):
            return
        if line is None:
            latest = max(self.result.lines, key=lambda o: o.heard[-1].first, default=None)
            if latest is not None and not self.flat and takes_from(latest, event):
                return
            if no_line(event, self.result.lines, self.parts):
                self.result.lost.append(event.said)
                return
            before = [o for o in self.result.lines if o.part == event.part and o.name == event.name]
            made = self._new(event)
            if before:
                first = before[-1].heard[0]
                said = f"{say(first)} at {say_moment(first.start)}"
                made.doubts.append(f"{said} was said before it: two uses, or a slip?")
            return
        if "made" in event.kinds and not line.agrees(event.said):
            return  # "nothing in a waxy potato"
        line.heard.append(event.said)
        merge(line, event, self.plain)

    def _of_them(self, event: Event) -> Line | None:
        """The line that "all nine hundred grams of them" speaks of: the one that has this amount."""
        said = event.said
        own = self.plain[said.first : said.last + 2]
        every = "all" in self.plain[max(said.first - 1, 0) : said.first + 1]
        them = every and any(
            a in UNITS and b == "of" and c in _THEM for a, b, c in zip(own, own[1:], own[2:], strict=False)
        )
        if not them or event.name.split()[-1:] in ([word] for word in own):
            return None
        one = said.amounts[0]
        same = [
            line
            for line in self.result.lines
            if any((a.low, a.high, a.unit) == (one.low, one.high, one.unit) for a in line.amounts)
        ]
        return same[0] if len(same) == 1 else None

    def _echoed(self, event: Event, own_line: Line | None) -> bool:
        """Whether an amount of nothing says once more what was said right before it ("seven grams. That's one of those
        little envelopes, or two and a quarter teaspoons"); the line then has both. ``own_line``: that of what is named
        beside it."""
        said = event.said
        own = self.plain[said.first : said.last]
        if event.name and not event.guessed_name and event.own_name:
            return False
        if "of" in own:
            return False  # it is of something, if nothing that was heard
        last = max((o for line in self.result.lines for o in line.heard), key=lambda o: o.first, default=None)
        if last is None or not 0 <= said.first - last.last <= _ECHO:
            return False
        line = next(line for line in self.result.lines if last in line.heard)
        # "a can of coconut milk, the full fat one, 400 mils": what is in the can
        canned = all(a.unit.name in CONTAINERS for a in line.amounts) and len(said.amounts) == 1
        if not line.agrees(said) and not (canned and said.amounts[0].unit.kind in ("mass", "volume")):
            return False
        between = self.plain[last.last : said.first]
        led = self.plain[max(said.first - _SUBJECT, last.last) : said.first]
        of_it = _is_it(led) and not _anew(between, event.name)
        if event.name and not event.guessed_name and not self.flat and not of_it and _named_in(between, event.name):
            return False
        named = event.name and (not event.guessed_name or own_line is not None or event.name.split()[-1] in between)
        if line is own_line or (named and not of_it and not self._other_measure(line, said)):
            return False
        line.heard.append(said)
        line.amounts = with_measures(line.amounts, said.amounts)
        return True

    def _other_measure(self, line: Line, said: Spoken) -> bool:
        """Whether it says a weight of what the line has a volume of, or the other way round ("flour, three
        tablespoons, straight in on the onions. Twenty five grams")."""
        return {a.unit.kind for a in line.amounts} ^ {a.unit.kind for a in said.amounts} == {"mass", "volume"}

    def _new(self, event: Event) -> Line:
        line = Line(
            event.part,
            event.name,
            event.row,
            own_amounts(event),
            event.said.size,
            event.said.start,
            event.stance == "list",
            recap=event.stance == "recap",
            note=event.note,
            optional=bool(event.kinds & {"optional", "maybe"}),
            heard=[event.said],
            summed="whole" in event.kinds,
        )
        if event.guessed_name:
            line.doubts.append("the ingredient was named before the amount")
        if event.heard_as:
            line.doubts.append(f"misheard? “{event.heard_as}” taken for {event.name}")
        if event.instead is not None:
            line.doubts.append(f"{say(event.instead)} was said first, and taken back")
        if event.said.guessed and len(event.said.amounts) == 1:
            line.doubts.append(NO_UNIT)
        if any(is_sum(amount) for amount in line.amounts):
            line.doubts.append("heard as one amount: “" + event.said.words.strip(" .,") + "”")
        self.result.lines.append(line)
        return line

    def _line_for(self, event: Event) -> Line | None:
        """The line this amount belongs to, None where it makes one of its own."""
        alike = [line for line in self.result.lines if same_thing(line, event)]
        # "sugar" may be the brown sugar, but only where the amount says so.
        alike = [
            line
            for line in alike
            if not (line.row and event.row and line.row.name != event.row.name)
            or (line.listed and not another_kind(event.name, line.name))
            or (line.agrees(event.said) and not event.name.endswith(f" {line.name}"))
            or event.kinds & {"part", "more", "again"}
            or ("whole" in event.kinds and event.said.start - line.start < _SECOND_MS)
        ]
        if not alike or event.kinds & {"as much", "second"}:
            return None
        here = [line for line in alike if line.part == event.part]
        equal = [line for line in alike if line.agrees(event.said)]
        for line in equal:
            if line in here or line.listed or "again" in event.kinds or event.stance == "recap":
                return line
        for line in equal:
            if event.said.start - line.start < _SECOND_MS or MAIN in (line.part, event.part):
                return line
        if event.stance == "list":
            return None
        listed = [line for line in alike if line.listed]
        if event.part != MAIN and not any(line in here for line in listed):
            apart = {line.part for line in self.result.lines if line.listed}
            # the list has its own lines for this part of the dish, or it is of another part only
            listed = [line for line in listed if line.part == MAIN and event.part not in apart]
        if listed:
            return next((line for line in listed if line in here), None) or roomiest(listed, event.said)
        # "flour, again the same flour": the same thing, but no amount said again
        marked = event.kinds & {"part", "more", "whole"}
        if "whole" in marked and here and not here[-1].summed and smaller(here[-1], event.said):
            return None  # "it's a quarter of a cup in all" is not of the third of a cup before it
        if here:
            line = here[-1]
            if self._at_once(line, event):
                return line
            return line if marked or line.summed or smaller(line, event.said) is None else None
        return alike[-1] if marked else None

    def _at_once(self, line: Line, event: Event) -> bool:
        """Whether more is said of what was measured a moment ago, with nothing else measured between: a second measure
        of it, or a slip ("a third of a cup, pack it down, that'd be thirty seven grams")."""
        latest = max((o for other in self.result.lines for o in other.heard), key=lambda o: o.first)
        loose = any(all(a.unit.name in LOOSE for a in told) for told in (line.amounts, event.said.amounts))
        return latest in line.heard and not loose and event.said.start - latest.end < AT_ONCE_MS

    def _recap(self, event: Event) -> None:
        """A recap adds what was not heard before, and asks where it says otherwise."""
        alike = [
            line
            for line in self.result.lines
            if same_thing(line, event)
            # "two pounds of chicken" are the two pounds of thighs
            or (line.row and event.row and event.row.name in line.row.name.split() and line.agrees(event.said))
        ]
        if any(line.agrees(event.said) for line in alike):
            line = next(line for line in alike if line.agrees(event.said))
            line.heard.append(event.said)
            if not event.said.guessed:
                line.amounts = with_measures(line.amounts, event.said.amounts)
            return
        bare_count = all(a.unit is EACH for a in event.said.amounts)
        if bare_count and any(a.unit.kind != "count" for line in alike for a in line.amounts):
            return  # "three hundred cod": the unit was left out
        if len(alike) == 1 and not event.said.guessed:
            said = event.said
            alike[0].doubts.append(f"but {say(said)} at {say_moment(said.start)}, in the recap: which is right?")
        elif (
            not alike
            and event.row is not None
            and is_sound(event)
            and not no_line(event, self.result.lines, self.parts)
        ):
            line = self._new(event)
            line.part = next((o.part for o in self.result.lines if o is not line), MAIN)
            line.doubts.append("heard in the recap only")


def _anew(words: Sequence[str], name: str) -> bool:
    """Whether a food begins something new: "and ginger the same", but not "I have removed the seeds"."""
    own = name.split()
    at = next((i for i in range(len(words)) if list(words[i : i + len(own)]) == own), 0)
    return at > 0 and words[at - 1] in ("and", "then", "plus", "now")


def _is_it(words: Sequence[str]) -> bool:
    """Whether words before an amount say that it is of what was just spoken of: "together they are", "it comes to"."""
    return any(a in _THEY and b in _ARE for a, b in pairwise(words)) or bool({*words[-2:]} & _THEYRE)


def _named_in(words: Sequence[str], name: str) -> bool:
    """Whether a food is named among these words, and not as where something goes ("straight in on the onions")."""
    own = name.split()
    at = next((i for i in range(len(words)) if list(words[i : i + len(own)]) == own), None)
    return at is not None and not {*words[max(at - 2, 0) : at]} & _ONTO

"""What `levelcup weigh` prints: both measures, their error, the row they rest on, and the verdict on a pair."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from pipeline.measure.duration import say_time
from pipeline.measure.food_heat import food
from pipeline.measure.fractions import say_number
from pipeline.measure.heat import Duration, Heat, celsius, is_oven, say_heat, to_fahrenheit
from pipeline.measure.oven import oven_in_words, to_dial, with_fan, without_fan
from pipeline.measure.pair import Status, Verdict, of_one_size, spread
from pipeline.measure.pair_heat import COLD, Kind, compare_heat, compare_time
from pipeline.measure.readings import say_grams
from pipeline.measure.weighing import piece
from pipeline.recipe.weigh import Weighed

_COLOUR: dict[Status, str] = {"agrees": "32", "loose": "33", "disagrees": "31", "unknown": "33"}
_WORD: dict[Status, str] = {
    "agrees": "agrees",
    "loose": "loose",
    "disagrees": "DISAGREES",
    "unknown": "cannot tell",
}
_FINGERS = {  # factors of measure/data/kitchen.txt
    "pinch": "a pinch is what two fingers hold, 1/16 tsp",
    "dash": "a dash is one shake or tilt, 1/8 tsp",
}
_Line = tuple[str, str]  # a label and what stands beside it


def weighed_answer(weighed: Weighed, colour: bool) -> tuple[str, bool]:
    """The answer as text, and whether all is well: the ingredient is known where it must be, no pair disagrees."""
    lines = [*_measures(weighed), *_row(weighed), *_sizes(weighed)]
    for a, b, verdict in weighed.pairs:
        lines += _verdict(a.text, b.text, verdict, "more", "less", f"{abs(verdict.off):.0%}", colour)
    well = all(v.status in ("agrees", "loose") for _, _, v in weighed.pairs)
    known = bool(weighed.match) or bool(weighed.pairs and well)
    return _page(str(weighed.line.text), lines, colour), well and known


def heat_answer(heats: Sequence[Heat], in_food: bool, colour: bool) -> tuple[str, bool]:
    """The same for heats: what the dials say, and the verdict on each pair. ``in_food``: a thermometer's, not an
    oven's (None of the dials then)."""
    first = heats[0]
    low, high = celsius(without_fan(first))
    ends = [t if first.scale == "F" else to_fahrenheit(t) for t in dict.fromkeys((low, high))]
    exact = f"{' to '.join(map(_degrees, ends))} °{'C' if first.scale == 'F' else 'F'}"
    lines: list[_Line] = [("exactly", exact)]
    if oven_in_words(first.text):
        lines = [("cooks' tables", f"put a {first.text.strip()} there; tables differ, so write the number")]
    if in_food:
        read = food(first, "C" if first.scale == "F" else "F", "max" if high <= COLD else "min")
        lines.append(("thermometer", f"{say_heat(read)}, rounded {'down' if high <= COLD else 'up'}, to the safe side"))
    elif is_oven(first) and low >= 100:
        plain = without_fan(first)
        lines += [
            ("oven dial", f"{say_heat(to_dial(plain, 'F'))}, {say_heat(to_dial(plain, 'C'))}"),
            ("fan oven", f"{say_heat(with_fan(to_dial(plain, 'C')))} (20 °C less, common practice)"),
            ("gas", say_heat(to_dial(plain, "gas"))),
        ]
    kind: Kind | None = "food" if in_food else None
    verdicts = [(a, b, compare_heat(a, b, kind)) for a, b in combinations(heats, 2)]
    for a, b, verdict in verdicts:
        off = f"{abs(verdict.off):.0f} °C"
        lines += _verdict(a.text or say_heat(a), b.text or say_heat(b), verdict, "hotter", "cooler", off, colour)
    return _page(" or ".join(say_heat(h) for h in heats), lines, colour), all(
        v.status in ("agrees", "loose") for _, _, v in verdicts
    )


def time_answer(times: Sequence[Duration], colour: bool) -> tuple[str, bool]:
    """The same for times: in minutes and in hours, and the verdict on each pair."""
    first = times[0]
    lines: list[_Line] = []
    for label, size in (("seconds", 1), ("minutes", 60), ("hours", 3600), ("days", 86400)):
        if first.low < size * 120 and first.high * (4 if size < 86400 else 1) >= size:
            ends = dict.fromkeys((first.low, first.high))
            lines.append((label, " to ".join(say_number(Fraction(end, size)) for end in ends)))
    verdicts = [(a, b, compare_time(a, b)) for a, b in combinations(times, 2)]
    for a, b, verdict in verdicts:
        lines += _verdict(a.text, b.text, verdict, "longer", "shorter", f"{abs(verdict.off):.0%}", colour)
    return _page(" or ".join(t.text or say_time(t) for t in times), lines, colour), all(
        v.status in ("agrees", "loose") for _, _, v in verdicts
    )


def _page(title: str, lines: Sequence[_Line], colour: bool) -> str:
    wide = max((len(label) for label, _ in lines), default=0)
    bold = f"\x1b[1m{title}\x1b[0m" if colour else title
    return "\n".join([bold, *(f"  {label.ljust(wide)}  {text}" for label, text in lines)]) + "\n"


def _degrees(value: object) -> str:
    return f"{float(value):.1f}".removesuffix(".0")  # type: ignore[arg-type]


def _measures(weighed: Weighed) -> Iterator[_Line]:
    dual, wide = weighed.dual, weighed.spread
    fingers = next((a.unit for a in weighed.line.amounts if a.unit.name in _FINGERS), None)
    if dual.weight:
        text = dual.weight.text
        if fingers and dual.weight.derived:
            text = f"about {text}  ({_FINGERS[fingers.name]}; common practice)"
        elif dual.weight.derived:
            text += _rounding(dual.weight.error)
        yield "weight", text
    if wide and wide.low < wide.high * 97 / 100 and dual.weight and dual.weight.derived:
        low, high = say_grams(wide.low).text, say_grams(wide.high).text
        if low != high:
            yield "", f"{low.removesuffix(' g')} to {high} in other hands and cups"
    if dual.volume:
        yield "volume", dual.volume.text + (_rounding(dual.volume.error) if dual.volume.derived else "")
    if dual.count:
        yield "count", dual.count.text


def _sizes(weighed: Weighed) -> Iterator[_Line]:
    """Of a packet or a can: that it comes in any size, and how to say which is meant."""
    amounts = weighed.line.amounts
    for unit in dict.fromkeys(a.unit for a in amounts if a.unit.kind == "count" and not of_one_size(a.unit)):
        stated = next((a for a in amounts if a.unit.kind in ("mass", "volume")), None)
        if stated:
            yield "noted", f"{_article(unit.name)} comes in any size: what you say of it counts, `{stated.text}`"
        elif not (weighed.match and piece(weighed.match.row, unit, weighed.line.size)):
            yield "help", f"say what it weighs: `{amounts[0].text} (100 g) {weighed.line.name}`"


def _article(name: str) -> str:
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _rounding(error: float) -> str:
    """By how much rounding changed it; of a tenth of a gram that is no news."""
    if abs(error) < 0.0005:
        return ""
    return f"  (rounding {error:+.1%})" if abs(error) < 0.1 else "  (as near as it can be measured)"


def _row(weighed: Weighed) -> Iterator[_Line]:
    if weighed.match:
        row = weighed.match.row
        taken = f"{row.name}{', ' + row.state if row.state else ''}"
        if weighed.match.how == "spelling":
            taken += " (taken for a misspelling)"
        yield "rests on", f"{taken}: {row.source} [{row.place}]"
        counted = next((a.unit for a in weighed.line.amounts if a.unit.kind == "count"), None)
        if counted is not None and (weight := piece(row, counted, weighed.line.size)):
            yield "", f"one weighs {spread(weight)}"
        elif row.cup:
            yield "", f"one US cup weighs {spread(row.cup)}"
        return
    if not weighed.line.name:
        yield "unknown", 'name the ingredient, too: levelcup weigh "3 cups bread flour"'
        return
    near = f"; near names: {', '.join(weighed.near)}" if weighed.near else ""
    yield "unknown", f"the table has no {weighed.line.name}{near}"
    yield "help", "add a row in content/ingredients.yaml, or weigh a cup of it and write both numbers down"


def _verdict(a: str, b: str, verdict: Verdict, more: str, less: str, off: str, colour: bool) -> Iterator[_Line]:
    word = _WORD[verdict.status]
    painted = f"\x1b[{_COLOUR[verdict.status]}m{word}\x1b[0m" if colour else word
    if verdict.status == "unknown":
        yield "verdict", f"{painted}: {verdict.why}"
        if verdict.row is not None:
            yield (
                "help",
                f"add its weight in content/ingredients.yaml ({verdict.row.name}), or write both down from your scale",
            )
        return
    zero = off.startswith("0 ") or off == "0%"
    said = "say the same" if zero else f"`{a}` is {off} {more if verdict.off > 0 else less} than `{b}`"
    yield "verdict", f"{painted}: {f'`{a}` and `{b}` {said}' if zero else said}"
    if verdict.status == "agrees":
        return
    if verdict.slip:
        yield "likely", verdict.slip.words
    for i, fix in enumerate(verdict.fixes):
        yield ("write" if i == 0 else "or", fix)

"""An ingredient line's text and what the cook should know of it."""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.film.align.folds import bare
from pipeline.film.clock import say_moment
from pipeline.film.draft.alike import CONTAINERS
from pipeline.film.draft.line import Line
from pipeline.film.draft.typed import say_typed
from pipeline.measure.amount import Amount
from pipeline.measure.pair import compare
from pipeline.measure.units import EACH

# What machine captions write for a number. Common practice, no source.
_SOUNDS = {"to": "2", "too": "2", "for": "4", "ate": "8", "won": "1"}


def line_text(line: Line, capitals: Mapping[str, str] | None = None) -> str:
    """ "411 g or 3 cups bread flour", "4 large eggs (200 g)", "2 (15 oz / 425 g) cans chickpeas".

    ``capitals``: words of names that the captions write with a capital, "Dijon".
    """
    counts = [a for a in line.amounts if a.unit.kind == "count"]
    others = [a for a in line.amounts if a.unit.kind != "count"]
    name = " ".join((capitals or {}).get(word, word) for word in line.name.split()) or "ingredient"
    tail = f", {line.note}" if line.note else ""
    tail += ", optional" if line.optional else ""
    if line.parts_said:
        tail += ", divided"
    if counts and counts[0].unit is EACH and line.head in ("juice", "zest"):
        fruit, part = " ".join(name.split()[:-1]), line.head
        fruit += "s" if counts[0].high > 1 and not fruit.endswith("s") else ""
        inner = " / ".join(say_typed(a) for a in others)
        return f"{part} of {say_typed(counts[0], line.size)} {fruit}" + (f" ({inner})" if inner else "") + tail
    if counts:
        count = counts[0]
        if count.unit.name in CONTAINERS and others and count.low >= 1:
            inner = " / ".join(say_typed(_of_one(a, count)) for a in others)
            number = say_typed(Amount(count.low, count.high, EACH, count.near, count.far, count.about, count.text))
            unit = count.unit.plural if count.high > 1 else count.unit.name
            return f"{number} ({inner}) {unit} {name}{tail}"
        inner = " / ".join(say_typed(a) for a in others)
        words = (
            f"{say_typed(count, line.size)} {name}" if count.unit.name != line.head else f"{say_typed(count)} {name}"
        )
        return f"{words} ({inner}){tail}" if others else f"{words}{tail}"
    return f"{' or '.join(say_typed(a) for a in others)} {name}{tail}".strip()


def _of_one(size: Amount, count: Amount) -> Amount:
    """What is in one can: "two 400 gram tins" and "two tins, 400 grams each" are heard as 800 g, and written as 400."""
    told = size.text == count.text or size.text.endswith(("each", "ones", "apiece"))
    return size.scaled(1 / count.low) if told and count.low == count.high > 1 else size


def about_line(line: Line) -> str:
    """The comment beside the line: the moment, whether two measures agree, and what to check."""
    notes = [_agreement(line), *_misheard(line), *line.doubts]
    if any(amount.unit.whose == "imperial" for amount in line.amounts):
        notes.append("imperial, as what is said of a pint elsewhere has it")
    if line.row is None:
        notes.append(f"the ingredient table doesn't know “{line.name}”")
    said = [note for note in dict.fromkeys(notes) if note]
    at = say_moment(line.start)
    doubtful = [note for note in said if not note.startswith("said ")]
    if not said:
        return at
    sure = [note for note in said if note.startswith("said ") and "they agree" in note]
    rest = [note for note in said if note not in sure]
    if not doubtful and not rest:
        return f"{at}: {'; '.join(sure)}"
    return f"{at}: {'; '.join([*sure])}{'; ' if sure else ''}check: {'; '.join(rest)}"


def _agreement(line: Line) -> str:
    """ "said 411 g and 3 cups: they agree", or by how much not."""
    weighed = [a for a in line.amounts if a.unit.kind != "length"]
    if len(weighed) < 2 or weighed[0].unit.name in CONTAINERS or line.head in ("juice", "zest"):
        return ""
    a, b = weighed[0], weighed[1]
    verdict = compare(a, b, line.row, line.size)
    pair = f"said {say_typed(a)} and {say_typed(b)}"
    if verdict.status == "agrees":
        return f"{pair}: they agree"
    if verdict.status == "loose":
        return f"{pair}: they agree loosely"
    if verdict.status == "disagrees":
        ways = " or ".join(f"“{fix}”" for fix in verdict.fixes)
        return f"{pair}: they disagree" + (f", {ways} would fit" if ways else "")
    return ""


def _misheard(line: Line) -> list[str]:
    notes: list[str] = []
    first = line.heard[0]
    words = [bare(w) for w in first.words.split()]
    if words and words[0] in _SOUNDS and any(say_typed(a).startswith(_SOUNDS[words[0]]) for a in first.amounts):
        notes.append(f"misheard? “{' '.join(words[:2])}” taken for {_SOUNDS[words[0]]}")
    spoken = set(words)
    if first.ingredient and first.ingredient.split()[-1] not in spoken:
        pairs = {"flour": ("flower", "flowers"), "leek": ("leak",), "leeks": ("leaks",), "dough": ("doe",)}
        for name in first.ingredient.split():
            odd = next((w for w in pairs.get(name, ()) if w in spoken), None)
            if odd:
                notes.append(f"misheard? “{odd}” taken for {name}")
    if line.heard[0].match is not None and line.heard[0].match.how == "spelling":
        notes.append(f"misheard? “{first.ingredient}” taken for {line.heard[0].match.row.name}")
    return notes

"""Which part of the dish is spoken of: "for the syrup", "now the sauce", "back to the dough"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from pipeline.film.align.folds import bare, stop_words
from pipeline.film.draft.scenes import Scene, rows
from pipeline.film.spoken.said import Spoken
from pipeline.film.transcript import Transcript

# Two parts named within so long, with no amount between them, are a table of contents.
_CONTENTS_MS = 12_000
# An amount must follow a part's name in a list within so many words.
_NEAR = 7
#: The part of what belongs to no part that has a name.
MAIN = ""

_LEAD = (
    r"(?:(?:okay|ok|right|alright|all right|now|so|and|then|well|meanwhile|next|first|last|finally|anyway|good|while"
    r"|the|our|your|my|a|for|on|to|onto|back|over|let's|do|that|those|you|some) )*"
)
_BEGIN = (
    r"(?:(?:make|making|start|begin|mix|boil|whip|warm up|warming up|tackle|get going on|get on with|build|do"
    r"|back to|back at|on to|onto|move on to|moving on to|turn to|come to|crack on with|start on|work on"
    r"|start with|begin with|starting with|time for|gives us time for)(?: with)?)"
    r"(?: (?:the|our|your|a|that|some|this|my|those|these))?"
)
_VESSEL = re.compile(
    rf"{_LEAD}(?:(?:big|small|wide|heavy|large|medium|another|clean|other|deep|little|fresh|second) )*"
    r"(?:pan|pot|saucepan|skillet|bowl|blender|wok)\b"
)
_COMES_IN = r"(?:comes? in|is next|come next|comes next|itself|first)"


@dataclass(frozen=True, slots=True)
class _Heading:
    scene: int
    word: int
    name: str


@cache
def part_names() -> dict[str, str]:
    """Each word for a part, and the part's first name."""
    return {bare(word): bare(row[0]) for row in rows("parts.txt") for word in row}


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    part = "(?P<part>" + "|".join(sorted(part_names(), key=len, reverse=True)) + ")"
    return (
        re.compile(rf"\b{_BEGIN} {part}\b"),
        re.compile(rf"\bthe {part} {_COMES_IN}\b"),
    )


def parts_of(scenes: Sequence[Scene], heard: Sequence[Spoken], transcript: Transcript) -> list[str]:
    """For each sentence the name of the part of the dish it speaks of, MAIN where none was named."""
    found = _headings(scenes, heard, transcript)
    amounts = [one.first for one in heard if one.kind == "amount"]
    kept: list[_Heading] = []
    for n, heading in enumerate(found):
        near = [o for o in (*found[max(n - 1, 0) : n], *found[n + 1 : n + 2]) if o.name != heading.name]
        if any(_contents(heading, other, scenes, amounts) for other in near):
            continue
        kept.append(heading)
    at = {heading.scene: heading.name for heading in kept}
    result: list[str] = []
    now = MAIN
    for n, scene in enumerate(scenes):
        if n and scene.stance != scenes[n - 1].stance and "list" in (scene.stance, scenes[n - 1].stance):
            now = MAIN  # the list is over, and the cooking begins
        if n in at:
            now = at[n]
        elif now != MAIN and _set_aside(n, scenes, heard):
            now = MAIN
        result.append(now)
    return result


def _contents(one: _Heading, other: _Heading, scenes: Sequence[Scene], amounts: Sequence[int]) -> bool:
    low, high = sorted((one.word, other.word))
    near = abs(scenes[one.scene].start - scenes[other.scene].start) < _CONTENTS_MS
    return near and not any(low <= word <= high for word in amounts)


def _headings(scenes: Sequence[Scene], heard: Sequence[Spoken], transcript: Transcript) -> list[_Heading]:
    found: list[_Heading] = []
    amounts = [one for one in heard if one.kind == "amount"]
    firsts = {one.first for one in amounts}
    for n, scene in enumerate(scenes):
        got = _heading(scene, firsts, transcript)
        if got is None or scene.stance in ("recap", "instead", "asked"):
            continue
        word, name = got
        # "Cream. Half a cup.": an ingredient and its amount
        own = next((one for one in amounts if word < one.first <= word + 4), None)
        if own is not None and own.ingredient and name in own.ingredient.split():
            continue
        if any(one.first <= word < one.last for one in amounts):
            continue
        found.append(_Heading(n, word, name))
    return found


def _heading(scene: Scene, firsts: set[int], transcript: Transcript) -> tuple[int, str] | None:
    """The word that names a part in this sentence, and the part's name."""
    names = part_names()
    words = scene.plain
    for i in range(len(words) - 2):
        if words[i] != "for" or words[i + 1] not in ("the", "our", "your"):
            continue
        name = words[i + 2]
        listed = any(scene.first + i + 2 < w <= scene.first + i + 2 + _NEAR for w in firsts)
        if listed and (name in names or (scene.stance == "list" and name not in stop_words())):
            return scene.first + i + 2, names.get(name, name)
    text = " ".join(words)
    for pattern in _patterns():
        if m := pattern.search(text):
            return scene.first + text[: m.start("part")].count(" "), names[m["part"]]
    lead = re.match(_LEAD, text + " ")
    i = text[: lead.end()].count(" ") if lead else 0
    if i < len(words) and words[i] in names:
        said = transcript.words[scene.first + i].text
        alone = i + 1 == len(words) or said[-1:] in ".,:;!?"
        if alone and (i > 0 or i + 1 == len(words)):
            return scene.first + i, names[words[i]]
    return None


def _set_aside(n: int, scenes: Sequence[Scene], heard: Sequence[Spoken]) -> bool:
    """Whether the part was left to itself for a while and another vessel is taken up."""
    scene = scenes[n]
    if not _VESSEL.match(" ".join(scene.plain)):
        return False
    since = scene.start - 12_000
    return any(one.kind == "time" and since <= one.start < scene.start for one in heard)

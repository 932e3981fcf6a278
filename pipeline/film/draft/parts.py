"""Which part of the dish is spoken of: "for the syrup", "now the sauce", "back to the dough"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from pipeline.film.align.folds import bare, stop_words
from pipeline.film.draft.scenes import Scene, rows
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.film.transcript import Transcript

# Two parts named within so long, with no amount between them, are a table of contents.
_CONTENTS_MS = 12_000
# Another vessel taken up so soon after a part was named belongs to it.
_SETTLED_MS = 15_000
# Parts named so long before the first amount are a greeting: "we'll make pasta by hand".
_GREETING_MS = 15_000
# An amount must follow a part's name in a list within so many words.
_NEAR = 7
# "Two tablespoons of butter for the skillet" names no part of the dish.
_NO_PART = word_set("""
    skillet pan pans tin tins pot board counter bottom bowl dish tray oven water table garnish finish next last
    first
    time moment day week kids children fridge freezer whole rest other best same
    """)
# These words before a part's name tell of no kind. Common practice, no source.
_NO_KIND = word_set("""
    other same whole rest next last first second final little lovely nice famous actual main hot cold warm good best
    """)
# "Now mash, and two tablespoons of butter with it": done, and no part. Common practice, no source.
_DONE_TO = word_set("mash rub dip glaze cream")
# An amount so many words behind a part's name may be of it as an ingredient.
_OWN_WITHIN, _RAW_WITHIN = 4, 10
#: Parts of a dish that are ingredients as well. Common practice, no source.
RAW = frozenset(["rice", "pasta", "oil", "cream"])
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
# "Make the white sauce": of which kind.
_BEGIN_KIND = (
    r"(?:make|making|start (?:with|on)|begin with|starting with|move on to|moving on to|get on with|crack on with"
    r"|work on|back to) (?:the|our|your|that|this|my|a) (?P<kind>[a-z-]+)"
)
_VESSEL = re.compile(
    rf"{_LEAD}(?:(?:big|small|wide|heavy|large|medium|another|clean|other|deep|little|fresh|second) )*"
    r"(?:pan|pot|saucepan|skillet|bowl|blender|wok)\b"
)
_BACK = re.compile(
    r"\b(?:back (?:to|at|on)|look at|check on|return to"
    r"|(?<!to )(?:fold|knead|shape|roll(?: out)?|stretch|rest|chill|proof|prove|divide|flatten)"
    r"|finish|thicken|loosen)"
    r" (?:(?:the|our|your|my|that) )?$"
)
_READY = r"(?:ready|done|rested|risen|cold|cool|its rest|doubled|waiting)"
_DONE = re.compile(rf"\b(?:the|our|your|my|that|those|these) (?P<thing>[a-z]+)(?:'s| is| are| have|'ve) {_READY}\b")
_INTO = re.compile(rf"{_LEAD}(?:into|onto|over|back to|in with) (?:the|our|those|your) (?P<thing>[a-z]+)\b")
_WORK = (
    r"(?:fold|knead|shape|roll out|roll|stretch|rest|chill|proof|prove|divide|flatten|warm|whip|whisk"
    r"|simmer|stir|blend|strain|reduce|season|finish|thin|loosen|salt|rinse|check on|look at)"
)
_COMES_IN = r"(?:comes? (?:in|out|back)|is next|comes? next|itself|first)"
# "While that's on, biscuits."
_WHILE = frozenset(("while", "whilst", "as", "meanwhile", "once", "when"))
# "Filling first."
_TURNS = frozenset(("first", "next", "now", "time", "then"))


@dataclass(frozen=True, slots=True)
class _Heading:
    """A part's name at a word of a sentence. ``back``: the talk comes back to it; ``kind``: "white" of a sauce."""

    scene: int
    word: int
    name: str
    back: bool
    kind: str = ""


@cache
def part_names() -> dict[str, str]:
    """Each word for a part, and the part's first name."""
    return {bare(word): bare(row[0]) for row in rows("parts.txt") for word in row}


@cache
def _patterns(names: frozenset[str]) -> tuple[re.Pattern[str], ...]:
    part = "(?P<part>" + "|".join(sorted(names, key=len, reverse=True)) + ")"
    return (
        re.compile(rf"(?<!were )(?<!you're )(?<!not )\b{_BEGIN} {part}\b"),
        re.compile(rf"(?<!were )(?<!you're )(?<!not )\b{_BEGIN_KIND} {part}\b"),
        re.compile(rf"^{_LEAD}{part} (?:goes|comes) (?:first|next|last|now)\b"),
        re.compile(
            rf"\b(?:first|next|last)(?: thing| one| job)?(?: up)?(?: is| are| comes|,)? (?:the|our|my|a) {part}\b"
        ),
        re.compile(rf"^(?:and|then|now|so) (?:a|the) {part} (?:for|to go)\b"),
        re.compile(rf"\b(?:out comes|take|grab|fetch|bring out) (?:the|our|that) {part}\b"),
        re.compile(rf"\bthe {part} {_COMES_IN}\b"),
        re.compile(
            rf"^(?:\w+ )?(?:now|here|next|then|so) (?:is|are|comes|come|this is|here's) (?:the|our|my) {part}\b"
        ),
        re.compile(rf"\b(?:the|our|your|my|that) {part}(?:'s| is| has)(?: (?:been|had|got|now|all|about))* {_READY}\b"),
        re.compile(rf"\b{_WORK} (?:the|our|your|that|this) {part}\b"),
    )


def made_here(word: str) -> bool:
    """Whether the word names a part that is made, and is no ingredient as well."""
    return word in part_names() and word not in RAW


def parts_of(scenes: Sequence[Scene], heard: Sequence[Spoken], transcript: Transcript) -> tuple[list[str], str]:
    """For each sentence the name of the part of the dish it speaks of, MAIN where none was named; and what MAIN is
    called where the talk comes back to it by a name ("back to the soup"), else ""."""
    amounts = [one for one in heard if one.kind == "amount"]
    first = amounts[0].start if amounts else 0
    found = _headings(scenes, amounts, transcript)
    words = [one.first for one in amounts]
    kept: list[_Heading] = []
    for n, heading in enumerate(found):
        near = [o for o in (*found[max(n - 1, 0) : n], *found[n + 1 : n + 2]) if o.name != heading.name]
        greeting = scenes[heading.scene].start <= first - _GREETING_MS
        if not greeting and not any(_contents(heading, other, scenes, words) for other in near):
            kept.append(heading)
    at = {heading.scene: heading for heading in kept}
    result: list[str] = []
    alias: dict[str, str] = {}
    owner: dict[str, str] = {}
    by_scene: dict[int, list[Spoken]] = {}
    at_scene = 0
    for one in amounts:
        while at_scene + 1 < len(scenes) and scenes[at_scene + 1].first <= one.first:
            at_scene += 1
        by_scene.setdefault(at_scene, []).append(one)
    now, since, before, main = MAIN, 0, MAIN, ""
    for n, scene in enumerate(scenes):
        turned = now
        if n and scene.stance != "list" and scenes[n - 1].stance == "list":
            turned = MAIN  # the list is over, and the cooking begins
        if n in at:
            name = at[n].name
            if at[n].back and name not in alias:
                # Nobody goes back to what was not begun: it was begun without its name.
                alias[name] = MAIN if not main else before
                main = main or name
            turned, since = alias.setdefault(name, name), scene.start
        elif now != MAIN and scene.start - since > _SETTLED_MS and _set_aside(n, scenes, heard):
            turned = _whose(n, scenes, owner, now)
        elif m := _DONE.search(text := " ".join(scene.plain)) or _INTO.match(text):
            turned = owner.get(m["thing"], now)  # "okay, the chicken's done", "into the leeks goes the cream"
        if turned != now:
            before, now = now, turned
        for one in by_scene.get(n, ()):
            for word in one.ingredient.split():
                if len(word) > 3:
                    owner.setdefault(word, now)
        result.append(now)
    return result, main


def _whose(n: int, scenes: Sequence[Scene], owner: Mapping[str, str], now: str) -> str:
    """The part whose ingredient was just named: "our berries. Wide pan" goes on with the strawberries."""
    for scene in reversed(scenes[max(n - 3, 0) : n + 1]):
        for word in scene.plain:
            for head, part in owner.items():
                if part != now and len(word) > 4 and (word == head or head.endswith(word)):
                    return part
    return MAIN


def _contents(one: _Heading, other: _Heading, scenes: Sequence[Scene], amounts: Sequence[int]) -> bool:
    low, high = sorted((one.word, other.word))
    near = abs(scenes[one.scene].start - scenes[other.scene].start) < _CONTENTS_MS
    return near and not any(low <= word <= high for word in amounts)


def _headings(scenes: Sequence[Scene], amounts: Sequence[Spoken], transcript: Transcript) -> list[_Heading]:
    found: list[_Heading] = []
    firsts = {one.first for one in amounts}
    names = dict(part_names())
    plain = [word for scene in scenes for word in scene.plain]
    for n, scene in enumerate(scenes):
        got = _heading(scene, firsts, transcript, names)
        if got is None or scene.stance in ("recap", "instead", "asked"):
            continue
        word, name, kind = got
        # "Cream. Half a cup.": an ingredient and its amount
        own = next((one for one in amounts if word < one.first <= word + _RAW_WITHIN), None)
        if own is not None and own.ingredient and name == own.ingredient.split()[-1]:
            bare_name = name in RAW and name == own.ingredient and (word == 0 or plain[word - 1] not in ("the", "our"))
            if bare_name or own.first <= word + _OWN_WITHIN:
                continue
        if any(one.first <= word < one.last for one in amounts):
            continue
        names.setdefault(name, name)  # a part that the list has is one in the cooking, too
        led = " ".join([*scene.plain[max(word - scene.first - 5, 0) : word - scene.first], ""])
        found.append(_Heading(n, word, name, bool(_BACK.search(led)), kind))
    return _by_kind(found)


def _by_kind(found: Sequence[_Heading]) -> list[_Heading]:
    """Where a dish has a meat sauce and a white sauce, they are two parts; "the sauce" is the one spoken of last."""
    kinds: dict[str, set[str]] = {}
    for one in found:
        if one.kind:
            kinds.setdefault(one.name, set()).add(one.kind)
    result: list[_Heading] = []
    last: dict[str, str] = {}
    for one in found:
        if len(kinds.get(one.name, ())) > 1:
            name = f"{one.kind} {one.name}" if one.kind else last.get(one.name, one.name)
            last[one.name] = name
            one = replace(one, name=name)
        result.append(one)
    return result


def _heading(
    scene: Scene, firsts: set[int], transcript: Transcript, names: Mapping[str, str]
) -> tuple[int, str, str] | None:
    """The word that names a part in this sentence, the part's name, and of which kind it is said to be."""
    words = scene.plain
    for i in range(len(words) - 2):
        if words[i] != "for" or words[i + 1] not in ("the", "our", "your"):
            continue
        at = i + 3 if words[i + 2] not in names and words[i + 3 : i + 4] and words[i + 3] in names else i + 2
        name, kind = words[at], words[i + 2] if at > i + 2 else ""
        if name in _NO_PART or (name == "top" and scene.stance != "list"):
            continue
        listed = any(scene.first + at < w <= scene.first + at + _NEAR for w in firsts)
        if listed and (name in names or (scene.stance == "list" and name not in stop_words())):
            return scene.first + at, names.get(name, name), _kind(kind)
    text = " ".join(words)
    for pattern in _patterns(frozenset(names)):
        if m := pattern.search(text):
            kind = _kind(m["kind"]) if "kind" in pattern.groupindex else ""
            return scene.first + text[: m.start("part")].count(" "), names[m["part"]], kind
    lead = re.match(_LEAD, text + " ")
    i = text[: lead.end()].count(" ") if lead else 0
    if (got := _at_end(scene, transcript, names, i)) is not None:
        return got
    if i < len(words) and words[i] in names and (words[i] not in _DONE_TO or (i and words[i - 1] in ("the", "our"))):
        said = transcript.words[scene.first + i].text
        alone = i + 1 == len(words) or said[-1:] in ".,:;!?"
        turns = i + 2 == len(words) and words[i + 1] in _TURNS
        if turns or (alone and (i > 0 or i + 1 == len(words))):
            return scene.first + i, names[words[i]], ""
    return None


def _at_end(scene: Scene, transcript: Transcript, names: Mapping[str, str], lead: int) -> tuple[int, str, str] | None:
    """A part's name that ends a sentence: "while that rests, the slaw", "while it's on, biscuits", "now the white
    sauce". ``lead``: how many words only lead up to it."""
    words, last = scene.plain, scene.last - 1
    if len(words) < 3 or words[-1] not in names or transcript.words[last].text[-1:] not in ".:":
        return None
    article = words[-2] in ("the", "our")
    if (article or words[0] in _WHILE) and transcript.words[last - (2 if article else 1)].text.endswith(","):
        return last, names[words[-1]], ""
    kind = _kind(words[-2]) if words[-3] in ("the", "our") else ""
    if kind and (lead >= len(words) - 2 or words[0] in _WHILE):
        return last, names[words[-1]], kind
    return None


def _kind(word: str) -> str:
    """A word that tells of which kind a part is, "" where it tells nothing."""
    return "" if word in stop_words() or word in _NO_KIND else word


def _set_aside(n: int, scenes: Sequence[Scene], heard: Sequence[Spoken]) -> bool:
    """Whether the part was left to itself for a while and another vessel is taken up."""
    scene = scenes[n]
    if not _VESSEL.match(" ".join(scene.plain)):
        return False
    since = min(scene.start - 12_000, scenes[n - 1].start if n else scene.start)
    return any(one.kind == "time" and since <= one.start < scene.start for one in heard)

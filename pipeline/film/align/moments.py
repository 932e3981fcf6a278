"""A film's speech as moments: the stretches at whose beginnings a step's talk may begin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from pipeline.film.align.figures import spans_of
from pipeline.film.align.folds import bare, fold, kin, rows, stop_words
from pipeline.film.transcript import Transcript, Word

# A silence of this length parts two moments even in the middle of a sentence: longer than the gaps that
# speakers leave between words (0.2 s is common in conversation), shorter than a breath.
_PAUSE = 450
# Captions with fewer full stops than one in so many words have no punctuation to go by.
_STOPS = 45
# Without punctuation a moment is about a caption line long.
_LONG, _SHORT = 14, 4
# How much a moment's beginning with a vessel counts beside turning words, and how many words may stand before it.
_VESSEL, _BEFORE = 0.9, 4
# A letter takes about so many ms to say: 150 words a minute of six letters each, with the gap behind them
# (common practice, no source).
_LETTER = 67
# How long speech takes is known less well the longer it is: behind _EVEN ms, so much of the rest may be pauses that
# stand anywhere in it. A paragraph with one stamp does not end with a silence because it was read slowly.
_EVEN, _UNEVEN = 4_000, 0.4
# Other talk that lasts, how much of it goes on into the next moment, and the silence (ms) that ends it.
_LASTING = frozenset({"list", "aside"})
_GOES_ON, _LONG_PAUSE = 0.6, 900
_END = (".", "?", "!", ".”", '."', "?”", "!”", ".)", "…")


@dataclass(frozen=True, slots=True)
class Moment:
    """A stretch of speech: words ``first`` to ``last`` (one behind) of the transcript, times in ms.

    ``tokens``: what it says, folded, figures and families included. ``weight``: how many of its words say
    something. ``turn``: how much its beginning sounds like the beginning of something new. ``talk``: for each
    kind of talk beside the cooking, how much of it is here.
    """

    first: int
    last: int
    start: int
    end: int
    tokens: tuple[str, ...]
    weight: int
    turn: float
    talk: Mapping[str, float]


@cache
def _turns() -> dict[str, list[tuple[tuple[str, ...], float]]]:
    found: dict[str, list[tuple[tuple[str, ...], float]]] = {}
    for weight, *words in rows("turns.txt"):
        found.setdefault(words[0], []).append((tuple(words), float(weight)))
    for phrases in found.values():
        phrases.sort(key=lambda phrase: -len(phrase[0]))
    return found


@cache
def _vessels() -> tuple[frozenset[str], frozenset[str]]:
    """What may stand before a vessel, and the vessels."""
    before, *vessels = rows("vessels.txt")
    return frozenset(before), frozenset(word for row in vessels for word in row)


@cache
def _talk() -> dict[str, list[tuple[tuple[str, ...], str, float]]]:
    found: dict[str, list[tuple[tuple[str, ...], str, float]]] = {}
    for kind, weight, *words in rows("talk.txt"):
        found.setdefault(words[0], []).append((tuple(words), kind, float(weight)))
    return found


def moments(transcript: Transcript, near: Mapping[str, str]) -> list[Moment]:
    """The film's moments, ascending; every word is in one. ``near`` mends misheard words (folds.near_words)."""
    words = transcript.words
    if not words:
        return []
    plain = [bare(word.text) for word in words]
    cuts, breaths = _cuts(words, plain)
    figured, talked = _across(plain, breaths)
    known: dict[str, str] = {}
    carried: dict[str, float] = {}
    found: list[Moment] = []
    for first, last in zip(cuts, [*cuts[1:], len(words)], strict=True):
        gap = _silence(words, first)
        tokens, weight = _tokens(plain[first:last], near, known)
        tokens += [token for i in range(first, last) for token in figured.get(i, ())]
        turn = _turn(plain, first, last) + 0.9 * min(max(gap - 150, 0), 1_600) / 1_000
        talk = _carried(carried, gap, (pair for i in range(first, last) for pair in talked.get(i, ())))
        carried = talk
        found.append(
            Moment(
                first, last, words[first].start, words[last - 1].end, tuple(dict.fromkeys(tokens)), weight, turn, talk
            )
        )
    return found


def _carried(before: Mapping[str, float], gap: int, heard: Iterable[tuple[str, float]]) -> dict[str, float]:
    """How much of each kind of talk is in a moment: what is heard in it, and what goes on from the moment before. A
    list or a story lasts for some sentences; a silence ends it."""
    talk = {kind: value * _GOES_ON for kind, value in before.items() if kind in _LASTING} if gap < _LONG_PAUSE else {}
    for kind, weight in heard:
        talk[kind] = talk.get(kind, 0.0) + weight
    return {kind: value for kind, value in talk.items() if value > 0.1}


def _across(plain: list[str], breaths: list[int]) -> tuple[dict[int, list[str]], dict[int, list[tuple[str, float]]]]:
    """Figures and phrases of other talk by the index of their first word. They may go on from one moment to the next,
    for captions are cut anywhere, but not across the end of a sentence or a silence."""
    figured: dict[int, list[str]] = {}
    for first, last in zip(breaths, [*breaths[1:], len(plain)], strict=True):
        for start, _, token in spans_of(plain[first:last]):
            figured.setdefault(first + start, []).append(token)
    phrases = _talk()
    talked: dict[int, list[tuple[str, float]]] = {}
    for i, word in enumerate(plain):
        for phrase, kind, weight in phrases.get(word, ()):
            if tuple(plain[i : i + len(phrase)]) == phrase:
                talked.setdefault(i, []).append((kind, weight))
    return figured, talked


def _cuts(words: tuple[Word, ...], plain: list[str]) -> tuple[list[int], list[int]]:
    """Where moments begin, and which of them begin behind the end of a sentence or a silence."""
    stops = sum(1 for word in words if word.text.endswith(_END))
    told = stops * _STOPS >= len(words)
    turns = _turns()
    cuts, breaths = [0], [0]
    for i in range(1, len(words)):
        length = i - cuts[-1]
        if words[i].start - words[i - 1].end >= _PAUSE or (told and words[i - 1].text.endswith(_END)):
            cuts.append(i)
            breaths.append(i)
        elif not told and (
            (words[i].cue != words[i - 1].cue and (length >= _SHORT or _silence(words, i) >= _PAUSE))
            or length >= _LONG
            or (length >= _SHORT and _is_turn(plain, i, turns))
        ):
            cuts.append(i)
    return cuts, breaths


def _silence(words: tuple[Word, ...], i: int) -> int:
    """The silence before a word, in ms. Captions that stand until the next ones hide it: a caption that stands much
    longer than its words take to say ends with one."""
    if i == 0:
        return 0
    shown = words[i].start - words[i - 1].end
    if words[i].cue == words[i - 1].cue:
        return shown
    first = i - 1
    while first > 0 and words[first - 1].cue == words[i].cue - 1:
        first -= 1
    letters = sum(len(word.text) + 1 for word in words[first:i])
    speech = _LETTER * letters
    unsure = 300 + round(_UNEVEN * max(speech - _EVEN, 0))
    return max(shown, words[i].start - words[first].start - speech - unsure)


def _is_turn(plain: list[str], i: int, turns: dict[str, list[tuple[tuple[str, ...], float]]]) -> bool:
    return any(
        weight >= 0.8 and tuple(plain[i : i + len(phrase)]) == phrase for phrase, weight in turns.get(plain[i], ())
    )


def _turn(plain: list[str], first: int, last: int) -> float:
    """The weights of the turning words with which a moment begins, two at most ("okay, now"), and of a vessel."""
    turns = _turns()
    before, vessels = _vessels()
    total, i = 0.0, first
    at = next((n for n in range(first, min(last, first + _BEFORE)) if plain[n] not in before), last)
    if at < last and plain[at] in vessels:
        total = _VESSEL
    for _ in range(2):
        for phrase, weight in turns.get(plain[i], ()) if i < last else ():
            if tuple(plain[i : i + len(phrase)]) == phrase:
                if i == first or weight > 0:
                    total += weight if i == first else 0.4 * weight
                i += len(phrase)
                break
        else:
            break
    return total


def _tokens(plain: list[str], near: Mapping[str, str], known: dict[str, str]) -> tuple[list[str], int]:
    stop = stop_words()
    families = kin()
    tokens: list[str] = []
    weight = 0
    for word in plain:
        folded = known.get(word)
        if folded is None:
            folded = "" if word in stop or not word else fold(word)
            folded = mended(folded, near)
            known[word] = folded
        if not folded or folded.isdigit():
            continue
        weight += 1
        tokens.append(folded)
        tokens.extend(families.get(folded, ()))
    return tokens, weight


def mended(folded: str, near: Mapping[str, str]) -> str:
    """The word of the recipe that this one was meant to be, else itself: one letter more, less or other."""
    if len(folded) < 4 or not folded.isalpha():
        return folded
    if folded in near:
        return near[folded]
    if len(folded) >= 5:
        for i in range(1, len(folded)):
            part = near.get(folded[:i] + folded[i + 1 :])
            if part is not None:
                return part
    return folded

"""A film's speech as moments: the stretches at whose beginnings a step's talk may begin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from pipeline.film.align.figures import figures
from pipeline.film.align.folds import bare, fold, kin, rows, stop_words
from pipeline.film.transcript import Transcript, Word

# A silence of this length parts two moments even in the middle of a sentence: longer than the gaps that
# speakers leave between words (0.2 s is common in conversation), shorter than a breath.
_PAUSE = 450
# Captions with fewer full stops than one in so many words have no punctuation to go by.
_STOPS = 45
# Without punctuation a moment is about a caption line long.
_LONG, _SHORT = 14, 4
# A letter takes about so many ms to say: 150 words a minute of six letters each, with the gap behind them
# (common practice, no source).
_LETTER = 67
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
    cuts = _cuts(words, plain)
    known: dict[str, str] = {}
    found: list[Moment] = []
    for first, last in zip(cuts, [*cuts[1:], len(words)], strict=True):
        tokens, weight = _tokens(plain[first:last], near, known)
        gap = _silence(words, first)
        turn = _turn(plain, first, last) + 0.9 * min(max(gap - 150, 0), 1_600) / 1_000
        found.append(
            Moment(
                first, last, words[first].start, words[last - 1].end, tokens, weight, turn, _heard(plain[first:last])
            )
        )
    return found


def _cuts(words: tuple[Word, ...], plain: list[str]) -> list[int]:
    stops = sum(1 for word in words if word.text.endswith(_END))
    told = stops * _STOPS >= len(words)
    turns = _turns()
    cuts = [0]
    for i in range(1, len(words)):
        length = i - cuts[-1]
        if words[i].start - words[i - 1].end >= _PAUSE:
            cuts.append(i)
        elif told:
            if words[i - 1].text.endswith(_END):
                cuts.append(i)
        elif (
            (words[i].cue != words[i - 1].cue and (length >= _SHORT or _silence(words, i) >= _PAUSE))
            or length >= _LONG
            or (length >= _SHORT and _is_turn(plain, i, turns))
        ):
            cuts.append(i)
    return cuts


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
    return max(shown, words[i].start - words[first].start - _LETTER * letters - 300)


def _is_turn(plain: list[str], i: int, turns: dict[str, list[tuple[tuple[str, ...], float]]]) -> bool:
    return any(
        weight >= 0.8 and tuple(plain[i : i + len(phrase)]) == phrase for phrase, weight in turns.get(plain[i], ())
    )


def _turn(plain: list[str], first: int, last: int) -> float:
    """The weights of the turning words with which a moment begins, two at most ("okay, now")."""
    turns = _turns()
    total, i = 0.0, first
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


def _heard(plain: list[str]) -> dict[str, float]:
    talk = _talk()
    found: dict[str, float] = {}
    for i, word in enumerate(plain):
        for phrase, kind, weight in talk.get(word, ()):
            if tuple(plain[i : i + len(phrase)]) == phrase:
                found[kind] = found.get(kind, 0.0) + weight
    return found


def _tokens(plain: list[str], near: Mapping[str, str], known: dict[str, str]) -> tuple[tuple[str, ...], int]:
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
    tokens.extend(figures(plain))
    return tuple(dict.fromkeys(tokens)), weight


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

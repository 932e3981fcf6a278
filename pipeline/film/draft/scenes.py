"""A film's talk in sentences, and what kind of talk each is: a list, the cooking itself, a recap, talk beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

from pipeline.film.align.folds import bare
from pipeline.film.align.moments import Moment, moments
from pipeline.film.transcript import Transcript

Stance = Literal["list", "use", "recap", "instead", "asked"]

# A viewer's matter is over after so long, or at a turn to the next thing. Common practice, no source.
_ASKED_MS = 22_000
# Without full stops a "sentence" is a caption's line, so what is said of one goes on for so long.
_INSTEAD_MS = 7_000
# The shares of a film in which an ingredient list may open it, and a recap may close it.
_OPENING, _CLOSING = 0.35, 0.75
# An opening list is over when no amount was said for so long.
_LIST_MS = 25_000
_TURN = 0.8


@dataclass(frozen=True, slots=True)
class Scene:
    """A sentence (or, without full stops, a piece of speech): words ``first`` to ``last`` (one behind), ms."""

    first: int
    last: int
    start: int
    end: int
    plain: tuple[str, ...]
    turn: float
    stance: Stance
    marks: frozenset[str]


def rows(name: str) -> list[list[str]]:
    """The lines of a data file as lists of words, without comments."""
    text = resources.files("pipeline.film.draft").joinpath("data", name).read_text(encoding="utf-8")
    return [line.split() for line in text.splitlines() if line.strip() and not line.startswith("#")]


@cache
def _phrases() -> dict[str, list[tuple[tuple[str, ...], str]]]:
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for kind, *words in rows("talk.txt"):
        found.setdefault(words[0], []).append((tuple(words), kind))
    return found


def kinds_in(plain: Sequence[str]) -> set[str]:
    """The kinds of talk.txt whose words stand among these."""
    table = _phrases()
    return {
        kind
        for i, word in enumerate(plain)
        for words, kind in table.get(word, ())
        if tuple(plain[i : i + len(words)]) == words
    }


def scenes(transcript: Transcript, amounts: Sequence[tuple[int, int]]) -> list[Scene]:
    """The film's sentences with their kinds. ``amounts``: word index and start (ms) of each amount said."""
    film = moments(transcript, {})
    if not film:
        return []
    plain = [bare(word.text) for word in transcript.words]
    told = [kinds_in(plain[m.first : m.last]) for m in film]
    opened = film[0].start
    length = max(film[-1].end - opened, 1)
    recap = _recap_from(film, told, amounts, opened, length)
    listed = _list_range(film, told, amounts, opened, length)
    stopped = _stopped(transcript)
    result: list[Scene] = []
    asked_until = instead_until = -1
    for n, (moment, kinds) in enumerate(zip(film, told, strict=True)):
        if moment.turn >= _TURN and "asked" not in kinds:
            asked_until = -1
        if "asked" in kinds:
            asked_until = moment.start + _ASKED_MS
        if "instead" in kinds and not stopped:
            instead_until = moment.start + _INSTEAD_MS
        stance: Stance = "use"
        if recap is not None and n >= recap:
            stance = "recap"
        elif n in listed:
            stance = "list"
        elif moment.start < asked_until:
            stance = "asked"
        elif "instead" in kinds or moment.start < instead_until:
            stance = "instead"
        elif result and _answers(transcript, result[-1], plain):
            stance = "instead"
        result.append(
            Scene(
                moment.first,
                moment.last,
                moment.start,
                moment.end,
                tuple(plain[moment.first : moment.last]),
                moment.turn,
                stance,
                frozenset(kinds),
            )
        )
    return result


def _stopped(transcript: Transcript) -> bool:
    """Whether the captions have full stops to go by."""
    stops = sum(1 for word in transcript.words if word.text.endswith((".", "?", "!")))
    return stops * 45 >= len(transcript.words)


def _answers(transcript: Transcript, before: Scene, plain: Sequence[str]) -> bool:
    """ "No buttermilk? Then three quarters of a cup of milk": the answer to a question that begins with "no"."""
    return before.plain[:1] == ("no",) and transcript.words[before.last - 1].text.endswith("?")


def _list_range(
    film: Sequence[Moment], told: Sequence[set[str]], amounts: Sequence[tuple[int, int]], opened: int, length: int
) -> range:
    """The sentences of an opening list, empty where there is none: from the words that announce it to its last
    amount."""
    for n, kinds in enumerate(told):
        if film[n].start - opened > _OPENING * length:
            break
        if "list" not in kinds:
            continue
        last, count, at = n, 0, film[n].start
        for word, start in amounts:
            if word < film[n].first:
                continue
            if start - at > _LIST_MS:
                break
            last = next(i for i in range(n, len(film)) if film[i].last > word)
            count, at = count + 1, start
        if count >= 3:
            return range(n, last + 1)
    return range(0)


def _recap_from(
    film: Sequence[Moment], told: Sequence[set[str]], amounts: Sequence[tuple[int, int]], opened: int, length: int
) -> int | None:
    """The first sentence of a recap, where one closes the film: its words, and three amounts in the half minute
    after them."""
    for n, kinds in enumerate(told):
        if film[n].start - opened < _CLOSING * length or "recap" not in kinds:
            continue
        near = [s for _, s in amounts if film[n].start <= s <= film[n].start + 30_000]
        if len(near) >= 3:
            return n
    return None

"""A film's talk in sentences, and what kind of talk each is: a list, the cooking itself, a recap, talk beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from pipeline.film.align.folds import bare
from pipeline.film.align.moments import Moment, moments
from pipeline.film.draft.alike import agree
from pipeline.film.draft.others import of_others
from pipeline.film.spoken.said import Spoken
from pipeline.film.transcript import Transcript

Stance = Literal["list", "use", "recap", "instead", "asked"]

# A viewer's matter is over after so long, or at a turn to the next thing. Common practice, no source.
_ASKED_MS = 20_000
# "More if you like", "if you want to be fussy": nothing is left out. Common practice, no source.
_MORE = frozenset(("more", "less", "extra", "longer", "thinner", "thicker"))
_TO_BE = frozenset(("to", "it", "a", "your", "things", "them", "this", "that"))
# "Or leave it out": what else may be done. Common practice, no source.
_OR_ELSE = frozenset(("leave", "use", "swap", "put", "try", "take", "go", "just", "even"))
# Such a question has fewer words than these.
_SHORT_QUESTION = 9
# A silence that ends it, too.
_BREATH_MS = 300
# "If you don't eat milk, …": words so early in a sentence make all of it an aside.
_EARLY = 3
_NEVER = 1_000_000_000
# "And if you haven't any": words with which such a sentence begins.
_BEFORE_IF = frozenset(("and", "but", "or", "so", "now", "also", "well", "then", "okay", "oh", "even"))
# Without full stops a "sentence" is a caption's line, so what is said of one goes on for so long.
_INSTEAD_MS = 7_000
# The shares of a film in which an ingredient list may open it, and a recap may close it.
_OPENING, _CLOSING = 0.35, 0.75
# An opening list is over when no amount was said for so long.
_LIST_MS = 14_000
_TURN = 0.8
# An opening list that nothing announces: so many amounts, none so many ms behind the one before it, half of them of
# things that are measured again later on.
_AHEAD, _AHEAD_MS = 5, 9_000
# A recap without any words to announce it: so many amounts in so many ms, in the last part of the film.
_RATTLE, _RATTLE_MS, _LAST, _VERY_LAST = 5, 25_000, 0.8, 0.9


@dataclass(frozen=True, slots=True)
class Scene:
    """A sentence (or, without full stops, a piece of speech): words ``first`` to ``last`` (one behind), ms.

    ``marks``: the kinds of talk.txt that are in it, and "told" where it tells of others or of another time. From the
    word ``aside`` on it speaks of what may stand in for something (beyond all words where it does not).
    """

    first: int
    last: int
    start: int
    end: int
    plain: tuple[str, ...]
    turn: float
    stance: Stance
    marks: frozenset[str]
    aside: int

    def stance_at(self, word: int) -> Stance:
        """What kind of talk the word is: behind "if you don't have milk" it is of something else."""
        return "instead" if self.stance == "use" and word >= self.aside else self.stance


def rows(name: str) -> list[list[str]]:
    """The lines of a data file as lists of words, without comments."""
    text = (Path(__file__).parent / "data" / name).read_text(encoding="utf-8")
    return [line.split() for line in text.splitlines() if line.strip() and not line.startswith("#")]


@cache
def _phrases() -> dict[str, list[tuple[tuple[str, ...], str]]]:
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for kind, *words in rows("talk.txt"):
        found.setdefault(words[0], []).append((tuple(words), kind))
    return found


def kinds_in(plain: Sequence[str]) -> dict[str, int]:
    """The kinds of talk.txt whose words stand among these, each with the place of its first word."""
    table = _phrases()
    found: dict[str, int] = {}
    for i, word in enumerate(plain):
        fit = [(words, kind) for words, kind in table.get(word, ()) if tuple(plain[i : i + len(words)]) == words]
        if fit:
            longest = max(len(words) for words, _ in fit)
            for words, kind in fit:
                if len(words) == longest:
                    found.setdefault(kind, i)
    return found


def scenes(transcript: Transcript, heard: Sequence[Spoken]) -> list[Scene]:
    """The film's sentences with their kinds; ``heard`` is what was measured in it."""
    amounts = [one for one in heard if one.kind == "amount"]
    film = moments(transcript, {})
    if not film:
        return []
    plain = [bare(word.text) for word in transcript.words]
    told = [kinds_in(plain[m.first : m.last]) for m in film]
    opened = film[0].start
    length = max(film[-1].end - opened, 1)
    recap = _recap_from(film, told, heard, opened, length)
    if recap is None:
        recap = _rattled(film, heard, opened, length)
    done = [one.start for one in heard if one.kind in ("heat", "time")]
    listed = _list_range(film, told, amounts, done, opened, length) or _told_ahead(film, heard, opened, length, recap)
    has_stops = stopped(transcript)
    stories = of_others([plain[moment.first : moment.last] for moment in film])
    result: list[Scene] = []
    asked_until = instead_until = -1
    for n, (moment, kinds) in enumerate(zip(film, told, strict=True)):
        if "optional" in kinds and not _left_open(plain, transcript, moment.first + kinds["optional"], moment.first):
            del kinds["optional"]
        gap = moment.start - film[n - 1].end if n else 0
        if (moment.turn >= _TURN or gap >= _BREATH_MS) and "asked" not in kinds:
            asked_until = -1
        if "asked" in kinds:
            asked_until = moment.start + _ASKED_MS
        aside = moment.first + min(
            *(kinds.get(kind, _NEVER) for kind in ("instead", "story")),
            _NEVER if (story := stories[n]) is None else story,
            _condition(plain[moment.first : moment.last], kinds) if has_stops else _NEVER,
        )
        stance: Stance = "use"
        if recap is not None and n >= recap:
            stance = "recap"
        elif n in listed:
            stance = "list"
        elif moment.start < asked_until:
            stance = "asked"
        elif (
            "beside" in kinds
            or moment.start < instead_until
            or aside <= moment.first + _EARLY
            or (result and _answers(transcript, result[-1]))
        ):
            stance = "instead"
        if "instead" in kinds and not has_stops:
            instead_until = moment.start + _INSTEAD_MS
        words = tuple(plain[moment.first : moment.last])
        result.append(
            Scene(
                moment.first,
                moment.last,
                moment.start,
                moment.end,
                words,
                moment.turn,
                stance,
                frozenset({*kinds, *(["told"] if stories[n] is not None else [])}),
                aside,
            )
        )
    return result


def _left_open(plain: Sequence[str], transcript: Transcript, at: int, first: int) -> bool:
    """Whether "if you like" at word ``at`` leaves an ingredient out: not "more if you like", "if you want to be fussy".
    ``first``: where the sentence begins."""
    if plain[at] != "if":
        return True
    if at > first and plain[at - 1] in _MORE:
        return False
    end = next((i for i in range(at, min(at + 6, len(plain))) if plain[i] in ("want", "like", "wanna", "rather")), at)
    behind = plain[end + 1] if end + 1 < len(plain) else ""
    return transcript.words[end].text[-1:] in ".,;:!?" or behind not in _TO_BE


def _condition(words: list[str], kinds: Mapping[str, int]) -> int:
    """Where a sentence begins with "if" or "or use": what it says holds for some ("if you have only salted butter")."""
    at = next((i for i, word in enumerate(words) if word not in _BEFORE_IF), 0)
    if words[:1] == ["or"] and at == 1 and len(words) > 2 and words[1] in _OR_ELSE:
        return 0
    return at if words and words[at] == "if" and "optional" not in kinds else _NEVER


def stopped(transcript: Transcript) -> bool:
    """Whether the captions have full stops to go by."""
    stops = sum(1 for word in transcript.words if word.text.endswith((".", "?", "!")))
    return stops * 45 >= len(transcript.words)


def _answers(transcript: Transcript, before: Scene) -> bool:
    """ "No buttermilk? Then three quarters of a cup of milk", "You don't have? Lemon, …": what is said to who lacks."""
    lacks = before.plain[:1] == ("no",) or bool(
        {"don't", "haven't"} & set(before.plain) and {"have", "got", "any"} & set(before.plain)
    )
    return lacks and len(before.plain) < _SHORT_QUESTION and transcript.words[before.last - 1].text.endswith("?")


def _list_range(
    film: Sequence[Moment],
    told: Sequence[Mapping[str, int]],
    amounts: Sequence[Spoken],
    done: Sequence[int],
    opened: int,
    length: int,
) -> range:
    """The sentences of an opening list, empty where there is none: from the words that announce it to its last
    amount. ``done``: when heats and times are said (ms), for with those the cooking has begun, as it has where one of
    its amounts is said again."""
    for n, kinds in enumerate(told):
        if film[n].start - opened > _OPENING * length:
            break
        if "list" not in kinds:
            continue
        last, at = n, film[n].start
        listed: list[Spoken] = []
        for one in amounts:
            if one.first < film[n].first:
                continue
            begun = any(at < ms < one.start for ms in done) or any(_same(one, other) for other in listed)
            if one.start - at > _LIST_MS or (len(listed) >= 3 and begun):
                break
            last = next(i for i in range(n, len(film)) if film[i].last > one.first)
            at = one.start
            listed.append(one)
        if len(listed) >= 3:
            return range(n, last + 1)
    return range(0)


def _told_ahead(film: Sequence[Moment], heard: Sequence[Spoken], opened: int, length: int, recap: int | None) -> range:
    """The sentences of an opening list that nothing announces: amounts in a row, half of them said again in the
    cooking; empty where there is none. ``recap``: where one begins."""
    end = film[recap].first if recap is not None else film[-1].last
    amounts = [one for one in heard if one.kind == "amount" and one.match and one.first < end]
    done = [one.start for one in heard if one.kind in ("heat", "time")]
    for n, one in enumerate(amounts):
        if one.start - opened > _OPENING * length:
            break
        last = n
        while (
            last + 1 < len(amounts)
            and amounts[last + 1].start - amounts[last].start <= _AHEAD_MS
            and not any(amounts[last].start < ms < amounts[last + 1].start for ms in done)
        ):
            last += 1
        run, later = amounts[n : last + 1], amounts[last + 1 :]
        again = [o for o in run if any(_same(o, other) for other in later)]
        if len(run) >= _AHEAD and len(again) * 2 >= len(run):
            first = next(i for i, moment in enumerate(film) if moment.last > one.first)
            return range(first, next(i for i, moment in enumerate(film) if moment.last > run[-1].first) + 1)
    return range(0)


def _same(one: Spoken, other: Spoken) -> bool:
    """Whether the same amount of the same thing is said."""
    if one.match is None or other.match is None or one.match.row.name != other.match.row.name:
        return False
    return agree(one.amounts, other.amounts, one.match.row, one.size or other.size)


def _recap_from(
    film: Sequence[Moment],
    told: Sequence[Mapping[str, int]],
    heard: Sequence[Spoken],
    opened: int,
    length: int,
) -> int | None:
    """The first sentence of a recap, where one closes the film: its words, and three things measured in the half
    minute after them, an amount among them."""
    for n, kinds in enumerate(told):
        weak = "recap" not in kinds
        if film[n].start - opened < (_LAST if weak else _CLOSING) * length or (weak and "recap-maybe" not in kinds):
            continue
        near = [one.kind for one in heard if film[n].start <= one.start <= film[n].start + 30_000]
        if len(near) >= 3 and "amount" in near:
            return n
    return None


def _rattled(film: Sequence[Moment], heard: Sequence[Spoken], opened: int, length: int) -> int | None:
    """The first sentence of a recap that nobody announces: many amounts in a row, most of things measured before;
    or, at the very end, heats and times among them, and all of what was measured before."""
    known: set[str] = set()
    for one in heard:
        if one.kind != "amount":
            continue
        run = [o for o in heard if one.first <= o.first and o.start <= one.start + _RATTLE_MS and o.kind != "size"]
        told = [o for o in run if o.kind == "amount"]
        again = [o for o in told if o.match and o.match.row.name in known]
        many = len(told) >= _RATTLE and len(again) * 5 >= len(told) * 3 and one.start >= opened + _LAST * length
        last = len(run) >= _RATTLE and len(told) >= 2 and again == told and one.start >= opened + _VERY_LAST * length
        if many or last:
            return next(i for i, moment in enumerate(film) if moment.last > one.first)
        if one.match:
            known.add(one.match.row.name)
    return None

"""A film's talk in sentences, and what kind of talk each is: a list, the cooking itself, a recap, talk beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from pipeline.film.align.folds import bare, stop_words
from pipeline.film.align.moments import Moment, moments
from pipeline.film.draft.others import of_others
from pipeline.film.draft.runs import list_range, rattled, recap_from, told_ahead
from pipeline.film.spoken.atoms import word_set
from pipeline.film.spoken.said import Spoken
from pipeline.film.transcript import Transcript

Stance = Literal["list", "use", "recap", "instead", "asked"]

# A viewer's matter is over after so long, or at a turn to the next thing. Common practice, no source.
_ASKED_MS = 20_000
# How long a cook tells what half of it all would be, and words with which she goes on with her own.
_SCALED_MS = 12_000
_GOES_ON = frozenset(("now", "okay", "ok", "right", "next", "meanwhile", "back", "anyway"))
# "I make half", "just do double", "make half of everything".
_MAKE = word_set("make making made do doing did bake baking baked cook cooked")
_ONLY = frozenset(("just", "only", "about", "a", "the", "it", "them"))
_TIMES = frozenset(("half", "double", "twice", "triple", "quarter", "third"))
_ALL = word_set("of it that this them all everything the recipe amount batch lot quantities as much")
_SO = frozenset(("so", "then", "and", "which", "for", "it's", "that's", "with"))
# "More if you like", "if you want to be fussy": nothing is left out. Common practice, no source.
_MORE = frozenset(("more", "less", "extra", "longer", "thinner", "thicker"))
_TO_BE = frozenset(("to", "it", "a", "your", "things", "them", "this", "that"))
# "Or leave it out": what else may be done. Common practice, no source.
_OR_ELSE = frozenset(("leave", "use", "swap", "put", "try", "take", "go", "just", "even"))
# "You don't drink?": such a question begins so, and has fewer words than these.
_LACKS = frozenset(("don't", "haven't", "can't", "won't", "not"))
_HAVE = frozenset(("have", "got", "any", "eat", "drink", "like"))
_SHORT_QUESTION = 9
# A silence that ends it, too.
_BREATH_MS = 300
# "If you don't eat milk, …": words so early in a sentence make all of it an aside.
_EARLY = 3
_NEVER = 1_000_000_000
# "And if you haven't any": words with which such a sentence begins.
_BEFORE_IF = frozenset(("and", "but", "or", "so", "now", "also", "well", "then", "okay", "oh", "even"))
# "If it's cups you have", "if you weigh it".
_MEASURES = word_set("cups grams ounces pounds spoons scale scales weigh measure metric equal")
_THE = frozenset(("the", "your", "our", "my", "in", "goes", "some"))
# A food's name and its amount stand so near.
_FRAGMENT = 3
# Without full stops a "sentence" is a caption's line, so what is said of one goes on for so long.
_INSTEAD_MS = 7_000
_TURN = 0.8


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
    recap = recap_from(film, told, heard, opened, length, plain)
    if recap is None:
        recap = rattled(film, heard, opened, length)
    done = [one.start for one in heard if one.kind in ("heat", "time")]
    listed = list_range(film, told, amounts, done, opened, length) or told_ahead(film, heard, opened, length, recap)
    has_stops = stopped(transcript)
    stories = of_others([plain[moment.first : moment.last] for moment in film], _names(transcript, plain))
    result: list[Scene] = []
    asked_until = instead_until = scaled_until = -1
    for n, (moment, kinds) in enumerate(zip(film, told, strict=True)):
        if "optional" in kinds and not _left_open(plain, transcript, moment.first + kinds["optional"], moment.first):
            del kinds["optional"]
        if "instead" in kinds and _of_measures(plain[moment.first : moment.last]):
            del kinds["instead"]
        gap = moment.start - film[n - 1].end if n else 0
        cooks = has_stops and _names_first(plain, transcript, moment, amounts)
        if (moment.turn >= _TURN or gap >= _BREATH_MS or cooks) and "asked" not in kinds:
            asked_until = -1
        if "asked" in kinds:
            asked_until = moment.start + _ASKED_MS
        if "scaled" in kinds or _scales(plain, transcript, moment):
            scaled_until = moment.end + _SCALED_MS
        elif cooks or plain[moment.first] in _GOES_ON:
            scaled_until = -1
        aside = moment.first + min(
            *(kinds.get(kind, _NEVER) for kind in ("instead", "story")),
            0 if "when" in kinds else _NEVER,
            _NEVER if (story := stories[n]) is None else story,
            _condition(plain[moment.first : moment.last], kinds) if has_stops else _NEVER,
        )
        stance: Stance = "use"
        if moment.start < scaled_until:
            stance = "asked"
        elif recap is not None and n >= recap:
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


def _names(transcript: Transcript, plain: Sequence[str]) -> frozenset[str]:
    """Words that are written with a capital wherever they stand, so people's names among others; none where the
    captions have no stops."""
    if not stopped(transcript):
        return frozenset()
    text = [word.text for word in transcript.words]
    inner = {plain[i] for i, word in enumerate(text) if i and word[:1].isupper() and text[i - 1][-1:] not in '.!?"”'}
    small = {plain[i] for i, word in enumerate(text) if word[:1].islower()}
    begun = {
        plain[i]
        for i, word in enumerate(text)
        if word[:1].isupper()
        and word[1:].islower()
        and plain[i + 1 : i + 2] in (["puts"], ["says"], ["does"], ["uses"])
    }
    return frozenset((inner | begun) - small - {"i", "i'm", "i've", "i'll", "i'd"}) - stop_words()


def _scales(plain: Sequence[str], transcript: Transcript, moment: Moment) -> bool:
    """ "I make half", "do double of everything", "we made it times ten": what follows is for more people, or fewer."""
    for i in range(moment.first, moment.last - 1):
        if plain[i] in _ALL and plain[i + 1] == "times":
            return True
        at = i + 1
        if plain[i] not in _MAKE:
            continue
        while at < moment.last - 1 and plain[at] in _ONLY:
            at += 1
        if plain[at] not in _TIMES:
            continue
        while at < moment.last - 1 and plain[at + 1] in _ALL:
            at += 1
        if transcript.words[at].text[-1:] in ".,;:" or _SO & {*plain[at + 1 : at + 2]}:
            return True
    return False


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
    if _of_measures(words):
        return _NEVER
    if words[:1] == ["no"] and len(words) > 3 and {"use", "take", "try", "then"} & set(words[2:5]):
        return 0  # "no malt, use honey"
    if words[:1] == ["or"] and at == 1 and len(words) > 2 and (words[1] in _OR_ELSE or "if" in words):
        return 0  # "or leave it out", "or a cup and a half if you cooked your own"
    return at if words and words[at] == "if" and "optional" not in kinds else _NEVER


def _of_measures(words: Sequence[str]) -> bool:
    """ "If it's cups you have, it's a cup and three quarters": said once more for those who measure otherwise."""
    at = next((i for i, word in enumerate(words) if word not in _BEFORE_IF), 0)
    return words[at : at + 1] == ["if"] and bool(_MEASURES & set(words[at + 1 : at + 7]))


def _names_first(plain: Sequence[str], transcript: Transcript, moment: Moment, amounts: Sequence[Spoken]) -> bool:
    """ "Garlic. Three cloves", "and ginger, a teaspoon": the cook goes on with her own dish."""
    one = next((o for o in amounts if moment.first <= o.first < moment.last + _FRAGMENT), None)
    if one is None or not one.ingredient:
        return False
    lead = next((i for i in range(moment.first, moment.last) if plain[i] not in _BEFORE_IF | _THE), moment.last)
    own = one.ingredient.split()
    end = lead + len(own)
    if list(plain[lead:end]) != own or end > one.first or one.first - end > _FRAGMENT:
        return False
    return transcript.words[end - 1].text[-1:] in ".,"


def stopped(transcript: Transcript) -> bool:
    """Whether the captions have full stops to go by."""
    stops = sum(1 for word in transcript.words if word.text.endswith((".", "?", "!")))
    return stops * 45 >= len(transcript.words)


def _answers(transcript: Transcript, before: Scene) -> bool:
    """ "No buttermilk? Then three quarters of a cup of milk", "You don't drink? Then lemon juice", "And if it's dry?":
    what is said to who lacks or has something else."""
    if not transcript.words[before.last - 1].text.endswith("?"):
        return False
    words = [word for word in before.plain if word not in _BEFORE_IF]
    asked = words[:1] == ["if"] or words[:2] == ["what", "if"]
    lacks = words[:1] == ["no"] or bool(_LACKS & {*words[1:3]}) or bool(_LACKS & {*words[:1]} and _HAVE & {*words})
    return asked or (lacks and len(words) < _SHORT_QUESTION)

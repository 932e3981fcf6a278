"""Words of time that say no time of cooking: "half an hour ago", "we waited two hours for the ferry", "on forty second
street"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import Atom, text_at, word_set
from pipeline.film.spoken.numbers import Value
from pipeline.film.spoken.words import says
from pipeline.measure.duration import Name

# Behind a time these make it no time of cooking.
_PAST = word_set("ago old away later's longer late early walk drive ride flight journey older younger")
# Times of a life or of a film: "we waited two hours for the ferry", "skip ahead two minutes".
_LIVED = word_set(
    "born slept sleep stayed drive drove driven flew flown flight travelled traveled queued train bus walked ahead "
    "ferry visit holiday phone queue"
)
_SOMEBODY = word_set("i've we've i'd he's she's they've you've ive weve")
_AWAKE = word_set("on up here awake working standing")
_FILMS = word_set("video film episode show clip")
_COOKS = word_set(
    "cook bake simmer boil fry roast rest stir whisk knead beat mix blend steam wait leave let give toast proof prove "
    "chill soak steep microwave sear saute sauté blanch stand sit cool marinate ferment rise knead process pulse go "
    "goes another about for flip turn after freezer fridge"
)
KEEPS = word_set(
    "keep keeps freeze freezes frozen freezer store stored lasts fridge up ferment age aged cupboard larder pantry eat "
    "shelf"
)


# Behind an ordinal: "forty second street", "his thirty second birthday".
_PLACES = word_set("street avenue floor birthday anniversary between")


def _is_lived(atoms: Sequence[Atom], start: int, at: int) -> bool:
    """Whether a time is somebody's or a film's, and no cooking's."""
    near = [atom.text for atom in atoms[max(start - 4, 0) : start]]
    if "dough" in near:
        return False  # "the dough must sleep half an hour"
    if any(word in _LIVED for word in near) or near[-2:] == ["been", "waiting"]:
        return True
    if says(atoms, at + 1, "of", "it", "is") or says(atoms, at + 1, "of", "it", "was"):
        return True  # "an hour on the phone, and forty minutes of it"
    behind = [atom.text for atom in atoms[at + 1 : at + 4]]
    if behind[:1] == ["for"] and any(word in _LIVED for word in behind):
        return True
    who, was, where, how_long = (text_at(atoms, n) for n in range(start - 4, start))
    if who in _SOMEBODY and (was, how_long) == ("been", "for") and where in _AWAKE:
        return True  # "I've been on for twelve hours"
    return any(word in _FILMS for word in near) and (behind[:1] == ["long"] or near[-1] in ("is", "runs", "about"))


def is_trap(atoms: Sequence[Atom], start: int, at: int, value: Value, unit: Name) -> bool:
    """Words of time that say none: see :func:`pipeline.film.spoken.times.time_at`."""
    before, after = text_at(atoms, start - 1), text_at(atoms, at + 1)
    word = text_at(atoms, at)
    stopped = bool(atoms[at].stop)
    one = value.number.low == value.number.high == 1
    if not stopped and ((after in _PAST and (after != "longer" or one)) or says(atoms, at + 1, "in", "the", "past")):
        return True
    if one and before == "not":
        return True  # "and not one minute later"
    if unit == "day" and says(atoms, at + 1, "a", "week"):
        return True
    if _is_lived(atoms, start, at):
        return True
    if word == "minute" and one and not stopped and after in ("you", "you're", "i", "i'm"):
        return True
    if unit == "s" and value.number.high <= 3 and "in" in (before, text_at(atoms, start - 2)):
        return True  # "in about two seconds" is soon
    if word in ("second", "sec") and (one or (not stopped and after in _PLACES)):
        return True  # "on forty second between fifth and sixth"
    article = value.form == "article" and text_at(atoms, start) != "another"
    if word == "minute" and article and not says(atoms, at + 1, "and", "a"):
        if before in ("in", "wait", "just", "on", "got", "take", "this", "every", "any", "me", "last"):
            return True
        near = {atom.text for atom in atoms[max(start - 8, 0) : start]}
        return not near & _COOKS
    if unit == "day":
        if one:
            return before not in ("for", "about", "takes", "least", "another", "up", "it", "keeps", "keep") or (
                not stopped and after in ("i", "you", "we")
            )
        return before in ("these", "those", "old")
    if unit in ("week", "month"):
        near = {atom.text for atom in atoms[max(start - 8, 0) : at + 5]}
        return not near & KEEPS or (one and before not in KEEPS | {"for", "about", "to"})
    if unit == "h" and one and value.form == "article" and before in ("happy", "rush", "per"):
        return True
    return before == "per" or (not stopped and says(atoms, at + 1, "a", "day"))

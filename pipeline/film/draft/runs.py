"""Amounts told in a row: the list that opens a film, and the recap that closes it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from pipeline.film.align.moments import Moment
from pipeline.film.draft.alike import agree
from pipeline.film.spoken.said import Spoken

# The shares of a film in which an ingredient list may open it, and a recap may close it.
_OPENING, _CLOSING = 0.35, 0.75
# An opening list is over when no amount was said for so long.
_LIST_MS = 14_000
# An opening list that nothing announces: so many amounts, none so many ms behind the one before it, half of them of
# things that are measured again later on.
_AHEAD, _AHEAD_MS = 5, 9_000
# A recap without any words to announce it: so many amounts in so many ms, in the last part of the film.
_RATTLE, _RATTLE_MS, _LAST, _VERY_LAST = 5, 25_000, 0.8, 0.9


def list_range(
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


def told_ahead(film: Sequence[Moment], heard: Sequence[Spoken], opened: int, length: int, recap: int | None) -> range:
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


def recap_from(
    film: Sequence[Moment],
    told: Sequence[Mapping[str, int]],
    heard: Sequence[Spoken],
    opened: int,
    length: int,
    plain: Sequence[str],
) -> int | None:
    """The first sentence of a recap, where one closes the film: its words, and three things measured in the half
    minute after them, an amount among them."""
    for n, kinds in enumerate(told):
        weak = "recap" not in kinds
        if film[n].start - opened < (_LAST if weak else _CLOSING) * length or (weak and "recap-maybe" not in kinds):
            continue
        near = [one for one in heard if film[n].start <= one.start <= film[n].start + 30_000]
        amounts = [one for one in near if one.kind == "amount"]
        if (
            len(near) >= 3
            and amounts
            and not (weak and any(_is_new(one, heard, plain[: film[n].first]) for one in amounts))
        ):
            return n
    return None


def _is_new(said: Spoken, heard: Sequence[Spoken], before: Sequence[str]) -> bool:
    """Whether it is of a food of which nothing was measured, nor named in the words ``before``: no recap says that."""
    row = said.match.row.name if said.match else ""
    if row and said.ingredient.split()[-1] in before:
        return False
    return bool(row) and not any(o.match and o.match.row.name == row for o in heard if o.first < said.first)


def rattled(film: Sequence[Moment], heard: Sequence[Spoken], opened: int, length: int) -> int | None:
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

"""The same amount of the same food said once more: again, or for another use ("garlic, two cloves" in either sauce)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pipeline.film.draft.alike import agree
from pipeline.film.draft.events import Event
from pipeline.film.spoken.atoms import word_set

# So long after, in ms, what a cook says in the midst of other things is a second use.
_LATER_MS = 60_000
# Amounts said so near one another belong together.
_NEAR_MS = 20_000
# "The two cloves of garlic", "for a kilo of chicken": spoken of before.
_KNOWN = word_set("the your our my his her that those these this both all same for per than only still just about")
# What nearly every part of a meal takes some of: captions without stops may have lost who says it again.
_STAPLES = word_set("salt pepper oil butter sugar garlic vinegar")
_SAID_SO = frozenset(("again", "part", "more", "whole", "kept", "made", "maybe", "optional", "recap-maybe"))


def second_uses(events: Sequence[Event], plain: Sequence[str], flat: bool) -> list[Event]:
    """The events, those of a second use marked as such. ``flat``: the captions have no stops."""
    own = [event for event in events if event.stance in ("list", "use") and event.row is not None]
    before = {event.said.first: _said_before(event, own[:n]) for n, event in enumerate(own)}
    result: list[Event] = []
    for event in events:
        first = before.get(event.said.first)
        staple = not flat or bool(_STAPLES & set(event.name.split()))
        if first is not None and staple and _is_second(event, first, own, before, plain):
            event = replace(event, kinds=event.kinds | {"second"})
        result.append(event)
    return result


def _said_before(event: Event, before: Sequence[Event]) -> Event | None:
    return next((one for one in reversed(before) if _same(one, event)), None)


def _same(one: Event, other: Event) -> bool:
    if one.row is None or other.row is None or one.row.name != other.row.name:
        return False
    return agree(one.said.amounts, other.said.amounts, other.row, one.said.size or other.said.size)


def _is_second(
    event: Event, first: Event, own: Sequence[Event], before: dict[int, Event | None], plain: Sequence[str]
) -> bool:
    said = event.said
    if event.stance != "use" or first.stance != "use" or event.guessed_name or event.kinds & _SAID_SO:
        return False
    if said.guessed or said.start - first.said.end < _LATER_MS or not _said_anew(event, plain):
        return False
    # what stands around the first is said once more, too: that was a list; what stands around this one was said
    # before: this is a recap
    beside = [o for o in own if o is not first and abs(o.said.start - first.said.start) < _NEAR_MS]
    later = {id(one) for one in before.values() if one is not None}
    if any(id(o) in later for o in beside if o is not event):
        return False
    beside = [o for o in own if o is not event and abs(o.said.start - said.start) < _NEAR_MS]
    return bool(beside) and not any(before[o.said.first] for o in beside)


def _said_anew(event: Event, plain: Sequence[str]) -> bool:
    """Whether nothing before the amount says that it is known already."""
    said = event.said
    return not {*plain[max(said.first - 2, 0) : said.first + 1]} & _KNOWN

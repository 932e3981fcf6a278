"""Amounts that the cook takes back herself: "three cups, no, wait … two cups"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from pipeline.film.draft.events import Event
from pipeline.film.spoken.atoms import word_set

# Said between two amounts, the second is what is meant. Common practice, no source.
_CORRECTS = word_set("sorry wait actually correction scratch scrap oops whoops rather pardon lie misspoke")
# "No" takes something back where it stands alone, or before these: not "no more than that".
_NO = word_set("no sorry wait i it it's that's what not hang hold two three four half a one")
# "I mean", "what I say".
_MEANT = (
    ("i", "mean"),
    ("i", "meant"),
    ("hang", "on"),
    ("hold", "on"),
    ("what", "i", "say"),
    ("am", "i", "saying"),
    ("did", "i", "say"),
)
# A correction comes within so many words.
_FAR = 25


def put_right(events: Sequence[Event], plain: Sequence[str], ends: Sequence[bool]) -> list[Event]:
    """The events without those that the next one takes back; that one is then of what they were. ``ends``: a stop
    behind the word."""
    kept: list[Event] = []
    for event in events:
        before = kept[-1] if kept else None
        if before is not None and _takes_back(before, event, plain, ends):
            kept.pop()
            own = event.own_name or (event.row and before.row and event.row.name == before.row.name)
            if event.guessed_name or not own:
                event = replace(event, name=before.name, row=before.row, guessed_name=before.guessed_name)
            kinds = (event.kinds - {"more", "part"}) | before.kinds
            event = replace(event, kinds=kinds, note=event.note or before.note, instead=before.said)
        kept.append(event)
    return kept


def _takes_back(before: Event, event: Event, plain: Sequence[str], ends: Sequence[bool]) -> bool:
    a, b = before.said, event.said
    if not 0 <= b.first - a.last <= _FAR or event.stance != before.stance:
        return False
    other = event.row.name != before.row.name if event.row and before.row else event.name != before.name
    named = event.own_name or (event.name.split()[-1:] and event.name.split()[-1] in plain[a.last : b.first])
    if event.name and not event.guessed_name and named and other:
        return False
    if a.amounts[0].unit.kind != b.amounts[0].unit.kind and not a.guessed:
        return False  # "two, no, what do I say, one tablespoon" has its unit from the second
    between = plain[a.last : b.first + 1]
    return _corrects(between, ends[a.last : b.first], bool({"more", "part"} & event.kinds))


def _corrects(words: Sequence[str], ends: Sequence[bool], more: bool) -> bool:
    """Whether words between two amounts (and the first of the second) take the first back. ``more``: something
    speaks for the second being one more."""
    for i, word in enumerate(words[:-1]):
        if word in _CORRECTS or (word == "no" and not more and (ends[i] or words[i + 1] in _NO)):
            return True
        if any(tuple(words[i : i + len(phrase)]) == phrase for phrase in _MEANT):
            return True
    return False

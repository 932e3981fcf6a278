"""Everything measured that is said in a film: statements are found, joined where they say one thing twice,
and given the times of their words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from pipeline.film.spoken.atoms import Atom, atoms_of
from pipeline.film.spoken.counts import Counted
from pipeline.film.spoken.found import Found
from pipeline.film.spoken.groups import amounts_of, joined, kind_of, thing_of
from pipeline.film.spoken.halting import mended
from pipeline.film.spoken.heats import HOTTEST_C, SaidHeat
from pipeline.film.spoken.listed import listed
from pipeline.film.spoken.said import Spoken
from pipeline.film.spoken.scales import settled
from pipeline.film.spoken.stated import Said
from pipeline.film.spoken.statements import statements
from pipeline.film.spoken.things import Finds, Larder
from pipeline.film.spoken.times import SaidTime
from pipeline.film.transcript import Transcript
from pipeline.measure.heat import Scale, celsius
from pipeline.measure.record import replace

_OTHER: dict[Scale, Scale] = {"C": "F", "F": "C"}
# Pieces between two heats that may be one, and °C that they then stand apart at most.
_NEAR, _SAME_HEAT = 10, 4


def heard(transcript: Transcript, table: Finds) -> tuple[Spoken, ...]:
    """Every amount, heat, time and size said, in the order said; see :class:`Spoken`. Never raises.

    ``table`` is the ingredient table (``pipeline.measure.lookup.load()``); anything with its ``find`` will
    do.
    """
    atoms = mended(atoms_of([word.text for word in transcript.words]))
    larder = Larder(table)
    found = statements(atoms, larder)
    found = listed(_turned(found), atoms, larder)
    home = _home(found)
    return tuple(_spoken(group, atoms, transcript, home) for group in joined(found, atoms, larder))


def _turned(found: Sequence[Found]) -> list[Found]:
    """Heats whose scale is plain because the other scale's number is said near them: "Two hundred twenty. In America
    you say four twenty five Fahrenheit"."""
    result = list(found)
    for n, (one, other) in enumerate(pairwise(found)):
        for at, mine, sure in ((n, one.said, other.said), (n + 1, other.said, one.said)):
            if not isinstance(mine, SaidHeat) or not isinstance(sure, SaidHeat) or mine.sure or not sure.sure:
                continue
            turned = _OTHER.get(sure.heat.scale)
            if turned is None or other.start - one.end > _NEAR or mine.heat.fan:
                continue
            heat = replace(mine.heat, scale=turned)
            if abs(celsius(heat)[0] - celsius(sure.heat)[0]) <= _SAME_HEAT:
                result[at] = replace(result[at], said=mine._replace(heat=heat, sure=True))
    return result


def _home(found: Sequence[Found]) -> Scale | None:
    """The scale that this film says, or None where it says neither or both. What a thermometer shows is told
    in both by many a cook: it counts only where no oven's heat does."""
    told = [one.said.heat for one in found if isinstance(one.said, SaidHeat) and _tells(one.said)]
    ovens = [heat for heat in told if heat.low > 212 or (heat.scale == "C" and heat.low > 100)]
    said = Counter(heat.scale for heat in ovens or told)
    few, many = sorted((said["F"], said["C"]))
    if few * 3 > many or few == many:
        return None  # who says both is taken at the number
    return "F" if said["F"] > said["C"] else "C"


def _tells(said: SaidHeat) -> bool:
    """Whether the scale of a heat is known without its neighbours."""
    return said.heat.scale != "gas" and (said.sure or said.heat.high > HOTTEST_C or said.heat.fan)


def _spoken(group: Sequence[Found], atoms: Sequence[Atom], transcript: Transcript, home: Scale | None) -> Spoken:
    first, last = group[0].start, max(part.own_end for part in group)
    thing = thing_of(group)
    if thing is not None and first <= thing.start:
        last = max(last, min(thing.end, max(part.end for part in group)))
    low, high = atoms[first].word, atoms[last - 1].word + 1
    words = transcript.words[low:high]
    said = Spoken(
        kind=kind_of(group[0]),  # type: ignore[arg-type]
        words=" ".join(word.text for word in words),
        first=low,
        last=high,
        start=words[0].start,
        end=words[-1].end,
        amounts=tuple(a for part in group for a in amounts_of(part)),
        ingredient=thing.words if thing else "",
        match=thing.match if thing else None,
    )
    heats = [part.said for part in group if isinstance(part.said, SaidHeat)]
    if heats:
        return replace(said, heats=settled(heats, atoms, home), guessed=not all(h.sure for h in heats))
    times = [part.said for part in group if isinstance(part.said, SaidTime)]
    if times:
        once = dict.fromkeys((t.time.low, t.time.high, t.time.text) for t in times)  # "a minute, a minute on each side"
        times = times[: len(once)]
        return replace(said, times=tuple(t.time for t in times), guessed=any(t.guessed for t in times))
    sizes = [part.said.size for part in group if isinstance(part.said, Counted)]
    whole = next((part.said.whole for part in group if isinstance(part.said, Said)), None)
    guessed = any(isinstance(part.said, Said) and part.said.guessed for part in group)
    return replace(said, whole=whole, size=next((s for s in sizes if s), ""), guessed=guessed)

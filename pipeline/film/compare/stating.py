"""One said amount beside those written of the same thing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import Status, Verdict, compare
from pipeline.measure.record import replace
from pipeline.measure.units import Standard
from pipeline.measure.weighing import grams, interval

# Counted things that are all of one size; anything else that is counted (onions, cans) weighs what it weighs, and only
# a gross slip can be told. As in the check of written pairs.
_OF_ONE_SIZE = frozenset(("stick", "clove"))
_GROSS = 0.4, 2.5
# Between measures of two kinds the table's range decides; nearer than this nobody would see it. Common practice.
_CROSS = 0.15
# Between two weights, nearer than this nobody would taste it. Common practice, no source.
_NEAR = 0.03

# Half a litre is two cups in many a kitchen: so far apart, volumes may be of two kinds of cup.
_OTHER_CUP = 0.06

_RANK: dict[Status, int] = {"agrees": 0, "loose": 1, "unknown": 2, "disagrees": 3}


class Judged(NamedTuple):
    """What was ``said`` beside ``target``, what is written; ``direct`` where both measure alike.

    ``off``: how much more is said than written, relative to what is written, at typical weights. ``row`` and ``size``
    are what the comparison rests on.
    """

    status: Status
    off: float
    target: Amount | None
    said: Amount
    direct: bool
    row: Row | None = None
    size: str = ""
    standard: Standard = "us"

    @property
    def rank(self) -> int:
        return _RANK[self.status]

    def verdict(self) -> Verdict | None:
        """The whole pair check, with its likely slip: it takes a hundred times as long as the status alone."""
        if self.target is None:
            return None
        if self.said.unit.kind == "count" == self.target.unit.kind:
            return Verdict(self.status, self.off, None, (), None, "")
        return compare(self.said, self.target, None if self.direct else self.row, self.size, self.standard)


def beside(
    said: Amount, written: Sequence[Amount], row: Row | None, size: str = "", standard: Standard = "us"
) -> Judged:
    """Compares with the statement of the same kind where there is one; only else by way of the ingredient's weight.

    Who writes "2 Australian tablespoons" says "two tablespoons": whose measure it is, the page says once for both.
    """
    whose = next((w.unit for w in written if w.unit.name == said.unit.name and w.unit.whose), None)
    if whose is not None and said.unit.whose is None:
        said = replace(said, unit=whose)
    alike = [w for w in written if _alike(said, w)]
    if alike:
        judged = [_directly(said, w, standard) for w in alike]
        judged += [j for j in (_each(said, w, written, standard) for w in alike) if j is not None]
        return min(judged, key=lambda j: j.rank)
    crossed = [j for w in written if (j := _across(said, w, row, size, standard)).status != "unknown"]
    return min(crossed, key=lambda j: j.rank, default=Judged("unknown", 0.0, None, said, False))


def _alike(a: Amount, b: Amount) -> bool:
    if a.unit.kind == "count" or b.unit.kind == "count":
        return a.unit == b.unit
    return a.unit.kind == b.unit.kind


def _status(a: Amount, b: Amount, row: Row | None, size: str, standard: Standard, direct: bool) -> tuple[Status, float]:
    """The pair check's status and distance, without its search for a slip."""
    if direct:
        mid_a, mid_b = interval(a, "stated", standard), interval(b, "stated", standard)
    else:
        one, other = grams(a, row, "stated", size, standard), grams(b, row, "stated", size, standard)
        if one is None or other is None:
            return "unknown", 0.0
        mid_a, mid_b = one, other
    off = float(mid_a.middle() / mid_b.middle() - 1) if mid_b.middle() > 0 else 0.0
    statuses: tuple[tuple[Literal["careful", "honest"], Status], ...] = (("careful", "agrees"), ("honest", "loose"))
    for width, status in statuses:
        if direct:
            meets = interval(a, width, standard).meets(interval(b, width, standard))
        else:
            x, y = grams(a, row, width, size, standard), grams(b, row, width, size, standard)
            meets = x is not None and y is not None and x.meets(y)
        if meets:
            return status, off
    return "disagrees", off


def _directly(said: Amount, target: Amount, standard: Standard) -> Judged:
    if said.unit.kind != "count":
        status, off = _status(said, target, None, "", standard, True)
        if status == "disagrees" and abs(off) < (_OTHER_CUP if said.unit.kind == "volume" else _NEAR):
            status = "loose"
        return Judged(status, off, target, said, True, standard=standard)
    meets = said.low - said.far <= target.high + target.far and target.low - target.far <= said.high + said.far
    off = float(said.value / target.value - 1) if target.value else 0.0
    status = "agrees" if meets else "loose" if said.about or target.about else "disagrees"
    return Judged(status, off, target, said, True)


def _each(said: Amount, target: Amount, written: Sequence[Amount], standard: Standard) -> Judged | None:
    """ "Two cans, four twenty five grams a can": what is said of one thing, the page tells of all of them."""
    many = next((w.value for w in written if w.unit.kind == "count" and w.value > 1), None)
    if many is None or target.unit.kind == "count":
        return None
    judged = _directly(said.scaled(many), target, standard)
    return replace(judged, said=said) if judged.status in ("agrees", "loose") else None


def _across(said: Amount, target: Amount, row: Row | None, size: str, standard: Standard) -> Judged:
    status, off = _status(said, target, row, size, standard, False)
    counted = [a.unit.name for a in (said, target) if a.unit.kind == "count"]
    if status in ("loose", "disagrees") and any(name not in _OF_ONE_SIZE for name in counted):
        gross = not _GROSS[0] < 1 + off < _GROSS[1]
        status = "disagrees" if gross and row is not None and row.name == "egg" else "unknown"
    elif status == "disagrees" and abs(off) < _CROSS:
        status = "loose"
    return Judged(status, off, target, said, False, row, size, standard)


def all_beside(
    said: Sequence[Amount], written: Sequence[Amount], row: Row | None, size: str = "", standard: Standard = "us"
) -> Judged:
    """Several statements of one thing said: the worst of those that can be compared, directly compared ones first."""
    judged = [beside(one, written, row, size, standard) for one in said]
    known = [j for j in judged if j.status != "unknown"]
    if not known:
        return judged[0] if judged else Judged("unknown", 0.0, None, said[0], False)
    direct = [j for j in known if j.direct]
    return max(direct or known, key=lambda j: j.rank)

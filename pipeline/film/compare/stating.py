"""One said amount beside those written of the same thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from pipeline.measure.amount import Amount
from pipeline.measure.ingredients import Row
from pipeline.measure.pair import Status, Verdict, compare
from pipeline.measure.units import Standard

# Counted things that are all of one size; anything else that is counted (onions, cans) weighs what it weighs, and only
# a gross slip can be told. As in the check of written pairs.
_OF_ONE_SIZE = frozenset(("stick", "clove"))
_GROSS = 0.4, 2.5
# Between measures of two kinds the table's range decides; nearer than this nobody would see it. Common practice.
_CROSS = 0.15

_RANK: dict[Status, int] = {"agrees": 0, "loose": 1, "unknown": 2, "disagrees": 3}


@dataclass(frozen=True, slots=True)
class Judged:
    """``verdict`` compares what was said with ``target``, what is written; ``direct`` where both measure alike."""

    status: Status
    verdict: Verdict | None
    target: Amount | None
    said: Amount
    direct: bool

    @property
    def rank(self) -> int:
        return _RANK[self.status]


def beside(
    said: Amount, written: Sequence[Amount], row: Row | None, size: str = "", standard: Standard = "us"
) -> Judged:
    """Compares with the statement of the same kind where there is one; only else by way of the ingredient's weight."""
    alike = [w for w in written if _alike(said, w)]
    if alike:
        judged = [_directly(said, w, standard) for w in alike]
        judged += [j for j in (_each(said, w, written, standard) for w in alike) if j is not None]
        return min(judged, key=lambda j: j.rank)
    crossed = [j for w in written if (j := _across(said, w, row, size, standard)).status != "unknown"]
    return min(crossed, key=lambda j: j.rank, default=Judged("unknown", None, None, said, False))


def _alike(a: Amount, b: Amount) -> bool:
    if a.unit.kind == "count" or b.unit.kind == "count":
        return a.unit == b.unit
    return a.unit.kind == b.unit.kind


def _directly(said: Amount, target: Amount, standard: Standard) -> Judged:
    if said.unit.kind != "count":
        verdict = compare(said, target, None, "", standard)
        status: Status = verdict.status
        if status == "disagrees" and abs(verdict.off) < 0.03:
            status = "loose"
        return Judged(status, verdict, target, said, True)
    meets = said.low - said.far <= target.high + target.far and target.low - target.far <= said.high + said.far
    off = float(said.value / target.value - 1) if target.value else 0.0
    status = "agrees" if meets else "loose" if said.about or target.about else "disagrees"
    return Judged(status, Verdict(status, off, None, (), None, ""), target, said, True)


def _each(said: Amount, target: Amount, written: Sequence[Amount], standard: Standard) -> Judged | None:
    """ "Two cans, four twenty five grams a can": what is said of one thing, the page tells of all of them."""
    many = next((w.value for w in written if w.unit.kind == "count" and w.value > 1), None)
    if many is None or target.unit.kind == "count":
        return None
    judged = _directly(said.scaled(Fraction(many)), target, standard)
    return Judged(judged.status, judged.verdict, target, said, True) if judged.status in ("agrees", "loose") else None


def _across(said: Amount, target: Amount, row: Row | None, size: str, standard: Standard) -> Judged:
    verdict = compare(said, target, row, size, standard)
    status = verdict.status
    counted = [a.unit.name for a in (said, target) if a.unit.kind == "count"]
    if status in ("loose", "disagrees") and any(name not in _OF_ONE_SIZE for name in counted):
        gross = not _GROSS[0] < 1 + verdict.off < _GROSS[1]
        status = "disagrees" if gross and row is not None and row.name == "egg" else "unknown"
    elif status == "disagrees" and abs(verdict.off) < _CROSS:
        status = "loose"
    return Judged(status, verdict, target, said, False)


def all_beside(
    said: Sequence[Amount], written: Sequence[Amount], row: Row | None, size: str = "", standard: Standard = "us"
) -> Judged:
    """Several statements of one thing said: the worst of those that can be compared, directly compared ones first."""
    judged = [beside(one, written, row, size, standard) for one in said]
    known = [j for j in judged if j.status != "unknown"]
    if not known:
        return judged[0] if judged else Judged("unknown", None, None, said[0], False)
    direct = [j for j in known if j.direct]
    if any(j.rank == 0 and j.said.unit.kind == "count" for j in direct):
        return min(direct, key=lambda j: j.rank)  # "two pounds, two apples": the weight was of something else
    return max(direct or known, key=lambda j: j.rank)

"""Two measures said of one thing: do they agree?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import Literal

from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.mending import amount_screen, said_text
from pipeline.film.compare.misheard import amounts_alike, heats_alike
from pipeline.film.compare.remark import Remark, Weight
from pipeline.film.compare.stating import Judged, beside
from pipeline.film.compare.whose import talk_doubt
from pipeline.measure.amount import Amount
from pipeline.measure.heat import Heat
from pipeline.measure.pair import Verdict
from pipeline.measure.pair_heat import compare_heat, compare_time
from pipeline.measure.record import replace
from pipeline.recipe.model import HeatMark

# Two measures that disagree in themselves are wrong whoever says them: more doubt is borne.
_UNSURE, _DISMISS = 2.0, 5.0

Backed = Literal["first", "second", "both", "neither", "unknown"]


def pair_remarks(film: Film, chosen: Mapping[int, Best]) -> Iterator[tuple[int, Remark]]:
    """(index of the utterance, remark) for every pair that disagrees; what the page has just so is the page's slip."""
    for index, utterance in enumerate(film.utterances):
        if utterance.scope == "apart":
            continue
        said = utterance.said
        remark = None
        if said.kind == "amount" and len(said.amounts) > 1:
            remark = _amounts(film, utterance, chosen.get(index))
        elif said.kind in ("heat", "time"):
            remark = _others(film, utterance)
        if remark is None:
            continue
        doubted = talk_doubt(film, index, chosen)
        if doubted < _DISMISS:
            clear = remark.weight == "clear" and doubted >= _UNSURE
            yield index, replace(remark, weight="doubtful") if clear else remark


def _amounts(film: Film, utterance: Utterance, best: Best | None) -> Remark | None:
    said = utterance.said
    row = best.candidate.listed.row if best else said.match.row if said.match else None
    size = said.size or (best.candidate.listed.line.size if best else "")
    worst: tuple[Judged, Amount] | None = None
    for a, b in combinations(said.amounts, 2):
        judged = beside(a, [b], row, size, film.standard)
        if _each(a, b, said.amounts, film):
            continue
        if judged.status in ("loose", "disagrees") and (worst is None or judged.rank > worst[0].rank):
            worst = judged, b
    if worst is None:
        return None
    judged, other = worst
    if not judged.direct and _of_other(judged.said, other, utterance, film):
        return None
    backed = _backed(film, best, judged.said, other)
    if backed == "both" or (judged.status == "loose" and backed in ("first", "second")):
        return None
    line = best.candidate.listed.line if best else None
    target = best.written.targets[0] if best and best.written.targets else None
    return Remark(
        kind="pair",
        weight=_weight(film, utterance, best, judged, other, backed),
        at=said.start,
        words=said.words,
        name=str(line.name) if line else said.ingredient or "this",
        said=said_text(judged.said),
        written=said_text(other),
        span=line.span if line else film.recipe.title.span,
        spoken=said,
        line=line,
        verdict=judged.verdict(),
        hint=_hint(backed, judged.said, other),
        screen=amount_screen(target, line, film.standard) if target and line else "",
    )


def _of_other(first: Amount, second: Amount, utterance: Utterance, film: Film) -> bool:
    """Whether the two agree as amounts of another line that has one of them and may be meant: "lemon juice, out of
    those lemons. Two tablespoons, thirty grams."."""
    steps = film.course.steps(utterance.said.start)
    for one in film.written:
        row = one.listed.row
        if row is None or (steps and not steps & frozenset(one.steps)) or not one.targets:
            continue
        if beside(first, [second], row, one.listed.line.size, film.standard).rank > 1:
            continue
        amounts = [a for t in one.targets for a in t.amounts]
        if min(beside(half, amounts, None, "", film.standard).rank for half in (first, second)) == 0:
            return True
    return False


def _each(a: Amount, b: Amount, every: tuple[Amount, ...], film: Film) -> bool:
    """Whether one of the two is of each thing and the other of all: "two cans of 400 grams, 800 in all"."""
    many = next((x.value for x in every if x.unit.kind == "count" and x.value > 1), None)
    if many is None or "count" in (a.unit.kind, b.unit.kind):
        return False
    return beside(a.scaled(many), [b], None, "", film.standard).rank == 0 or (
        beside(a, [b.scaled(many)], None, "", film.standard).rank == 0
    )


def _weight(
    film: Film, utterance: Utterance, best: Best | None, judged: Judged, other: Amount, backed: Backed
) -> Weight:
    if judged.status == "loose":
        return "loose"
    if film.speech.flat and any(a.text.lower().startswith("point ") for a in (judged.said, other)):
        return "misheard"  # "2 point 3 kilos" of which the first figure was lost
    if film.speech.flat and best is not None and backed in ("first", "second"):
        odd = other if backed == "first" else judged.said
        if any(amounts_alike(odd, t.amounts) for t in best.written.targets):
            return "misheard"
    if utterance.said.guessed or film.speech.flat or (not judged.direct and best is None):
        return "doubtful"
    if not judged.direct and best is not None and not best.candidate.sure:
        return "doubtful"
    # Where the page has neither, the two may be of two things.
    return "doubtful" if backed == "neither" and not utterance.said.ingredient else "clear"


def _backed(film: Film, best: Best | None, first: Amount, second: Amount) -> Backed:
    """Which of the two the page has."""
    if best is None or not best.written.targets:
        return "unknown"
    ranks = [
        min(
            beside(half, t.amounts, best.candidate.listed.row, best.candidate.listed.line.size, film.standard).rank
            for t in best.written.targets
        )
        for half in (first, second)
    ]
    if ranks[0] <= 1 and ranks[1] <= 1:
        return "both"
    if ranks[0] == 0:
        return "first"
    return "second" if ranks[1] == 0 else "neither"


def _hint(backed: Backed, first: Amount, second: Amount) -> str:
    if backed in ("first", "second"):
        return f"the page has `{said_text(first if backed == 'first' else second)}`"
    return "the page has neither" if backed == "neither" else ""


def _others(film: Film, utterance: Utterance) -> Remark | None:
    """A heat or a time said twice over."""
    said = utterance.said
    worst: tuple[Verdict, str, str] | None = None
    for a, b in combinations(said.heats, 2):
        verdict = compare_heat(a, b)
        if verdict.status == "disagrees" and (a.scale != b.scale or a.fan != b.fan):
            worst = worst or (verdict, a.text, b.text)
    for x, y in combinations(said.times, 2):
        verdict = compare_time(x, y)
        if verdict.status == "disagrees":
            worst = worst or (verdict, x.text, y.text)
    if worst is None:
        return None
    verdict, one, other = worst
    step = film.course.step(said.start)
    span = film.recipe.steps[step].span if step is not None else film.recipe.title.span
    name, hint, screen = ("one heat" if said.kind == "heat" else "one time"), "", ""
    weight: Weight = "doubtful" if said.kind == "time" else "clear"
    mark = _heat_mark(film, said.heats)
    if mark is not None:
        n, piece, right = mark
        step, span, name = n, piece.whole.span, f"step {n + 1}"
        hint, screen = f"the page has `{piece.whole}`", str(piece.whole)
        odd = next((h for h in said.heats if h is not right), right)
        if film.speech.flat and any(heats_alike(odd, h) for h in piece.heats):
            weight = "misheard"
    return Remark(
        kind="pair",
        weight=weight,
        at=said.start,
        words=said.words,
        name=name,
        said=one,
        written=other,
        span=span,
        spoken=said,
        step=step,
        verdict=verdict,
        hint=hint,
        screen=screen,
    )


def _heat_mark(film: Film, heats: Sequence[Heat]) -> tuple[int, HeatMark, Heat] | None:
    """The step and the mark that one of these heats agrees with, and that heat."""
    for heat in heats:
        for n, step in enumerate(film.recipe.steps):
            for piece in step.pieces:
                if isinstance(piece, HeatMark) and any(
                    h.scale == heat.scale and compare_heat(heat, h).status == "agrees" for h in piece.heats
                ):
                    return n, piece, heat
    return None

"""Heats said beside those of the steps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.likely import slip_of_heat
from pipeline.film.compare.misheard import heats_alike
from pipeline.film.compare.page_marks import At, differs, marks_of
from pipeline.film.compare.remark import Remark, Weight
from pipeline.film.compare.whose import DISMISS, DOUBT, talk_doubt
from pipeline.measure.heat import Heat, celsius
from pipeline.measure.oven import without_fan
from pipeline.measure.pair_heat import compare_heat
from pipeline.measure.record import replace
from pipeline.recipe.span import Span

# °C from which a heat is an oven's or a fat's, not a room's, a drink's or a joint's.
_HOT = Fraction(90)
# °C farther apart than any two statements of one heat.
_FARTHEST = 15
# °C above which no home oven goes: what was heard is no heat.
_HOTTEST = Fraction(320)
# °C that no weather, no room and no fever has, in whatever scale it was said.
_NO_WEATHER = Fraction(115)
_WEATHER = re.compile(
    r"\b(?:outside|weather|today|summer|winter|room temperature|fever|body|water bath|fridge|freezer)\b"
)

_TYPED_HEAT = re.compile(r"(\d{2,3})\s*(?:°|º|degrees?)?\s*([FC])\b|gas(?: mark)? (\d)")


def heat_remarks(film: Film, chosen: Mapping[int, Best]) -> Iterator[Remark]:
    """Heats that no step has, beside the heat that they must be meant for."""
    marks = [m for m in marks_of(film) if m.heats]
    loose = [
        Heat(Fraction(m[1] or m[3]), Fraction(m[1] or m[3]), "gas" if m[3] else "F" if m[2] == "F" else "C")
        for m in _TYPED_HEAT.finditer(film.recipe.source)
    ]
    for index, utterance in enumerate(film.utterances):
        said = utterance.said
        if said.kind != "heat" or utterance.scope == "apart" or not marks:
            continue
        around = film.speech.around(said)
        degrees = max(celsius(said.heats[0]))
        inside = any(_inside(h, degrees) for m in marks for h in m.heats) and not said.guessed
        inside = inside or (not film.speech.flat and _slip(said.heats[0], marks, said.guessed))
        if degrees < _NO_WEATHER and _WEATHER.search(f"{around.before} {around.behind}"):
            continue
        if not (degrees <= _HOTTEST and (inside or degrees >= _HOT)):
            continue
        every = [h for m in marks for h in m.heats] + loose
        ranks = [min(_heat_rank(h, every, said.guessed), 2) for h in said.heats]
        if 0 in ranks:
            continue
        doubted = talk_doubt(film, index, chosen)
        remark = _heat_remark(film, utterance, marks) if doubted < DISMISS else None
        if remark:
            clear = remark.weight == "clear" and doubted < DOUBT
            yield remark if clear or remark.weight != "clear" else replace(remark, weight="doubtful")


def _inside(heat: Heat, degrees: Fraction) -> bool:
    """Whether a heat of the page is one of the inside of a joint, and so near that it may be meant."""
    return celsius(heat)[0] < _HOT and abs(celsius(heat)[0] - degrees) <= _FARTHEST


def _slip(said: Heat, marks: Sequence[At], guessed: bool) -> bool:
    """Whether it is what a slip makes of a heat of the page: "eighteen degrees", "110 °F" for 110 °C."""
    return any(slip_of_heat(one, h) for one in _readings(said, guessed) for m in marks for h in m.heats)


def _readings(heat: Heat, guessed: bool) -> tuple[Heat, ...]:
    return (
        (heat, replace(heat, scale="C" if heat.scale == "F" else "F")) if guessed and heat.scale != "gas" else (heat,)
    )


def _heat_rank(said: Heat, written: Sequence[Heat], guessed: bool) -> int:
    """0 agrees, 1 loose, 2 disagrees with all."""
    best = 2
    for one in _readings(said, guessed):
        for other in written:
            if abs(celsius(without_fan(one))[0] - celsius(without_fan(other))[0]) > _FARTHEST:
                continue
            status = compare_heat(one, other).status
            best = min(best, 0 if status == "agrees" else 1 if status == "loose" else 2)
    return best


def _heat_remark(film: Film, utterance: Utterance, marks: Sequence[At]) -> Remark | None:
    said = utterance.said
    steps = film.course.steps(said.start)
    heat = said.heats[0]
    # "a hundred and sixty five Celsius" for 165 °F: the same figure of the other scale can only be that
    turned = [m for m in marks if any(h.low == heat.low and h.scale != heat.scale for h in m.heats)]
    hot = turned or [m for m in marks if (max(celsius(m.heats[0])) >= 125) == (max(celsius(heat)) >= 125)]
    here = [m for m in hot if steps and m.step in steps]
    weight: Weight = "clear"
    if len(here) != 1:
        weight = "clear" if len(hot) == 1 else "doubtful"
        here = here or hot
    if not here:
        return None
    mark = min(here, key=lambda m: min(abs(celsius(h)[0] - celsius(heat)[0]) for h in m.heats))
    same = next((h for h in mark.heats if h.scale == heat.scale and h.fan == heat.fan), mark.heats[0])
    verdict = min((compare_heat(h, same) for h in _readings(heat, said.guessed)), key=lambda v: abs(v.off))
    if verdict.status == "loose":
        weight = "loose"
    how = heats_alike(heat, same)
    if how == "sounds" or (how and film.speech.flat):
        weight = "misheard"
    elif weight == "clear" and said.guessed and same.scale != heat.scale:
        weight = "doubtful"
    return differs(mark, said, heat.text, weight, verdict, _edit(mark, said.heats))


def _edit(mark: At, heats: Sequence[Heat]) -> tuple[tuple[Span, str], ...]:
    """The mark rewritten, where as many heats were said as it has, on sure scales."""
    if (
        len(heats) != 1
        or len(mark.heats) != 1
        or heats[0].scale != mark.heats[0].scale
        or heats[0].low != heats[0].high
    ):
        return ()
    text = f"gas {heats[0].low}" if heats[0].scale == "gas" else f"{heats[0].low} {heats[0].scale}"
    return ((mark.whole.span, text),)

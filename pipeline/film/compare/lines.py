"""Amounts said beside the ingredient lines: what is said and is not what is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from pipeline.film.clock import say_moment
from pipeline.film.compare.excuses import excused
from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.mending import amount_edits, amount_screen, said_text, written_text
from pipeline.film.compare.misheard import amounts_alike
from pipeline.film.compare.parts import more_in_all
from pipeline.film.compare.remark import Remark, Weight
from pipeline.film.compare.stating import Judged, all_beside
from pipeline.film.compare.targets import Target
from pipeline.film.compare.whose import DISMISS, DOUBT, doubt

# A name fits about as well as another within this much.
_NEAR_FIT = 0.15
# By way of an ingredient's weight, less than this apart is not said to be a slip. Common practice, no source.
_CROSS = 0.3


def amount_remarks(film: Film, chosen: Mapping[int, Best], taken: set[int]) -> Iterator[Remark]:
    """What differs from the page; ``taken`` are indices into ``film.utterances`` that were spoken of already."""
    for index, utterance in enumerate(film.utterances):
        best = chosen.get(index)
        if best is None or index in taken or best.judged is None:
            continue
        if best.rank == 0:
            # "the other hundred grams", where the other is fifty
            if more_in_all(film, index, best, chosen) and not _right_here(film, utterance, best):
                yield _differs(film, index, best, chosen, True)
            continue
        if best.judged.status == "unknown" or excused(film, index, utterance, best, chosen):
            continue
        doubted = doubt(film, index, best, chosen)
        if doubted < DISMISS:
            yield _differs(film, index, best, chosen, doubted >= DOUBT)


def _differs(film: Film, index: int, best: Best, chosen: Mapping[int, Best], doubted: bool) -> Remark:
    utterance = film.utterances[index]
    said, line, row = utterance.said, best.candidate.listed.line, best.candidate.listed.row
    target = _told(film, utterance, best)
    judged = all_beside(said.amounts, target.amounts, row, said.size or line.size, film.standard)
    if judged.target is None:
        assert best.judged is not None and best.target is not None
        target, judged = best.target, best.judged
    assert judged.target is not None
    n = target.amounts.index(judged.target)
    weight = _weight(film, index, best, judged, target, chosen)
    return Remark(
        kind="differs",
        weight="doubtful" if doubted and weight == "clear" else weight,
        at=said.start,
        words=said.words,
        name=str(line.name),
        said=said_text(judged.said),
        written=written_text(judged.target, line.size),
        span=target.spans[n] if n < len(target.spans) else line.span,
        spoken=said,
        line=line,
        step=target.step if target.step is not None else film.course.step(said.start),
        verdict=judged.verdict(),
        hint=_hint(film, index, best, chosen),
        edits=amount_edits(film.recipe, target, judged, row, line, film.standard),
        screen=amount_screen(target, line, film.standard),
    )


def _told(film: Film, utterance: Utterance, best: Best) -> Target:
    """What the page has there: what the film's step takes, where that is known; else the list's total."""
    steps = film.course.steps(utterance.said.start)
    here = [t for t in best.written.targets if t.step is not None and steps and t.step in steps]
    if len(here) == 1 and utterance.scope == "use":
        return here[0]
    return best.written.targets[0]


def _right_here(film: Film, utterance: Utterance, best: Best) -> bool:
    """Whether it is what the film's step takes."""
    said, line, row = utterance.said, best.candidate.listed.line, best.candidate.listed.row
    told = _told(film, utterance, best).amounts
    return all_beside(said.amounts, told, row, said.size or line.size, film.standard).rank == 0


def _weight(film: Film, index: int, best: Best, judged: Judged, target: Target, chosen: Mapping[int, Best]) -> Weight:
    how = amounts_alike(judged.said, target.amounts)
    if how == "sounds" or (how and film.speech.flat):
        return "misheard"
    off = judged.off
    if judged.status == "loose" or (not judged.direct and -_CROSS / (1 + _CROSS) < off < _CROSS):
        return "loose"
    utterance = film.utterances[index]
    if not best.candidate.sure or utterance.said.guessed or not utterance.strong:
        return "doubtful"
    return "clear" if _alone(film, index, best, chosen) else "doubtful"


def _alone(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> bool:
    """Whether no other line can be meant: every other of that name was said as written elsewhere."""
    for rival in film.utterances[index].lines:
        if rival is best or rival.candidate.fit < best.candidate.fit - _NEAR_FIT:
            continue
        place = rival.candidate.listed.place
        if not any(b.candidate.listed.place == place and b.rank == 0 for i, b in chosen.items() if i != index):
            return False
    return True


def _hint(film: Film, index: int, best: Best, chosen: Mapping[int, Best]) -> str:
    place = best.candidate.listed.place
    for i, other in chosen.items():
        if i != index and other.candidate.listed.place == place and other.rank == 0:
            return f"at {say_moment(film.utterances[i].said.start, hours=True)} it is said as written"
    return ""

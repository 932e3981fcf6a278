"""How near the marks come to the truth: every marked film in every kind of captions, two baselines beside them.

Run ``python tests/film/score_align.py`` (``--misses`` lists marks more than ten seconds off, ``--apart`` the films
that nobody tunes on). Where the PyPI package chunkseg is installed, its boundary figures stand beside ours.

An error is the distance between a mark and the true beginning; a step that the film tells and that gets no mark counts
as :data:`MISSED`. A step that the film does not tell counts as an error when it gets a mark.

Baselines:

``cue``
    each step at the beginning of the one caption most like it (cosine of idf weights), whatever the order
``no order``
    the evidence of our own alignment, each step at the moment where most of it follows, whatever the order
``in order``
    the first baseline's similarities, decoded so that steps ascend within their component; what is published for films
    like these is 63 % within ten seconds
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import log, sqrt
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import marked
import noise

from pipeline.film.align import aligned
from pipeline.film.align.evidence import weigh
from pipeline.film.align.folds import fold, near_words, stop_words
from pipeline.film.align.moments import moments
from pipeline.film.align.profile import profiles, vocabulary
from pipeline.film.captions import read_captions, read_captions_text
from pipeline.film.clock import say_moment
from pipeline.film.transcript import Transcript
from pipeline.measure.lookup import Table, load
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read

#: Seconds that a told step without a mark counts as: a viewer who looks for it gives up after a minute.
MISSED = 60.0

Marker = Callable[[Recipe, Transcript], Mapping[int, int]]
DEMO = Path(__file__).parents[2] / "content" / "recipes"


@dataclass(frozen=True, slots=True)
class Case:
    """One film in one kind of captions; ``truth`` maps a step's index to milliseconds."""

    film: str
    form: str
    recipe: Recipe
    transcript: Transcript
    truth: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Score:
    """Seconds off for each told step; ``extra`` counts marks of steps that are not told."""

    errors: tuple[float, ...]
    extra: int = 0

    @property
    def mean(self) -> float:
        return sum(self.errors) / len(self.errors)

    def within(self, seconds: float) -> float:
        return sum(1 for e in self.errors if e <= seconds) / (len(self.errors) + self.extra)

    def __add__(self, other: Score) -> Score:
        return Score(self.errors + other.errors, self.extra + other.extra)


@cache
def _table() -> Table:
    return load()


def cases(forms: Sequence[noise.Form] = noise.FORMS, apart: bool = False, seed: int = 0) -> Iterator[Case]:
    """The marked films in each form of captions."""
    for film in marked.films(apart):
        recipe = read(film.recipe)
        truth = {number - 1: ms for number, ms in film.marks.items()}
        for form in forms:
            text = noise.captions(film, form, seed)
            yield Case(film.name, form, recipe, read_captions_text(text, film.name + noise.SUFFIX[form]), truth)


def demo() -> Iterator[Case]:
    """The demo channel's films, whose marks their recipes give."""
    for path in sorted(DEMO.glob("*/captions.*")):
        recipe = read(path.parent / "recipe.yaml")
        truth = {n: step.at for n, step in enumerate(recipe.steps) if step.at is not None}
        yield Case(path.parent.name, path.suffix[1:], recipe, read_captions(path), truth)


def ours(recipe: Recipe, transcript: Transcript) -> dict[int, int]:
    return {m.step: m.at for m in aligned(recipe, transcript, _table()).marks if m.at is not None}


def no_order(recipe: Recipe, transcript: Transcript) -> dict[int, int]:
    made = profiles(recipe, _table())
    film = moments(transcript, near_words(vocabulary(made)))
    gain = weigh(film, made).gain
    found: dict[int, int] = {}
    for step in range(len(made)):
        values = [sum(gain[m].get(step, 0.0) for m in range(i, min(i + 4, len(film)))) for i in range(len(film))]
        found[step] = film[max(range(len(film)), key=lambda i: values[i])].start
    return found


def _likeness(recipe: Recipe, transcript: Transcript) -> list[list[float]]:
    """Cosine of idf weights between each step's text and each cue's."""

    def bag(text: str) -> Counter[str]:
        return Counter(f for word in text.split() if word.lower() not in stop_words() and (f := fold(word)))

    steps = [bag(f"{step.title} {step.text.replace('{', ' ').replace('}', ' ')}") for step in recipe.steps]
    cues = [bag(cue.text) for cue in transcript.cues]
    seen = Counter(word for one in (*steps, *cues) for word in one)
    idf = {word: log((1 + len(steps) + len(cues)) / n) for word, n in seen.items()}

    def size(one: Counter[str]) -> float:
        return sqrt(sum((n * idf[w]) ** 2 for w, n in one.items())) or 1.0

    cue_sizes = [size(cue) for cue in cues]
    return [
        [
            sum(n * cue.get(w, 0) * idf[w] ** 2 for w, n in step.items()) / (size(step) * cue_size)
            for cue, cue_size in zip(cues, cue_sizes, strict=True)
        ]
        for step in steps
    ]


def best_cue(recipe: Recipe, transcript: Transcript) -> dict[int, int]:
    likeness = _likeness(recipe, transcript)
    cues = transcript.cues
    return {step: cues[max(range(len(cues)), key=row.__getitem__)].start for step, row in enumerate(likeness)}


def cue_in_order(recipe: Recipe, transcript: Transcript) -> dict[int, int]:
    likeness = _likeness(recipe, transcript)
    cues = transcript.cues
    found: dict[int, int] = {}
    for component in {step.component for step in recipe.steps}:
        steps = [n for n, step in enumerate(recipe.steps) if step.component == component]
        best = [0.0] * (len(cues) + 1)
        choice: list[list[int]] = []
        for step in steps:
            fresh, took = [0.0] * (len(cues) + 1), [-1] * (len(cues) + 1)
            for c in range(len(cues)):
                here = best[c] + likeness[step][c]
                fresh[c + 1], took[c + 1] = max((fresh[c], took[c]), (here, c))
            best = fresh
            choice.append(took)
        at = len(cues)
        for step, took in zip(reversed(steps), reversed(choice), strict=True):
            cue = took[at]
            if cue >= 0:
                found[step], at = cues[cue].start, cue
    return found


MARKERS: dict[str, Marker] = {"ours": ours, "in order": cue_in_order, "no order": no_order, "cue": best_cue}


def score(case: Case, marker: Marker = ours) -> Score:
    """The errors of one film's marks."""
    found = marker(case.recipe, case.transcript)
    errors = tuple(abs(found[s] - ms) / 1000 if s in found else MISSED for s, ms in sorted(case.truth.items()))
    return Score(errors, sum(1 for step in found if step not in case.truth))


def misses(case: Case, beyond: float = 10.0) -> Iterator[str]:
    """A line for each mark that is further off than ``beyond`` seconds."""
    for mark in aligned(case.recipe, case.transcript, _table()).marks:
        truth = case.truth.get(mark.step)
        if truth is None and mark.at is None:
            continue
        if truth is not None and mark.at is not None and abs(mark.at - truth) <= beyond * 1000:
            continue
        said = [say_moment(ms) if ms is not None else "none" for ms in (truth, mark.at)]
        title = case.recipe.steps[mark.step].title
        sure = f"({mark.confidence:.2f}) {mark.reason}"
        yield f"    step {mark.step + 1} “{title}”: truth {said[0]}, mark {said[1]} {sure}"


def boundaries(case: Case) -> dict[str, float]:
    """chunkseg's figures for the marks as chapter bounds: F1 and Pk over chunks of six seconds; {} without it."""
    try:
        from chunkseg import evaluate
    except ImportError:
        return {}
    end = case.transcript.words[-1].end / 1000
    found = sorted(ms / 1000 for ms in ours(case.recipe, case.transcript).values() if ms)
    truth = sorted(ms / 1000 for ms in case.truth.values() if ms)
    figures = evaluate(found, truth, duration=end)
    return {k: v for k, v in figures.items() if isinstance(v, float)}


def main() -> None:
    parser = argparse.ArgumentParser(description="Score the alignment on the marked films.")
    parser.add_argument("--apart", action="store_true", help="the films kept apart")
    parser.add_argument("--misses", action="store_true", help="list what is more than ten seconds off")
    parser.add_argument("--seed", type=int, default=0)
    args = parser.parse_args()
    totals: dict[tuple[str, str], Score] = {}
    print(f"{'film':28} {'captions':12} {'steps':>5}  " + "".join(f"{name:>27}" for name in MARKERS))
    print(" " * 49 + "".join(f"{'mean s':>13}{'5 s':>7}{'10 s':>7}" for _ in MARKERS))
    kept = [*cases(apart=args.apart, seed=args.seed), *([] if args.apart else demo())]
    for case in kept:
        line = f"{case.film[:28]:28} {case.form:12} {len(case.truth):5}  "
        for name, marker in MARKERS.items():
            one = score(case, marker)
            totals[name, case.form] = totals[name, case.form] + one if (name, case.form) in totals else one
            line += f"{one.mean:13.1f}{one.within(5):7.0%}{one.within(10):7.0%}"
        print(line)
        if args.misses:
            print("\n".join(misses(case)) or "    none missed")
    print()
    for form in dict.fromkeys(case.form for case in kept):
        line = f"{'all':28} {form:12} {len(totals['ours', form].errors):5}  "
        line += "".join(
            f"{t.mean:13.1f}{t.within(5):7.0%}{t.within(10):7.0%}" for t in (totals[name, form] for name in MARKERS)
        )
        print(line)
    whole = {name: sum((t for (n, _), t in totals.items() if n == name), Score(())) for name in MARKERS}
    line = f"{'all':28} {'all':12} {len(whole['ours'].errors):5}  "
    print(line + "".join(f"{t.mean:13.1f}{t.within(5):7.0%}{t.within(10):7.0%}" for t in whole.values()))
    figures = [found for case in kept if (found := boundaries(case))]
    for name in figures[0] if figures else ():
        print(f"chunkseg {name}: {sum(f[name] for f in figures if name in f) / len(figures):.3f}")


if __name__ == "__main__":
    main()

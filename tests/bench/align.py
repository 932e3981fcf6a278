"""How long the alignment takes, and how it grows: ``python tests/bench/align.py``.

Films and recipes are the marked ones, joined end to end. Processor time, the best of five; nothing is asserted, since
times depend on the machine. The aim: an hour's film (10,000 words, 40 steps) in less than a second, linear in words.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "film"))

import score_align

from pipeline.film.align import aligned, retime
from pipeline.film.transcript import Cue, Transcript, Word
from pipeline.recipe.model import Recipe


def joined(many: list[tuple[Recipe, Transcript]]) -> tuple[Recipe, Transcript]:
    """One recipe of all their components and steps, one film of all their words."""
    first = many[0][0]
    components, steps = list(first.components), list(first.steps)
    cues, words = list(many[0][1].cues), list(many[0][1].words)
    for recipe, film in many[1:]:
        by, parts, seen = words[-1].end + 1_000, len(components), len(cues)
        components += recipe.components
        # Marks in the text point into their own recipe; the plain text will do here.
        steps += [step._replace(component=step.component + parts, pieces=()) for step in recipe.steps]
        cues += [Cue(c.start + by, c.end + by, c.text, c.line) for c in film.cues]
        words += [Word(w.start + by, w.end + by, w.text, w.cue + seen) for w in film.words]
    return first._replace(components=tuple(components), steps=tuple(steps)), Transcript("", tuple(cues), tuple(words))


def best(work: Callable[[], object]) -> float:
    """Seconds of processor time, the least of five runs."""
    times = []
    for _ in range(5):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def cut(film: Transcript, words: int) -> Transcript:
    return Transcript(film.path, film.cues, film.words[:words])


def main() -> None:
    table = score_align.load()
    for form in ("vtt", "machine"):
        kept = [case for case in score_align.cases([form]) if len(case.truth) < 20]
        recipe, film = joined([(case.recipe, case.transcript) for case in kept])
        recipe = recipe._replace(steps=recipe.steps[:40])
        film = joined([(recipe, film)] * 2)[1]
        print(f"{form}: words against time, {len(recipe.steps)} steps")
        before = 0.0
        for words in (1_250, 2_500, 5_000, 10_000, 20_000):
            short = cut(film, words)
            took = best(lambda short=short, recipe=recipe: aligned(recipe, short, table))
            ratio = f"{took / before:5.2f}" if before else "     "
            print(f"  {len(short.words):6} words {took:7.3f} s   {ratio} times the half")
            before = took
        print(f"{form}: steps against time, 5,000 words")
        before = 0.0
        for steps in (10, 20, 40):
            few = recipe._replace(steps=recipe.steps[:steps])
            took = best(lambda few=few, film=film: aligned(few, cut(film, 5_000), table))
            ratio = f"{took / before:5.2f}" if before else "     "
            print(f"  {steps:6} steps {took:7.3f} s   {ratio} times the half")
            before = took
    print("retime: words against time, the first minute cut")
    before = 0.0
    for words in (2_500, 5_000, 10_000, 20_000):
        short = cut(film, words)
        new = Transcript("", short.cues, short.words[150:])
        took = best(lambda short=short, new=new: retime(short, new, [60_000, 120_000]))
        ratio = f"{took / before:5.2f}" if before else "     "
        print(f"  {len(short.words):6} words {took:7.3f} s   {ratio} times the half")
        before = took
    for case in score_align.cases(["vtt", "machine"]):
        if len(case.truth) > 30:
            took = best(lambda case=case: aligned(case.recipe, case.transcript, table))
            print(
                f"{case.film}, {case.form}: {len(case.transcript.words)} words, "
                f"{len(case.recipe.steps)} steps: {took:.3f} s"
            )


if __name__ == "__main__":
    main()

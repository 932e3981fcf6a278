"""Whether a film is of a recipe at all: its own is never refused, however badly it was heard; another's always is."""

from __future__ import annotations

from functools import cache

import marked
import noise
import pytest
import score_align
from ears import Noise

from pipeline.film.align import aligned, alignment, questions
from pipeline.film.align.fit import ANOTHER, UNSURE, fit_of
from pipeline.film.captions import read_captions_text
from pipeline.film.transcript import Transcript
from pipeline.recipe.model import Recipe
from pipeline.recipe.read import read

FILMS = {film.name: film for film in marked.films()}
# Every sixteenth word dropped, every eighth, and more of the others misheard.
NOISY = (Noise(0.06, 0.4, 0.5, 0.15), Noise(0.12, 0.5, 0.5, 0.3))


@cache
def recipe(name: str) -> Recipe:
    return read(FILMS[name].recipe)


@cache
def film(name: str, form: noise.Form, seed: int = 0, heard: Noise = noise.NOISE) -> Transcript:
    return read_captions_text(noise.captions(FILMS[name], form, seed, heard), name + noise.SUFFIX[form])


def test_a_films_own_captions_are_known_in_every_form() -> None:
    for name in FILMS:
        for form in ("srt", "timed", "machine-srt"):
            found = fit_of(recipe(name), film(name, form))
            assert found >= UNSURE, (name, form, found)


def test_a_films_own_captions_are_known_however_badly_heard() -> None:
    # Measured when written: 2.2 and more.
    for name in FILMS:
        for seed, heard in enumerate(NOISY):
            found = fit_of(recipe(name), film(name, "machine", seed, heard))
            assert found >= (UNSURE + ANOTHER) / 2, (name, heard, found)


@pytest.mark.parametrize("form", ["vtt", "machine"])
def test_captions_of_other_recipes_are_told_apart(form: noise.Form) -> None:
    # Measured when written, every film against every other: 1.2 and less. Here every eighth, for the time it takes.
    names = list(FILMS)
    for n, name in enumerate(names):
        for other in names[(n + len(form)) % 8 :: 6]:
            if other != name:
                found = fit_of(recipe(name), film(other, form))
                assert found < ANOTHER, (name, other, found)


def plain(found: Recipe) -> Recipe:
    """The recipe as a cook writes it who knows no marks and gives no titles: of each step one sentence."""
    steps = []
    for step in found.steps:
        sentence = step.text[: (step.text + ". ").index(". ")]
        steps.append(step._replace(title=step.title[:0], text=sentence, pieces=()))
    return found._replace(steps=tuple(steps))


def test_marks_in_a_film_that_was_badly_heard() -> None:
    """All marks were withheld in a third of them."""
    for name in FILMS:
        for seed, heard in enumerate(NOISY):
            transcript = film(name, "machine", seed, heard)
            found = aligned(recipe(name), transcript, score_align.load())
            told = [step for step in FILMS[name].marks if found.marks[step - 1].at is not None]
            assert len(told) * 2 >= len(FILMS[name].marks), (name, heard, len(told))


def test_short_steps_without_marks() -> None:
    for name in FILMS:
        found = aligned(plain(recipe(name)), film(name, "machine"), score_align.load())
        assert "are these its captions?" not in found.reason, (name, found.reason)


def test_where_it_is_unsure_marks_are_made_and_asked_about(monkeypatch: pytest.MonkeyPatch) -> None:
    name, heard = "blueberry-crumb-cake", NOISY[1]
    monkeypatch.setattr(alignment, "fit_of", lambda *_: (ANOTHER + UNSURE) / 2)
    monkeypatch.setattr(alignment, "_FITS", 9.0)
    monkeypatch.setattr(alignment, "_FITS_TOLD", 9.0)
    found = aligned(recipe(name), film(name, "machine", 1, heard), score_align.load())
    made = {mark.step for mark in found.marks if mark.at is not None}
    assert len(made) >= 3 and "are these its captions?" in found.reason
    assert made <= {question.step for question in questions(found.marks, recipe(name))}

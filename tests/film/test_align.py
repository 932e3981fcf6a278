"""Marks against the marked films: the figures promised, the baselines beaten, and what is no film of the recipe."""

from __future__ import annotations

from pathlib import Path

import score_align
from score_align import MARKERS, Case, Score, score

from pipeline.film.align import align, aligned, questions
from pipeline.film.align.place import DOUBTFUL
from pipeline.film.captions import read_captions_text
from pipeline.film.transcript import Transcript, Word
from pipeline.recipe.read import read_text

FORMS = ("vtt", "machine")
CASES = list(score_align.cases(FORMS))
DEMO = list(score_align.demo())


def whole(marker: str, form: str) -> Score:
    return sum((score(case, MARKERS[marker]) for case in CASES if case.form == form), Score(()))


def test_there_are_films() -> None:
    assert len({case.film for case in CASES}) >= 8 and len(DEMO) >= 2


def test_marks_by_hand_made_captions() -> None:
    # Promised: 5 s, and 90 % within 10 s. Measured when this was written: 2.5 s and 93 %.
    found = whole("ours", "vtt")
    assert found.mean <= 3.5 and found.within(10) >= 0.92, found


def test_marks_by_machine_made_captions() -> None:
    # Measured when this was written: 3.3 s and 93 %.
    found = whole("ours", "machine")
    assert found.mean <= 4.5 and found.within(10) >= 0.91, found


def test_marks_in_a_film_of_few_words() -> None:
    """Two words to a sentence: the marks were all withheld."""
    for case in CASES:
        if case.film == "bread-and-butter-pickles-and-a-roast":
            assert score(case).within(10) >= 0.85, case.form


def test_marks_by_paragraphs_with_a_stamp() -> None:
    # Measured when this was written: 3.9 s and 92 %.
    films = [score(case) for case in score_align.cases(["timed"])]
    found = sum(films, Score(()))
    assert found.mean <= 5 and found.within(10) >= 0.90, found


def test_baselines_are_clearly_beaten() -> None:
    for form in FORMS:
        mine = whole("ours", form)
        for name in ("cue", "no order", "in order"):
            other = whole(name, form)
            assert mine.within(10) >= other.within(10) + 0.15, (form, name, mine.within(10), other.within(10))
            assert mine.mean * 2 <= other.mean, (form, name, mine.mean, other.mean)


def test_the_demo_films() -> None:
    for case in DEMO:
        found = score(case)
        assert found.mean <= 2 and found.within(10) == 1, (case.film, found)


def test_confidence_means_what_it_says() -> None:
    """Marks of high confidence are right; the others carry less."""
    sure, unsure = [], []
    for case in CASES:
        for mark in aligned(case.recipe, case.transcript, score_align.load()).marks:
            if mark.at is not None and mark.step in case.truth:
                hit = abs(mark.at - case.truth[mark.step]) <= 10_000
                (sure if mark.confidence >= DOUBTFUL else unsure).append(hit)
    assert sum(sure) / len(sure) >= 0.92, (sum(sure), len(sure))
    assert sum(unsure) / len(unsure) < sum(sure) / len(sure)


def other_film(case: Case) -> Transcript:
    films = [other for other in CASES if other.form == case.form and len(other.truth) < 20]
    names = [other.film for other in films]
    return films[(names.index(case.film) + 1) % len(films)].transcript if case.film in names else films[0].transcript


def test_captions_of_another_recipe_give_no_marks() -> None:
    for case in CASES:
        found = aligned(case.recipe, other_film(case), score_align.load())
        assert all(mark.at is None for mark in found.marks), (case.film, case.form, found.fit)
        assert "are these its captions?" in found.reason


def test_no_mark_without_a_reason_and_every_mark_rests_on_words_that_were_said() -> None:
    for case in [*CASES[:4], *DEMO]:
        said = " ".join(word.text for word in case.transcript.words).lower()
        for mark in aligned(case.recipe, case.transcript, score_align.load()).marks:
            assert mark.reason
            if mark.at is not None:
                assert all(part in said for words in mark.rests_on for part in words.split()), (case.film, mark)
                assert any(word.start == mark.at for word in case.transcript.words)


def test_a_confirmed_mark_stands_and_moves_its_neighbours() -> None:
    case = DEMO[1]
    free = aligned(case.recipe, case.transcript, score_align.load()).marks
    held = {4: case.truth[4] + 30_000}
    bound = aligned(case.recipe, case.transcript, score_align.load(), held).marks
    assert bound[4].at == held[4] and bound[4].confidence == 1.0
    assert free[4].at == case.truth[4]
    later = [mark.at for mark in bound[5:] if mark.at is not None]
    assert min(later) > held[4] - 10_000


STORIES = (
    "my grandmother never weighed a thing in her life",
    "somebody asked me whether i ever get bored of this and honestly no",
    "if you're new here welcome there are hundreds of these by now",
    "the first time i made this it was inedible and we ate it anyway",
    "my neighbour came round on tuesday and i still have not thanked her",
    "last week it rained every single day and the cat would not go out",
    "by the way the window is open because the smoke alarm does not like me",
)


def chatty(case: Case, talk: int) -> Case:
    """The film by a machine's ears, with so many ms of stories before each of its steps but the first."""
    marks = sorted(set(case.truth.values()))[1:]
    words: list[Word] = []
    added, cue, before = 0, 0, -1
    for word in case.transcript.words:
        while marks and word.start >= marks[0]:
            start = marks.pop(0) + added
            for n in range(talk // 6_000):
                said = STORIES[(n + len(marks)) % len(STORIES)].split()
                cue += 1
                words += [
                    Word(start + n * 6_000 + 400 * i, start + n * 6_000 + 400 * i + 400, w, cue)
                    for i, w in enumerate(said)
                ]
            added += talk
        cue += word.cue != before
        before = word.cue
        text = word.text.lower().strip(".,;:!?")
        words.append(Word(word.start + added, word.end + added, text, cue))
    truth = {step: ms + talk * sorted(set(case.truth.values())).index(ms) for step, ms in case.truth.items()}
    return Case(case.film, case.form, case.recipe, Transcript("", case.transcript.cues, tuple(words)), truth)


def test_an_hour_of_stories_between_the_steps() -> None:
    """The cook seemed to have taken his leave in the middle of it: all marks but one were lost."""
    case = DEMO[1]
    found = score(chatty(case, 180_000))
    assert found.within(10) >= 0.85, found


def test_a_step_that_the_film_does_not_tell_gets_no_mark() -> None:
    """The talk of one step is cut out of the captions."""
    case = DEMO[1]
    order = sorted(case.truth.values())
    for step in (3, 11):
        start = case.truth[step]
        end = min(at for at in order if at > start)
        kept = tuple(word for word in case.transcript.words if not start <= word.start < end)
        marks = aligned(case.recipe, Transcript("", case.transcript.cues, kept), score_align.load()).marks
        assert marks[step].at is None or marks[step].confidence < DOUBTFUL, marks[step]
        others = [m for m in marks if m.step != step and m.at is not None]
        hits = sum(1 for m in others if abs(m.at - case.truth[m.step]) <= 10_000)
        assert hits >= len(case.truth) - 3


def test_a_mention_in_passing_does_not_take_a_mark() -> None:
    """The shaping is spoken of while the dough chills, and told after the sauce."""
    recipe = read_text(
        "title: T\nyield: serves 4\ncomponents:\n"
        "  dough:\n    title: Dough\n    ingredients: [500 g flour, 300 g water]\n"
        "  sauce:\n    title: Sauce\n    ingredients: [400 g tomatoes, 2 cloves garlic]\nsteps:\n"
        "- component: dough\n  title: Mix\n  text: Mix {flour} and {water} to a dough.\n"
        "- component: dough\n  title: Chill the dough\n  text: Chill the dough {2 hours}.\n"
        "- component: dough\n  title: Shape\n  text: Shape the cold dough in 12 balls.\n"
        "- component: sauce\n  title: Simmer the sauce\n  text: Simmer {tomatoes} and {garlic} for {20 min}.\n",
        Path("recipe.yaml"),
    )
    said = (
        "[0:00] Hello. [0:10] First, five hundred grams of flour and three hundred of water, mix it to a dough."
        " [0:30] Into the fridge now, chill it for two hours. Cold dough is easier to shape."
        " [1:00] Now the sauce. Four hundred grams of tomatoes, two cloves of garlic, simmer twenty minutes."
        " [2:00] So, out it comes. Cut the cold dough in twelve and shape it, twelve balls."
    )
    marks = align(recipe, read_captions_text(said.replace(" [", "\n["), "a.txt"), score_align.load())
    assert [mark.at for mark in marks] == [10_000, 30_000, 120_000, 60_000]


def test_what_was_done_out_of_sight_gets_no_mark() -> None:
    recipe = read_text(
        "title: T\nyield: serves 4\ningredients: [500 g flour, 300 g water, 60 g ghee]\nsteps:\n"
        "- title: Make the dough\n  text: Stir {flour} into {water} and knead it smooth.\n"
        "- title: Make the balls\n  text: Divide the dough into ten balls.\n"
        "- title: Fry\n  text: Fry each in {ghee} for {2 min}.\n",
        Path("recipe.yaml"),
    )
    before = "[0:00] So, flour, five hundred grams, and three hundred of water. Stir it and knead it smooth."
    after = "[1:00] Now the ghee, sixty grams in the pan. Fry each for two minutes."
    for said, told in (
        ("Now divide the dough into balls, ten of them.", True),
        ("The balls I have made already, ten of them.", False),
        ("I've divided the dough into ten balls already.", False),
        ("The ten balls I did while you were away.", False),
        ("I divided it into ten balls off camera.", False),
    ):
        film = read_captions_text(f"{before}\n[0:30] {said}\n{after}", "a.txt")
        marks = align(recipe, film, score_align.load())
        assert [mark.at for mark in marks] == [0, 30_000 if told else None, 60_000], said


def test_scenes_told_in_another_order() -> None:
    """The dip's first two steps are told before the dough's: the film's order wins over the page's."""
    case = DEMO[1]
    cut = [case.truth[0], case.truth[2], case.truth[4]]
    bread, dip = cut[1] - cut[0], cut[2] - cut[1]
    moved = []
    for word in case.transcript.words:
        by = dip if cut[0] <= word.start < cut[1] else -bread if cut[1] <= word.start < cut[2] else 0
        moved.append(word.__class__(word.start + by, word.end + by, word.text, word.cue))
    moved.sort(key=lambda word: word.start)
    marks = aligned(case.recipe, Transcript("", case.transcript.cues, tuple(moved)), score_align.load()).marks
    for step, by in {0: dip, 1: dip, 2: -bread, 3: -bread, 5: 0}.items():
        assert marks[step].at is not None and abs(marks[step].at - case.truth[step] - by) <= 10_000, marks[step]


def by_component(case: Case) -> Case:
    """The same film; on the page each component's steps stand together, so that the film tells them by turns."""
    order = sorted(range(len(case.recipe.steps)), key=lambda n: case.recipe.steps[n].component)
    recipe = case.recipe._replace(steps=tuple(case.recipe.steps[n] for n in order))
    return Case(case.film, case.form, recipe, case.transcript, {order.index(s): ms for s, ms in case.truth.items()})


def test_components_that_the_page_keeps_together_and_the_film_tells_by_turns() -> None:
    # Measured when written: 2.6 s and 95 % by hand, 3.0 s and 95 % by machine. Not so in the hour's film: 76 %.
    films = [by_component(case) for case in [*CASES, *DEMO] if len(case.recipe.components) > 1 and len(case.truth) < 20]
    found = sum((score(case) for case in films), Score(()))
    assert found.mean <= 5 and found.within(10) >= 0.86, found


def test_questions_are_the_doubtful_marks_with_other_moments() -> None:
    for case in CASES:
        marks = aligned(case.recipe, case.transcript, score_align.load()).marks
        asked = questions(marks, case.recipe)
        assert {q.step for q in asked} == {m.step for m in marks if m.at is None or m.confidence < DOUBTFUL}
        for question in asked:
            assert f"step {question.step + 1}, " in question.headline and len(question.others) <= 2
            assert all(other.at != question.at and other.words for other in question.others)


def test_nothing_said_and_nothing_written() -> None:
    case = DEMO[0]
    silent = aligned(case.recipe, Transcript("", (), ()))
    assert [mark.at for mark in silent.marks] == [None] * len(case.recipe.steps)
    assert aligned(case.recipe._replace(steps=()), case.transcript).marks == ()
    short = read_captions_text("[0:00] Hello.", "a.txt")
    assert all(mark.at is None for mark in aligned(case.recipe, short).marks)

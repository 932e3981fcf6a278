"""Times said beside those of the steps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from pipeline.film.compare.clauses import told_apart
from pipeline.film.compare.film import Best, Film, Utterance
from pipeline.film.compare.likely import slip_of_time
from pipeline.film.compare.misheard import times_alike
from pipeline.film.compare.page_marks import At, differs, marks_of
from pipeline.film.compare.phrases import phrases
from pipeline.film.compare.remark import Remark, Weight
from pipeline.film.compare.whose import DOUBT, LIKELY, talk_doubt
from pipeline.measure.duration import read_duration
from pipeline.measure.heat import Duration
from pipeline.measure.pair import Verdict
from pipeline.measure.pair_heat import compare_time
from pipeline.measure.phrase import tokens
from pipeline.measure.record import replace

# A time so many times another is of something else. Common practice, no source.
_FAR, _NOT_SO_FAR = Fraction(8), Fraction(3)
# With so much doubt whose it is, a time is no step's.
_OTHERS = 2.0
# So much more doubt is borne where the step's only time is never said.
_FREE = 0.5
# Right behind a time that is no instruction.
_DONE = re.compile(
    r"^(?:\w+ )?(?:ago|later|earlier|left|to go|ahead|beforehand|on the (?:clock|timer)|"
    r"before|old|early|in(?! (?:the|a|an|your|my|our)\b)|from now|"
    r"of my|of your|into|"
    r"away|apart|at a time|long|more|off|gone)\b"
)
_ANOTHER = re.compile(r"^(?:another|an? extra|an? additional)\b")
_MORE = re.compile(r"^(?:more|longer)\b")
_KEEPS = re.compile(r"\b(?:keep|keeps|fridge|freez\w*|store|stored|lasts?|eat it|eaten|use it|used within|best)\b")
_VAGUE = re.compile(r"\b(?:couple|few|(?:an?|one|half a) second|moment|or so|or two|or three)\b")
_TYPED_TIME = re.compile(
    r"(?:\d+(?:\s+\d/\d|[.,/]\d+)?|an?|one|two|three|four|five|six|half an?)(?:\s*(?:to|-|–|or)\s*\d+)?\s*"
    r"(?:s|secs?|seconds?|mins?|minutes?|h|hrs?|hours?|days?|weeks?|months?)\b",
    re.IGNORECASE,
)
_MARK = re.compile(r"\{[^{}\n]*\}")
_COMMON = frozenset(
    """
    the a an and or of in on to it its into for with until then that this you your is are be at by from up out off
    over all as so them they not no just now minute hour second put add
    """.split()  # noqa: SIM905
)
# What is done where.
_WHERE = {
    "bake": "oven", "roast": "oven", "rack": "oven", "broil": "grill", "chill": "fridge", "refrigerate": "fridge",
    "refrigerator": "fridge", "freezer": "freeze", "proof": "rise", "prove": "rise",
}  # fmt: skip


def time_remarks(film: Film, chosen: Mapping[int, Best]) -> Iterator[Remark]:
    """Times of a step said otherwise: only where the film is known to be in a step whose own time is not said."""
    marks = [m for m in marks_of(film) if m.times]
    loose = _other_times(film)
    told = [] if film.course.sure else [t for m in marks for t in m.times]
    # Where the moments were found and not typed, a range that some step has is not said by chance.
    ranges = {(t.low, t.high) for m in marks for t in m.times if t.low < t.high and not film.course.typed}
    agreed: dict[int, list[int]] = {}
    pending: list[tuple[Utterance, float]] = []
    borrowed: list[Utterance] = []
    for index, utterance in enumerate(film.utterances):
        said = utterance.said
        if said.kind != "time":
            continue
        steps = film.course.steps(said.start) or frozenset()
        here = [w for m in marks if m.step in steps | film.course.passed_over(said.start) for w in m.times]
        # a step's talk begins before its mark and goes on behind the next one
        beside = film.course.beside(said.start)
        near = [w for m in marks if m.step in beside for w in m.times]
        if any((t.low, t.high) in ranges for t in said.times):
            continue
        right = any(_same(t, w) for t in said.times for w in here)
        elsewhere = any(_same(t, w, strict=True) for t in said.times for w in (*told, *near))
        if (right or elsewhere) and utterance.scope != "apart" and not _VAGUE.search(said.words.lower()):
            for n in _agreeing(film, utterance, marks, steps | beside):
                agreed.setdefault(n, []).append(said.start)
        slip = not elsewhere and any(slip_of_time(t, w) for t in said.times for w in here)
        elsewhere = elsewhere or (not slip and any(_same(t, w, strict=True) for t in said.times for w in loose))
        passed = right or (elsewhere and not _by_itself(film, utterance))
        if utterance.scope != "use" and (passed or not (utterance.aside and slip)):
            continue
        lone = _lone(film, utterance, marks)
        if passed and (lone is None or any(_same(t, w) for t in said.times for w in marks[lone].times)):
            continue
        doubted = talk_doubt(film, index, chosen)
        if passed:
            if doubted < DOUBT and _instructs(film, utterance, False):
                borrowed.append(utterance)
            continue
        plain = slip and doubted == 0
        doubted = max(doubted - (LIKELY if slip else 0), 0)
        if doubted < (DOUBT if elsewhere else _OTHERS + _FREE) and _instructs(film, utterance, plain):
            pending.append((utterance, doubted))
    for utterance, doubted in pending:
        lone = _lone(film, utterance, marks)
        if doubted >= _OTHERS and (lone is None or lone in agreed):
            continue
        remark = _time_remark(film, utterance, marks, agreed)
        if remark:
            clear = remark.weight == "clear" and doubted >= DOUBT
            yield replace(remark, weight="doubtful") if clear else remark
    for utterance in borrowed:
        remark = _borrowed(film, utterance, marks, agreed)
        if remark:
            yield remark


def _lone(film: Film, utterance: Utterance, marks: Sequence[At]) -> int | None:
    """The mark of the step that the film is in, by number, where it has one alone."""
    own = [n for n, m in enumerate(marks) if m.step == film.course.step(utterance.said.start)]
    return own[0] if len(own) == 1 else None


def _borrowed(film: Film, utterance: Utterance, marks: Sequence[At], agreed: dict[int, list[int]]) -> Remark | None:
    """A time that another step has, said there already, in a step whose one time is never said: "bake for ten minutes"
    behind the rest of ten minutes."""
    said = utterance.said
    own = _lone(film, utterance, marks)
    theirs = [n for n, m in enumerate(marks) if any(_same(t, w) for t in said.times for w in m.times)]
    near = (film.course.steps(said.start) or frozenset()) | film.course.beside(said.start)
    if (
        own is None
        or own in agreed
        or own in theirs
        or not all(set(agreed.get(n, ())) - {said.start} for n in theirs if marks[n].step in near)
    ):
        return None
    mark = marks[own]
    around = film.speech.around(said)
    if not _told_words(f"{around.before} {around.behind}") & _told_words(_step_words(film, mark.step)):
        return None
    a, b = said.times[0], mark.times[0]
    if not theirs or not _may_be_meant(a, b, _NOT_SO_FAR):
        return None
    return differs(mark, said, a.text, "misheard" if times_alike(a, b) == "sounds" else "doubtful", compare_time(a, b))


def _by_itself(film: Film, utterance: Utterance) -> bool:
    """Whether a time begins its sentence: "Fourteen to fifteen minutes, in the middle of the oven"."""
    return not film.speech.flat and not film.speech.around(utterance.said).before


def _agreeing(film: Film, utterance: Utterance, marks: Sequence[At], steps: frozenset[int]) -> list[int]:
    """The marks that a time says as written, by number: those of the step that the film is in, else of any near."""
    said = utterance.said
    own = film.course.step(said.start)
    same = [
        n
        for n, mark in enumerate(marks)
        if (mark.step in steps or not film.course.sure) and any(_same(t, w) for t in said.times for w in mark.times)
    ]
    return [n for n in same if marks[n].step == own] or same


def _other_times(film: Film) -> list[Duration]:
    """Every time of the page but the steps' marks: totals, and in running words (notes, summary)."""
    told = [t for every in film.recipe.times_said.values() for t in every] or list(film.recipe.times.values())
    for found in _TYPED_TIME.finditer(_MARK.sub("", film.recipe.source)):
        told += read_duration(found.group()) or ()
    return told


def _same(a: Duration, b: Duration, strict: bool = False) -> bool:
    # As pipeline.measure.pair_heat.compare_time does, without its search for a slip.
    gap = max(abs(a.low - b.low), abs(a.high - b.high))
    near, widest = min(a.near, b.near), max(a.near, b.near)
    if gap <= (near if strict and not (a.about or b.about) else widest):
        return True
    # one end of a range, or a number within it: "mine takes forty two"
    return b.low <= a.low and a.high <= b.high


def _instructs(film: Film, utterance: Utterance, plain: bool) -> bool:
    """Whether somebody is told to wait so long; ``plain``: it is what a slip makes of the step's own time, and nothing
    else is told around it, so that less speaks against that."""
    around = film.speech.around(utterance.said)
    if (
        (phrases("progress", at_end=True).within(around.before) and not plain)
        or (_DONE.match(around.behind) and not (plain and _MORE.match(around.behind)))
        or _VAGUE.search(utterance.said.words.lower())
        or _ANOTHER.match(utterance.said.words.lower())
    ):
        return False
    if film.speech.flat and around.behind.startswith("and a "):
        return False  # "an hour and a to two hours": something was lost
    if utterance.said.guessed and any("night" in str(m.whole) for m in marks_of(film) if m.times):
        return False  # "between twelve and sixteen, whenever you wake": a night is as long as it is
    near = f"{' '.join(around.before.split()[-8:])} {' '.join(around.behind.split()[:6])}"
    if utterance.said.times[0].high >= 86_400 and _KEEPS.search(near):
        return False
    return not any(t.about for t in utterance.said.times)


def _time_remark(film: Film, utterance: Utterance, marks: Sequence[At], agreed: dict[int, list[int]]) -> Remark | None:
    said = utterance.said
    steps = film.course.steps(said.start)
    if not steps:
        return None
    near = 90_000  # a time said rightly within a minute and a half is that step's time
    perhaps = film.course.passed_over(said.start)
    here = [
        (n, m)
        for n, m in enumerate(marks)
        if m.step in steps | perhaps and not any(abs(at - said.start) < near for at in agreed.get(n, ()))
    ]
    own = film.course.step(said.start)
    around = film.speech.around(said)
    words = _told_words(f"{around.earlier[-160:]} {around.before} {around.behind}")
    if not here:
        return _left_over(film, utterance, marks, agreed, words)
    kin = [(n, m, len(words & _told_words(_step_words(film, m.step)))) for n, m in here]
    if not film.course.sure:
        kin = [k for k in kin if k[2]]
    if not kin:
        return None
    kin.sort(key=lambda k: (-k[2], k[1].step != own))
    _, mark, alike = kin[0]
    if not alike and mark.step != own:
        return None
    several = [k[1] for k in kin if k[1].step == mark.step]
    if len(several) > 1:  # two times in one step: which of them is meant only the words beside it can tell
        whole = told_apart(film.recipe.steps[mark.step], [m.whole for m in several], around, _told_words)
        if whole is None or mark.step != own:
            return None
        mark = next(m for m in several if m.whole is whole)
    if len(kin) > 1 and own is None and kin[1][2] >= kin[0][2]:
        return None
    a, b = said.times[0], mark.times[0]
    verdict: Verdict = compare_time(a, b)
    if not _may_be_meant(a, b, _FAR):
        return None  # "ten seconds" is no slip for two hours: it is of something else
    how = times_alike(a, b)
    plain = film.course.typed and mark.step == own and alike and len(several) == 1
    weight: Weight = "clear" if plain else "doubtful"
    if how == "sounds" or (how and film.speech.flat):
        weight = "misheard"
    return differs(mark, said, a.text, weight, verdict)


def _left_over(
    film: Film, utterance: Utterance, marks: Sequence[At], agreed: dict[int, list[int]], words: frozenset[str]
) -> Remark | None:
    """A time that is of no step here may be the one time of the steps beside that is never said as written, where it
    begins its sentence or ``words`` of that step stand around it."""
    said = utterance.said
    beside = film.course.beside(said.start)
    a = said.times[0]
    free = [m for n, m in enumerate(marks) if m.step in beside and n not in agreed]
    if len(free) != 1 or not _may_be_meant(a, free[0].times[0], _NOT_SO_FAR):
        return None
    b = free[0].times[0]
    near = slip_of_time(a, b) or a.low in (b.low * 2, b.low / 2)
    if not _by_itself(film, utterance) and not (near and words & _told_words(_step_words(film, free[0].step))):
        return None
    how = times_alike(a, b)
    return differs(free[0], said, a.text, "misheard" if how == "sounds" else "doubtful", compare_time(a, b))


def _may_be_meant(a: Duration, b: Duration, far: Fraction) -> bool:
    """Whether two times are near enough for a slip, or the same number of another unit."""
    if any(a.low == b.low * by or a.low * by == b.low for by in (60, 3600)):
        return True
    return 1 / far <= Fraction(a.low + a.high, max(b.low + b.high, 1)) <= far


def _told_words(text: str) -> frozenset[str]:
    """The words that tell one step from another, what is done named by where it is done."""
    return frozenset(_WHERE.get(word, word) for word in tokens(text)) - _COMMON


def _step_words(film: Film, step: int) -> str:
    one = film.recipe.steps[step]
    return f"{one.title} {one.text}"

"""A recipe's steps and its film, laid along each other: marks, chapters made of them, what to ask, a new cut."""

from pipeline.film.align.alignment import Alignment, align, aligned
from pipeline.film.align.choice import choose
from pipeline.film.align.recut import Retimed, retime, shift
from pipeline.film.align.review import Question, questions

__all__ = ["Alignment", "Question", "Retimed", "align", "aligned", "choose", "questions", "retime", "shift"]

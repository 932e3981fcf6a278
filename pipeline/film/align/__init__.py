"""A recipe's steps and its film, laid along each other."""

from pipeline.film.align.alignment import Alignment, align, aligned

__all__ = ["Alignment", "align", "aligned"]

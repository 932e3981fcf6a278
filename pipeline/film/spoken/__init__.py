"""Spoken amounts: what was said in the film, in the same types as what is written on the page."""

from pipeline.film.spoken.heard import heard
from pipeline.film.spoken.said import Kind, Spoken

__all__ = ["Kind", "Spoken", "heard"]

"""What is said in a film compared with what is written in its recipe."""

from pipeline.film.compare.against import said_against
from pipeline.film.compare.remark import Remark, RemarkKind, Weight

__all__ = ["Remark", "RemarkKind", "Weight", "said_against"]

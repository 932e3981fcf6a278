"""Text without markup never reaches the parser; it must say what the parser (markdown-it-py, CommonMark) would."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from pipeline.site import prose

MARK = ("<b>1 cup</b> water", "1 cup water")
_PIECES = [
    "Add ", MARK, " and stir ", "for\n", "\n", " more", "\nthen rest ", "it’s done. ", "450 ",
    "\n4. Rest ", "\n- salt ", "*well* ", "a < b & c ", "\n\n", "  \n", "\n½ cup ", "\n_so_ ", "\n# no ",
]  # fmt: skip


@given(st.lists(st.sampled_from(_PIECES), min_size=1, max_size=9))
def test_the_quick_way_says_what_the_parser_says(pieces: list[str | tuple[str, str]]) -> None:
    text = "".join(piece if isinstance(piece, str) else "\ue000MARK\ue001" for piece in pieces).strip()
    parsed = str(prose._parser().render(text)).strip()
    assert prose.with_marks(pieces) == parsed.replace("\ue000MARK\ue001", MARK[0])

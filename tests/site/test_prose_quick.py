"""Text without markup never reaches the parser; it must say what the parser (markdown-it-py, CommonMark) would."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from pipeline.site import prose

_PIECES = [
    "Add \ue0000\ue001", "and stir", "for\n\ue0001\ue001", "\n\ue0000\ue001 more", "\nthen rest", "it’s done.", "450",
    "\n4. Rest", "\n- salt", "*well*", "a < b & c", "\n\n", "  \n", "\n½ cup", "\n_so_", "\n# no",
]  # fmt: skip


@given(st.lists(st.sampled_from(_PIECES), min_size=1, max_size=7))
def test_the_quick_way_says_what_the_parser_says(pieces: list[str]) -> None:
    text = " ".join(pieces).strip()
    assert prose.block_kept(text) == str(prose._parser().render(text)).strip()

"""`levelcup check` of one recipe against the bare start of the two libraries that such a tool would need.

python tests/bench/check_one.py [RUNS]
"""

from __future__ import annotations

import sys
from pathlib import Path

from measure import levelcup, process_seconds, ratio

ROOT = Path(__file__).parents[2]


def main() -> None:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    bare = [sys.executable, "-c", "import yaml, pydantic"]
    for slug in ("charred-pepper-sauce", "lemon-chicken-rice"):
        ours = levelcup("check", f"content/recipes/{slug}/recipe.yaml")
        ratio(
            f"check {slug}",
            lambda ours=ours: process_seconds(ours, cwd=str(ROOT)),
            lambda: process_seconds(bare, cwd=str(ROOT)),
            runs,
            3,
        )


if __name__ == "__main__":
    main()

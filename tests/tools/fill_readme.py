"""Fills README's quoted outputs from real runs: ``python tests/tools/fill_readme.py [--check]``.

A block is quoted under a line ``<!-- output: levelcup … -->``; ``| A-B`` before the end keeps lines A to B only. The
commands run in a fresh folder that holds a copy of ``content/`` and nothing else.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
_BLOCK = re.compile(
    r"<!-- output: (?P<command>levelcup [^|\n]*?)(?: \| (?P<first>\d+)-(?P<last>\d+))? -->\n\n(?:```text\n.*?```\n)?",
    re.DOTALL,
)


def output_of(command: str, folder: Path) -> str:
    """What the command prints in that folder, without colours, the folder's own path left out."""
    words = re.findall(r'"[^"]*"|\S+', command)[1:]
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "import sys; from pipeline.cli import main; sys.exit(main())",
            *(w.strip('"') for w in words),
        ],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
        env={"PATH": "", "NO_COLOR": "1", "PYTHONPATH": str(ROOT), "LC_ALL": "C.UTF-8", "COLUMNS": "120"},
    )
    if "Traceback (most recent call last)" in done.stderr:
        raise RuntimeError(f"{command} broke down\n{done.stderr}")
    return (done.stdout + done.stderr).replace(f"{folder.resolve()}/", "").replace(f"{folder}/", "")


def filled(text: str) -> str:
    """The text with every quoted output run anew."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(ROOT / "content", folder / "content")

        def block(found: re.Match[str]) -> str:
            lines = output_of(found["command"], folder).rstrip().splitlines()
            if found["first"]:
                lines = lines[int(found["first"]) - 1 : int(found["last"])]
            mark = found.group().split("\n", 1)[0]
            body = "\n".join(line.rstrip() for line in lines).strip("\n")
            return f"{mark}\n\n```text\n{body}\n```\n" + ("" if "```text" in found.group() else "\n")

        return _BLOCK.sub(block, text)


def main() -> int:
    old = README.read_text("utf-8")
    new = filled(old)
    if "--check" in sys.argv:
        return int(new != old)
    README.write_text(new, "utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())

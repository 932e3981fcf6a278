"""Where things stand, and the tools from outside that some tests need: a browser, node packages."""

from __future__ import annotations

import importlib.util
import os
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
NODE = ROOT / "tests" / "node_modules"


def need(what: str, there: bool) -> None:
    """An outside tool: without it a test is skipped, but with CI=true that is a failure."""
    if there:
        return
    if os.environ.get("CI") == "true":
        pytest.fail(f"{what} is missing")
    pytest.skip(f"{what} is missing")


def tools() -> ModuleType:
    """The screenshot tool as a module; it knows how to start the browser."""
    spec = importlib.util.spec_from_file_location("screenshots", ROOT / "tests" / "tools" / "screenshots.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module

"""Settings for all tests."""

from __future__ import annotations

from hypothesis import settings

# A busy machine is no failure: how long an example takes is for the benches to say.
settings.register_profile("levelcup", deadline=None)
settings.load_profile("levelcup")

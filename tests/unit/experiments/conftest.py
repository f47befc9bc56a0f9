"""What tests of several files here stand on."""

from __future__ import annotations

import signal

import pytest

from cli.stops import stops


@pytest.fixture
def hears_interruptions():
    """Ctrl-C reaches this process, also where it was started in the background by a shell that shuts it off; and as in the
    program itself it is not lost where it comes while something is put away."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with stops():
            yield
    finally:
        signal.signal(signal.SIGINT, before)

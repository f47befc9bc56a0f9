"""`python -m cli` is the same as `overload`."""

from __future__ import annotations

from cli.app import main

if __name__ == "__main__":
    main()

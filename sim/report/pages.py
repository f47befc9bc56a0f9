"""Templates filled in: everything escaped but our own style and script, and data that no markup can end."""

from __future__ import annotations

import json
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


@cache
def environment() -> Environment:
    """Where templates are found and how they are filled in; a name that is not given is an error."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("sim.report"), autoescape=True, undefined=StrictUndefined, trim_blocks=False
    )


def rendered(template: str, **values: Any) -> str:
    """A template of this room, with these values; a value is escaped unless `raw` or `script_json` made it."""
    return environment().get_template(template).render(**values)


def raw(name: str) -> Markup:
    """A style sheet or script of this room, as it stands."""
    from markupsafe import Markup

    return Markup(resources.files("sim.report").joinpath(name).read_text(encoding="utf-8"))


def script_json(value: Any) -> Markup:
    """JSON to stand in a script element: no "<" in it can open or end a tag."""
    from markupsafe import Markup

    text = json.dumps(value, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))

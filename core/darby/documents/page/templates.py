"""What all pages share: templates, styles, scripts. Loads jinja2, which escapes every text it is given."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files

from jinja2 import BaseLoader, Environment, StrictUndefined, TemplateNotFound
from markupsafe import Markup

from darby.documents.words import harmless, one_line


class _Own(BaseLoader):
    """Templates of this package alone, whatever lies beside the job."""

    def get_source(self, environment: Environment, template: str) -> tuple[str, str | None, None]:  # noqa: ARG002
        """A template by its file name."""
        path = files("darby.documents") / "templates" / template
        if not path.is_file():
            raise TemplateNotFound(template)
        return path.read_text(encoding="utf-8"), None, None


@cache
def templates() -> Environment:
    """The templates; text is escaped unless a template says otherwise, and no template does but for its own style and script."""
    made = Environment(loader=_Own(), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    made.filters["line"] = one_line
    made.filters["safe_text"] = harmless
    return made


def inline(name: str) -> tuple[Markup, str]:
    """A style or script of ours as it stands in a page, and the hash by which the page's policy lets it in, and only it."""
    text = (files("darby.documents") / "templates" / name).read_text(encoding="utf-8").strip()
    digest = b64encode(sha256(text.encode()).digest()).decode()
    return Markup(text), f"sha256-{digest}"  # our own file, never text from outside

"""A document of a plugin from outside: made once in a rehearsal, and here only if that went well."""

from __future__ import annotations

from collections.abc import Callable

from darby.estimate.model import Estimate
from darby.plugin_host.sandbox import Verdict, quiet, rehearse
from darby.plugin_host.validation import raised


class RefusedError(Exception):
    """Code of a plugin that failed its rehearsal and was not run; the text says why."""


def make_guarded(make: Callable[[Estimate], str | bytes], made: Estimate) -> str | bytes:
    """The document, made once its rehearsal has gone well. Raises RefusedError."""

    def rehearsed() -> Verdict:
        try:
            make(made)
        except MemoryError:
            raise
        except Exception:  # it is raised here, too
            return Verdict()
        return Verdict()

    (verdict,) = rehearse([rehearsed], raised)
    if verdict.failure:
        raise RefusedError(verdict.failure)
    with quiet():
        return make(made)

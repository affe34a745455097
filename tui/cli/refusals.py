"""What the models of the edges refuse, as a sentence."""

from __future__ import annotations

from store.trouble import Refused


def in_words(error: Exception) -> Refused | None:
    """The refusal that an error of a model is; None where it is a fault of ours."""
    from pydantic import ValidationError

    if not isinstance(error, ValidationError):
        return None
    first = error.errors(include_url=False, include_context=False, include_input=False)[0]
    where = ".".join(str(one) for one in first["loc"]).replace("_", " ") or "a value"
    says = first["msg"][:1].lower() + first["msg"][1:]
    return Refused(f"{where} cannot be recorded: {says}. Nothing was changed; give another value.")

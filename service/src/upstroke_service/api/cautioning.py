"""Presenting cautions: the rules that apply, in words, with what they rest on."""

import functools
from collections.abc import Collection

from upstroke_service.contract import answered, answers
from upstroke_service.reference.sources import source
from upstroke_service.sizing.cautions import Caution, called_for
from upstroke_service.wording import wording

from .style import Style


def cautions(circumstances: Collection[str], style: Style) -> list[answers.Caution]:
    """The cautions that circumstances call for, worst first."""
    return _all(frozenset(circumstances), style.words.language)


@functools.lru_cache(maxsize=1024)
def _all(circumstances: frozenset[str], language: str) -> list[answers.Caution]:
    """Cached: there are few combinations, and most requests share them."""
    return [_caution(rule, language) for rule in called_for(circumstances)]


@functools.cache
def _caution(rule: Caution, language: str) -> answers.Caution:
    say = wording(language).say
    section = f"caution.{rule.code}"
    return answers.Caution(
        code=rule.code,
        signal=rule.signal,
        text=say(section, "text"),
        why=say(section, "why"),
        who=say(section, "who"),
        basis=[answered.Source(key=key, citation=source(key).citation) for key in rule.basis],
    )

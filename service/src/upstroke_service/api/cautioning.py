"""Presenting cautions: the rules that apply, in words, with what they rest on."""

import functools
from collections.abc import Collection

from upstroke_service.contract import answered, answers
from upstroke_service.reference.sources import source
from upstroke_service.sizing.cautions import Caution, called_for
from upstroke_service.wording import Wording

from .style import Style


def cautions(circumstances: Collection[str], style: Style) -> list[answers.Caution]:
    """The cautions that circumstances call for, worst first."""
    # An open tank has sentences of its own, whatever the style was made for.
    words = style.about(open_tank="open_tank" in circumstances).words
    return _all(frozenset(circumstances), words)


def caution_codes(circumstances: Collection[str]) -> list[str]:
    """Codes of the cautions that circumstances call for, worst first."""
    return _codes(frozenset(circumstances))


@functools.lru_cache(maxsize=4096)
def _codes(circumstances: frozenset[str]) -> list[str]:
    return [rule.code for rule in called_for(circumstances)]


@functools.lru_cache(maxsize=1024)
def _all(circumstances: frozenset[str], words: Wording) -> list[answers.Caution]:
    """Cached: there are few combinations, and most requests share them."""
    return [_caution(rule, words) for rule in called_for(circumstances)]


@functools.cache
def _caution(rule: Caution, words: Wording) -> answers.Caution:
    section = f"caution.{rule.code}"
    return answers.Caution(
        code=rule.code,
        signal=rule.signal,
        text=words.say(section, "text"),
        why=words.say(section, "why"),
        who=words.say(section, "who"),
        basis=[answered.Source(key=key, citation=source(key).citation) for key in rule.basis],
    )

"""upstroke: sizing of hand-operated well pumps that fill a home's pressure tank.

Facts come in at the edge in the caller's units, become SI once, flow one way through pure
functions and leave as an explained answer:

``api``       the only place that knows Litestar: routes, error map, translation in and out
``wording``   findings become sentences, one file per language
``contract``  what goes over the wire: structs and nothing else
``units``     the only place that knows pint
``sizing``    what an engineer decides: facts in, findings out; no web, no units
``catalogue`` what a dealer sells: loading and validation, the invented demo catalogue
``reference`` what others published: tables as data, each row with its source
``physics``   what nature does: pure functions of SI floats or arrays
"""

__version__ = "0.1.0"

MODEL_VERSION = "2026.11.2"
"""Version of the physics and its coefficients: the same facts under another version may give
another answer, so every answer names it."""

"""What nature does: pure functions of SI floats or arrays that broadcast.

Only NumPy and the standard library are used here; no I/O, no units library, no web. Pressures are
gauge pressures unless a name says ``absolute`` or ``atmospheric``. Symbols in docstrings: p gauge
pressure, γ specific weight, Q flow, A area, D diameter, n cadence.
"""

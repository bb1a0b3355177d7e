"""Typed client of the upstroke service, which sizes hand-operated well pumps."""

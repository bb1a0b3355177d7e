"""What an engineer decides: facts in SI units go in, findings come out; no web, no units, no sentences."""

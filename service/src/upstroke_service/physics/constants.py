"""Constants of nature and of standards, SI."""

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of gravity, m/s². Source: 3rd CGPM (1901); SI Brochure, 9th ed."""

STANDARD_ATMOSPHERE = 101_325.0
"""Standard atmosphere, Pa. Source: 10th CGPM (1954); US Standard Atmosphere 1976, table I."""

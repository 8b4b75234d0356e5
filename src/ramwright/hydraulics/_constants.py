"""Lengths of time in seconds and minutes (exact; the year is the Julian one)."""

SECONDS_PER_DAY = 86400.0
MINUTES_PER_YEAR = 365.25 * 24.0 * 60.0

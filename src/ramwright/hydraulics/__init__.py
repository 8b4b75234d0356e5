"""Steady hydraulics around the ram.

Water, friction, lines and their grade line, air, tanks, intakes, pipe strength.

Each module is imported by name (``from ramwright.hydraulics import water``); nothing heavy is loaded here.
"""

"""Sentences for errors of starting a ram."""

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "startup_profile_top": (
        "the profile climbs {value:length}, but the lift is {lift:length}",
        "give the delivery line's own profile, from the ram up to the tank, or measure the lift again",
    ),
    "startup_route_length": (
        "the pipe is {value:length} long, its profile {length:length}",
        "measure both again, or give the profile of this line",
    ),
    "startup_off_the_line": (
        "{field} lies {value:length} from the ram; the delivery line is {length:length} long",
        "give a place on the delivery line",
    ),
    "startup_soundings_order": (
        "the second place the line sounds full ({value:length}) is not further up and later than the first "
        "({before:length})",
        "give the earlier and lower reading first",
    ),
    "startup_leak_heads": (
        "the gauge cannot leak down to {value:head} from {head:head} against {back:head}",
        "give a reading between the two, and a leak above zero",
    ),
    "startup_leak_time": (
        "{field} is {value}; it must be above zero",
        "give the time in which the gauge fell",
    ),
    "startup_press_not_finite": (
        "a press came to no number in {value} (run {run})",
        "this is a fault of the program; keep the sheet and report it",
    ),
}

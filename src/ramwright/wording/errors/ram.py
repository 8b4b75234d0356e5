"""Sentences for errors of the engine."""

SENTENCES: dict[str, tuple[str, str]] = {
    "not_positive": ("{value} is not above zero", "give a value above zero"),
    "is_negative": ("{value} is below zero", "give zero or more"),
    "drive_pipe_missing": ("there is no drive pipe", "give at least one stretch of drive pipe"),
    "fall_drowned": (
        "{field} is {value:length}: the tailwater stands as high as the water in the drive tank",
        "raise the ram or the drive tank, or drain the ram pit",
    ),
    "too_many_segments": (
        "there are {value} stretches; the engine takes {most}",
        "join stretches of the same pipe into one",
    ),
    "vary_unknown": ("{field} {value} cannot be varied", "choose one of: {known}"),
    "chart_empty": ("there are no {field} to run", "give at least one"),
    "grid_too_coarse": ("{field} {value} is too coarse", "use at least 2 reaches and 1 glide"),
    "engine_not_finite": (
        "the engine came to a {value} that is no number (run {run})",
        "this is a fault of the program; keep the sheet and report it",
    ),
    "stopped": ("stopped before it was finished", "start it again; nothing was changed"),
}

"""What the command line says of what it was given."""

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "language_missing": (
        "there are no sentences in {value} here",
        "choose one of: {known}",
    ),
    "file_exists": (
        "{value} is there already and was left as it is",
        "give another name, or move that file away first",
    ),
    "file_not_written": (
        "{value} could not be written ({reason})",
        "choose a folder that exists and that you may write to",
    ),
    "picture_ending": (
        "{field} {value} does not say which kind of picture is wanted",
        "end its name in .svg or .png",
    ),
}

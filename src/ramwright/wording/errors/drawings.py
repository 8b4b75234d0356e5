"""Sentences for errors of the pictures."""

SENTENCES: dict[str, tuple[str, str]] = {
    "picture_lengths_differ": (
        "the columns a picture is drawn from are not equally long: {value}",
        "give every column one value for each row",
    ),
}
